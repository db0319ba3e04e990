"""The folder that a hub or a container service reads: every dependency is pinned as the package asks, and the course is found."""

import re
import tomllib
from importlib.metadata import version
from pathlib import Path
from types import SimpleNamespace

from packaging.requirements import Requirement
from packaging.version import Version

from oddswap.commands.course import course_folder

ROOT = Path(__file__).parents[1]
LINES = (ROOT / ".binder" / "requirements.txt").read_text("utf-8").splitlines()
PINS = {pin.name.replace("_", "-"): pin for pin in (Requirement(line) for line in LINES if re.match(r"\w", line))}
ROOMS = ("JupyterHub", "DummyAuthenticator", "Authenticator", "SimpleLocalProcessSpawner", "Spawner")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


def test_every_dependency_is_pinned_within_what_the_package_asks_for():
    for text in PROJECT["dependencies"]:
        asked = Requirement(text)
        (exact,) = PINS[asked.name].specifier
        assert exact.operator == "==" and asked.specifier.contains(exact.version)
    assert "." in LINES, "the package itself"


def test_the_course_was_run_with_nearly_these_versions():
    """The smoke test: what is installed here, where every notebook is run, has the same first number as what is pinned."""
    for name, pin in PINS.items():
        for specifier in pin.specifier:
            if specifier.operator == "==":
                assert Version(version(name)).major == Version(specifier.version).major, name


def test_python_is_one_that_the_package_runs_on_and_the_notebooks_are_there():
    wanted = (ROOT / ".binder" / "runtime.txt").read_text("utf-8").strip().removeprefix("python-")
    assert Requirement(f"python{PROJECT['requires-python']}").specifier.contains(wanted)
    assert (course_folder() / "00_the_repair_table.ipynb").exists()


def test_a_class_gets_copies_of_their_own(tmp_path):
    """The settings for a hub are read as the hub reads them, and its hook lays out the course in a learner's home."""
    settings = SimpleNamespace(**{name: SimpleNamespace() for name in ROOMS})
    exec((ROOT / ".binder" / "jupyterhub_config.py").read_text("utf-8"), {"get_config": lambda: settings})
    settings.Spawner.pre_spawn_hook(SimpleNamespace(home_dir=tmp_path))
    copy = tmp_path / settings.Spawner.notebook_dir
    assert {path.name for path in copy.glob("*.ipynb")} == {path.name for path in course_folder().glob("*.ipynb")}
    assert (Path(settings.Spawner.environment["JUPYTER_CONFIG_PATH"]) / "jupyter_server_config.json").exists()
