"""Ctrl-C at any time of any command: one line, status 130, no traceback, nothing half made.

`HOOK` lies in the way of Python's own start and raises the signal at chosen events. Imports are gone through in one run: at every
so manieth one the process forks, and the copy is stopped there.
"""

import json
import os
import signal
import subprocess
import sys
import time

import pytest

from oddswap.commands.command_line import _parser
from oddswap.commands.stopping import LINE, STATUS
from tests.commands.terminal_runs import ARGUMENTS, LONG, ROOT, TICKETS, arguments, command, environment, heard, run

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="signals and copies of processes as Unix has them")

HOOK = """
import json, os, signal, sys, threading, time
signal.signal(signal.SIGINT, signal.default_int_handler)
event, name, step, stops, wait = json.loads(os.environ["STOP"])
seen, copy, begun = 0, False, False
def stop():
    time.sleep(wait)
    os.killpg(0, signal.SIGINT)
def forked(where):
    global copy, stops
    if stops == 0:
        os._exit(0)
    stops -= 1
    pid = os.fork()
    if not pid:
        copy = True
        os.dup2(os.open(os.environ["SAID"], os.O_CREAT | os.O_WRONLY | os.O_TRUNC), 2)
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        os.kill(os.getpid(), signal.SIGINT)
        return
    status = os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])
    with open(os.environ["TOLD"], "a") as told, open(os.environ["SAID"]) as said:
        told.write(json.dumps([where, status, said.read()]) + chr(10))
def hook(what, words):
    global seen, begun
    if copy or what != event:
        return
    begun = begun or str(words[0]).startswith(name)
    if not begun:
        return
    seen += 1
    if step and seen % step == 0:
        forked(str(words[0]))
    elif not step and seen == 1:
        if wait:
            threading.Thread(target=stop, daemon=True).start()
        else:
            os.kill(os.getpid(), signal.SIGINT)
sys.addaudithook(hook)
"""


@pytest.fixture
def stopped_at(tmp_path):
    """What runs with `HOOK`: from the first ``event`` on (of that ``name``), after ``wait`` seconds or at every ``step``."""

    def environment_for(event, name="", step=0, stops=0, wait=0.0, **more):
        (tmp_path / "hook").mkdir()
        (tmp_path / "hook" / "sitecustomize.py").write_text(HOOK, "utf-8")
        path = os.pathsep.join(filter(None, [str(tmp_path / "hook"), os.environ.get("PYTHONPATH")]))
        asked = json.dumps([event, name, step, stops, wait])
        told = {"TOLD": str(tmp_path / "told"), "SAID": str(tmp_path / "said")}
        return environment(PYTHONPATH=path, STOP=asked, **told, **more)

    return environment_for


def left_below(folder):
    """What is left half made."""
    return [path.name for path in folder.rglob("*") if "making-" in path.name or path.suffix == ".part"]


def test_the_table_has_every_command():
    (commands,) = (action.choices for action in _parser()._actions if hasattr(action.choices, "keys"))
    assert set(commands) == set(ARGUMENTS)


@pytest.mark.parametrize("name", ARGUMENTS)
def test_while_it_imports(name, tmp_path, stopped_at):
    """From the first import of the command line on; those of Python's own start come before anything can be minded."""
    env = stopped_at("import", "oddswap.commands.command_line", step=37, stops=12)
    run(*arguments(name, tmp_path), env=env)
    told = [json.loads(line) for line in (tmp_path / "told").read_text("utf-8").splitlines()]
    assert len(told) >= 2
    assert [(status, said) for _, status, said in told] == [(STATUS, LINE)] * len(told), told


@pytest.mark.parametrize("name", [name for name, words in ARGUMENTS.items() if "OUT" in words])
def test_while_files_are_moved_in(name, tmp_path, stopped_at):
    env = stopped_at("os.rename", str(tmp_path))
    status, out, said = run(*arguments(name, tmp_path), env=env)
    assert (status, said) == (STATUS, LINE) and (not out or name == "answer"), "which has answered before it writes"
    assert left_below(tmp_path) == []


FAR = 'puzzle = "cube:3"\nafter = "R U F2 D L\' B U2 R D\' F L2 B2 U R"\n'


@pytest.mark.parametrize("wait", [0.5, 7.0])
def test_while_a_search_is_compiled_and_runs(wait, tmp_path, stopped_at):
    (tmp_path / "ticket.toml").write_text(FAR, "utf-8")
    env = stopped_at("import", "oddswap.reasoning.search.word_kernels", wait=wait, NUMBA_CACHE_DIR=str(tmp_path / "compiled"))
    words = ["answer", tmp_path / "ticket.toml", "--seconds", "60"]
    status, out, said = run(*words, env=env, start_new_session=True)
    assert (status, said) == (STATUS, LINE) and out.startswith("# Yes") and "## A way out" not in out


@pytest.mark.parametrize("wait", [0.3, 3.0])
def test_while_processes_draw_a_clip(wait, tmp_path, stopped_at):
    """All processes hear the signal, as from a terminal."""
    env = stopped_at("subprocess.Popen", wait=wait)
    words = ["story", TICKETS / "03_painted_octagon_two_edges_over.toml", "--only", "clip", "--out", tmp_path / "out"]
    assert run(*words, env=env, start_new_session=True) == (STATUS, "", LINE)
    assert left_below(tmp_path) == []


def test_where_jupyterlab_runs(tmp_path):
    """It says much itself; our line is among it."""
    words = command(*ARGUMENTS["lab"])
    with (tmp_path / "said").open("wb") as said:
        options = {"stdin": subprocess.DEVNULL, "stdout": said, "stderr": said, "preexec_fn": heard}
        lab = subprocess.Popen(words, cwd=ROOT, env=environment(), **options)
    end = time.monotonic() + LONG
    while b"is running at" not in (tmp_path / "said").read_bytes() and time.monotonic() < end and lab.poll() is None:
        time.sleep(0.2)
    lab.send_signal(signal.SIGINT)
    assert lab.wait(LONG) == STATUS
    text = (tmp_path / "said").read_text("utf-8")
    assert text.count(LINE) == 1 and "Traceback" not in text


def stopping(tmp_path, body, **options):
    """Status and words of a process that does ``body`` under `stoppable`."""
    text = f"import sys\nfrom oddswap.commands.stopping import stoppable\n{body}\nsys.exit(stoppable(run))"
    (tmp_path / "body.py").write_text(text, "utf-8")
    path = os.pathsep.join(filter(None, [str(tmp_path), os.environ.get("PYTHONPATH")]))
    options = {"preexec_fn": heard, "timeout": LONG, "capture_output": True, "text": True, **options}
    done = subprocess.run([sys.executable, "-m", "body"], env=environment(PYTHONPATH=path), check=False, **options)
    return done.returncode, done.stderr


KILL = "import ctypes, os, signal, time\n"
LOST = {
    "in a text that is executed": KILL + "def run(): exec('os.kill(os.getpid(), signal.SIGINT); time.sleep(9)')",
    "in a callback from C": KILL
    + "from oddswap.commands import stopping\nstopping.GRACE = 1.0\n"
    + "back = ctypes.CFUNCTYPE(None)(lambda: os.kill(os.getpid(), signal.SIGINT))\n"
    + "def run():\n    back()\n    time.sleep(200)\n    return 7",
    "in what a library turns into another error": KILL
    + "def run():\n    try:\n        os.kill(os.getpid(), signal.SIGINT)\n        time.sleep(9)\n"
    + "    except BaseException:\n        raise ImportError('half a library') from None",
    "twice": KILL
    + "def run():\n    try:\n        os.kill(os.getpid(), signal.SIGINT)\n        time.sleep(9)\n"
    + "    finally:\n        os.kill(os.getpid(), signal.SIGINT)\n        time.sleep(0.1)",
    "where it is swallowed": KILL
    + "from oddswap.commands import stopping\nstopping.GRACE = 1.0\n"
    + "def run():\n    try:\n        os.kill(os.getpid(), signal.SIGINT)\n        time.sleep(9)\n"
    + "    except BaseException:\n        time.sleep(200)",
}


@pytest.mark.parametrize("case", LOST)
def test_it_is_not_lost(case, tmp_path):
    assert stopping(tmp_path, LOST[case]) == (STATUS, LINE)


def test_what_is_done_is_done_and_other_errors_stay(tmp_path):
    assert stopping(tmp_path, "def run(): return 7") == (7, "")
    status, said = stopping(tmp_path, "def run(): raise KeyError('x')")
    assert status == 1 and said.endswith("KeyError: 'x'\n")


def test_where_it_is_ignored_it_stays_so(tmp_path):
    body = KILL + "def run():\n    os.kill(os.getpid(), signal.SIGINT)\n    time.sleep(0.1)\n    return 7"
    assert stopping(tmp_path, body, preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_IGN)) == (7, "")
