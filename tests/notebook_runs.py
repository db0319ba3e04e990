"""Settings of every test, and what is asked of every notebook beyond nbval's comparison: a plugin, on whatever is collected.

nbval ignores a misspelt tag and knows no time limit for a whole notebook; here both fail.
"""

import os
import tempfile
from collections import Counter

import psutil
import pytest
from hypothesis import settings
from nbval.plugin import IPyNbCell
from xdist.scheduler import LoadFileScheduling

from tests.frame import SECONDS, TAGS, tags

settings.register_profile("oddswap", derandomize=True, deadline=None, database=None)
settings.load_profile("oddswap")

OVER = set()
"""Notebooks that have used up their time, which is told once."""


def pytest_addoption(parser):
    parser.addoption(
        "--every-case", action="store_true", help="go through all puzzles and answers made at random, not every tenth"
    )
    parser.addoption("--nothing-skipped", action="store_true", help="fail a test that would be skipped, as when all is installed")


@pytest.fixture
def cases(request):
    """The numbers of puzzles made at random: every tenth of 500, or all that are asked for."""
    return range(0, 500, 1 if request.config.getoption("--every-case") else 10)


def pytest_configure(config):
    if not hasattr(config, "workerinput"):
        config.kept = tempfile.TemporaryDirectory(prefix="oddswap-kept-")
        os.environ["ODDSWAP_CACHE"] = config.kept.name
        os.environ["XDG_STATE_HOME"] = config.kept.name
    config.option.nbval_sanitize_with = str(config.rootpath / "tests" / "sanitise.cfg")


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    return _FilesAndPieces(config, log) if config.getoption("dist") == "loadfile" else None


class _FilesAndPieces(LoadFileScheduling):
    """A file in one process, and an evening's folder, which is made once; long tests that stand alone go to whoever is free."""

    def _split_scope(self, nodeid):
        if "come_through[" in nodeid:
            return nodeid
        return nodeid.rpartition("/")[0] if nodeid.startswith("tests/workshop/") else super()._split_scope(nodeid)


def pytest_collection_modifyitems(config, items):
    if not config.getoption("--every-case"):
        seen = Counter()
        for item in list(items):
            if step := item.get_closest_marker("one_in"):
                seen[item.function] += 1
                if (seen[item.function] - 1) % step.args[0]:
                    items.remove(item)
    for item in items:
        if isinstance(item, IPyNbCell) and not TAGS.issuperset(tags(item.cell)):
            wrong = ", ".join(sorted(set(tags(item.cell)) - TAGS))
            raise pytest.UsageError(f"{item.nodeid} is tagged {wrong}, which is not in the list of tests/frame.py")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item, call):
    report = _not_skipped(item.config, (yield))
    if isinstance(item, IPyNbCell) and call.when == "call" and report.passed and item.path not in OVER:
        spent = psutil.Process(item.parent.kernel.km.provisioner.pid).cpu_times()
        if spent.user + spent.system > SECONDS:
            OVER.add(item.path)
            report.outcome = "failed"
            report.longrepr = f"{item.path.name} has used {spent.user + spent.system:.1f} s of its {SECONDS:g} s here"
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(collector):
    return _not_skipped(collector.config, (yield))


def _not_skipped(config, report):
    """The report; a skipped one as failed where nothing may be skipped."""
    if config.getoption("--nothing-skipped") and report.skipped and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"skipped, where nothing may be: {report.longrepr[-1]}"
    return report
