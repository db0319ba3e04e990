"""Where the package cannot be written to and the user has no home, everything works, and nothing is left lying about.

On a machine where the tests are root, commands run as a user that the system does not know and that may read every file (the
interpreter may lie in root's home) but write only where it is let.
"""

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

import oddswap
from tests.commands.terminal_runs import LONG, ROOT, TICKETS, command, heard

UNKNOWN = 54_321
pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="users and capabilities as Linux has them")


@pytest.fixture(scope="module")
def elsewhere(tmp_path_factory):
    """A folder to work in, with a copy of the package beside it that cannot be written to."""
    place = tmp_path_factory.mktemp("elsewhere")
    package = place / "package" / "oddswap"
    shutil.copytree(Path(oddswap.__file__).parent, package, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("work", "no_home"):
        (place / name).mkdir()
    (place / "work").chmod(0o777)
    held = [place / "package", place / "no_home", *(path for path in package.rglob("*") if path.is_dir()), package]
    for path in held:
        path.chmod(0o555)
    yield place
    for path in held:
        path.chmod(0o755)


def nobody(home, place):
    """The start of a command line as a user without a home to write to, and its environment."""
    env = {"PATH": f"{Path(sys.executable).parent}:/usr/bin:/bin", "PYTHONPATH": str(place / "package")}
    if home:
        env["HOME"] = str(place / home)
    if os.geteuid():
        return [], {"HOME": str(place / "no_home"), **env}
    read = [f"--{kind}=+dac_read_search" for kind in ("inh-caps", "ambient-caps", "bounding-set")]
    return ["setpriv", f"--reuid={UNKNOWN}", f"--regid={UNKNOWN}", "--clear-groups", *read], env


FAR = 'puzzle = "cube:3"\nafter = "R U F2 D L\' B U2 R D\' F L2 B2 U R"\n'
RUNS = {
    "words": ["answer", "far.toml", "--seconds", "30", "--json"],
    "pictures": ["answer", TICKETS / "11_small_cube_held_anyhow.toml", "--out", "out", "--seconds", "5"],
}
"""Commands that go through compiled loops, and pictures."""
PACKAGE = Path(oddswap.__file__).parent
LOOPS = sorted(".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts) for path in PACKAGE.rglob("*_kernel*.py"))


@pytest.mark.parametrize(("name", "home"), [("pictures", None), *((name, "no_home") for name in RUNS)])
def test_a_command_works(name, home, elsewhere):
    start, env = nobody(home, elsewhere)
    work = elsewhere / "work" / f"{name}_{home}"
    work.mkdir()
    work.chmod(0o777)
    (work / "far.toml").write_text(FAR, "utf-8")
    there = {path.name for path in work.iterdir()}
    line = [*start, *command(*RUNS[name])]
    done = subprocess.run(line, env=env, cwd=work, capture_output=True, text=True, timeout=LONG, check=False)
    assert (done.returncode, done.stderr) == (0, "") and done.stdout
    assert {path.name for path in work.iterdir()} - there == ({"out"} if "out" in RUNS[name] else set())
    assert not list((elsewhere / "package").rglob("__pycache__")) and not list((elsewhere / "no_home").iterdir())


@pytest.mark.parametrize("home", [None, "no_home"])
def test_every_file_of_loops_is_loaded(home, elsewhere):
    start, env = nobody(home, elsewhere)
    line = [*start, sys.executable, "-c", f"import {', '.join(LOOPS)}"]
    done = subprocess.run(line, env=env, cwd=elsewhere, capture_output=True, text=True, timeout=LONG, check=False)
    assert len(LOOPS) == 3 and (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize("home", [None, "no_home"])
def test_jupyterlab_starts(home, elsewhere):
    start, env = nobody(home, elsewhere)
    told = elsewhere / f"told_{home}"
    with told.open("wb") as said:
        options = {"stdin": subprocess.DEVNULL, "stdout": said, "stderr": said, "preexec_fn": heard}
        lab = subprocess.Popen([*start, *command("lab", "--no-browser", "--port=0")], cwd=ROOT, env=env, **options)
    end = time.monotonic() + LONG
    while b"is running at" not in told.read_bytes() and time.monotonic() < end and lab.poll() is None:
        time.sleep(0.2)
    lab.send_signal(signal.SIGINT)
    assert lab.wait(LONG) == 130 and "is running at" in told.read_text("utf-8") and "Traceback" not in told.read_text("utf-8")


def test_where_there_is_a_place_the_code_is_kept(elsewhere, tmp_path):
    """The package's own folder will not do, so that the user's cache folder takes it."""
    start, env = nobody(None, elsewhere)
    home = elsewhere / "home"
    home.mkdir()
    home.chmod(0o777)
    (elsewhere / "far.toml").write_text(FAR, "utf-8")
    line, env = [*start, *command(*RUNS["words"])], {**env, "HOME": str(home)}
    done = subprocess.run(line, env=env, cwd=elsewhere, timeout=LONG, check=False, capture_output=True)
    assert done.returncode == 0 and list(home.rglob("word_kernels.word_ends*.nbi"))
