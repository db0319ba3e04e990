"""The command line as people run it: in a process of its own, with an environment in which nothing helps."""

import os
import signal
import subprocess
import sys
from pathlib import Path

from tests.common.pictured import lay_ticket

ROOT = Path(__file__).parents[2]
TICKETS = ROOT / "notebooks" / "tickets"
TICKET = TICKETS / "11_small_cube_held_anyhow.toml"
PRINTING = {"PYTHONUNBUFFERED", "PYTHONIOENCODING", "PYTHONUTF8", "PYTHONCOERCECLOCALE"}
LONG = 300
"""Seconds after which a run has hung."""

ARGUMENTS = {
    "laws": ["laws", "cube:2", "--out", "OUT"],
    "alarms": ["alarms", "cube:2", "--out", "OUT"],
    "tools": ["tools", "rings:4+4,cross=1"],
    "answer": ["answer", TICKET, "--out", "OUT", "--seconds", "5"],
    "check": ["check", TICKET, "R"],
    "postcard": ["postcard", TICKET],
    "read": ["read", "PICTURED"],
    "proof": ["proof", TICKET, "--seconds", "5"],
    "visitor": ["visitor", "cube:2", "--out", "PAGE"],
    "plan": ["plan", "cube:3", "--after", "R"],
    "ways": ["ways", "cuboid:2x2x4", "--depth", "4", "--out", "OUT"],
    "story": ["story", TICKET, "--only", "captions", "--only", "reply", "--out", "OUT", "--seconds", "5"],
    "worksheet": ["worksheet", "--puzzles", "cube:2", "--count", "1", "--tables", "1", "--out", "OUT"],
    "edition": ["edition", "--no-reference", "--puzzles", "cube:2", "--notebooks", "NOTEBOOKS", "--out", "OUT"],
    "figures": ["figures", "--out", "OUT"],
    "lab": ["lab", "--no-browser", "--allow-root", "--port=0"],
}
"""Every command, as small as it may be; OUT is a new folder, PAGE a file in it, NOTEBOOKS one with a single lesson."""


def arguments(name, folder):
    """A command of the table, in a folder of its own."""
    if name == "edition":
        (folder / "lessons").mkdir()
        lesson = next((ROOT / "notebooks").glob("01_*.ipynb"))
        (folder / "lessons" / lesson.name).write_bytes(lesson.read_bytes())
    pictured = lay_ticket(folder) if name == "read" else ""
    places = {
        "PICTURED": pictured,
        "OUT": folder / "out",
        "NOTEBOOKS": folder / "lessons",
        "PAGE": folder / "out" / "visitor.html",
    }
    return [str(places.get(word, word)) for word in ARGUMENTS[name]]


def environment(**more):
    """As it was, without what makes Python print at once or in letters of its own."""
    kept = {name: value for name, value in os.environ.items() if name not in PRINTING}
    return {**kept, **more}


def heard():
    """Ctrl-C is heard, even where the tests themselves run where it is not."""
    signal.signal(signal.SIGINT, signal.default_int_handler)


def command(*words):
    return [sys.executable, "-m", "oddswap", *map(str, words)]


def run(*words, env=None, **options):
    """The exit status, what was printed, and what was said on standard error."""
    options = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "timeout": LONG, **options}
    env = env or environment()
    done = subprocess.run(command(*words), env=env, cwd=options.pop("cwd", ROOT), check=False, **options)
    letters = env.get("PYTHONIOENCODING", "utf-8")
    return done.returncode, (done.stdout or b"").decode(letters), (done.stderr or b"").decode(letters)


def is_one_sentence(text):
    return text.startswith("oddswap: ") and text.endswith("\n") and text.count("\n") == 1 and text[:-1].isprintable()
