"""A run that is killed at any moment: whoever looks next finds whole files, old or new, and no answer under another's ticket.

A killed process leaves on disk what was there at that moment. So a copy of the folder just before each step that changes the
disk is what a kill there leaves; Python tells of each such step before it is done (``sys.addaudithook``).
"""

from __future__ import annotations

import os
import shutil
import sys
import threading
import time
from contextlib import contextmanager
from pathlib import Path

import pytest

from oddswap.commands import figures
from oddswap.commands.answered import seen_before
from oddswap.describing.tickets import parse_ticket, read_ticket
from oddswap.reasoning.search import kept_files
from oddswap.showing.pages.output_folder import open_folder
from oddswap.workshop import evening
from tests.common.folders import files_in, names_in
from tests.common.outputs import run

CHANGES = {"os.rename", "os.remove", "os.rmdir", "os.mkdir", "os.link", "os.truncate", "shutil.rmtree"}
WATCHED: list = []
"""What is called before each step that changes the disk below a folder, and that folder; nothing while nobody looks."""


def told(event, given):
    if WATCHED and (event in CHANGES or event == "open" and isinstance(given[2], int) and given[2] & (os.O_WRONLY | os.O_RDWR)):
        call, folder = WATCHED[-1]
        if any(str(one).startswith(folder) for one in given if isinstance(one, str | Path)):
            WATCHED.clear()
            try:
                call(event)
            finally:
                WATCHED.append((call, folder))


sys.addaudithook(told)


def moments(folder: Path, copies: Path, *arguments) -> list[Path]:
    """Copies of a folder before each step in which a command changes it, and of what it is in the end."""
    left = []

    def copy(event):
        left.append(copies / str(len(left)))
        shutil.copytree(folder, left[-1]) if folder.exists() else left[-1].mkdir(parents=True)

    WATCHED.append((copy, str(folder)))
    try:
        status, _, complaint = run([*map(str, arguments)])
    finally:
        WATCHED.clear()
    assert (status, complaint) == (0, "")
    copy("")
    return left


ONE, OTHER = 'puzzle = "cube:2"\nafter = "R U2"\n', 'puzzle = "cube:2"\nafter = "F2 R U\'"\n'
COMMANDS = {
    "answer": (("answer", "one.toml"), ("answer", "other.toml")),
    "laws": (("laws", "cube:2"), ("laws", "cube:3")),
    "alarms": (("alarms", "cube:2"), ("alarms", "cube:2,turns=half")),
    "ways": (("ways", "cuboid:2x3x4", "--depth", "4"), ("ways", "cuboid:2x3x4", "--depth", "6")),
    "visitor": (("visitor", "cube:2"), ("visitor", "tiles:2x3")),
    "proof": (("proof", "one.toml"), ("proof", "other.toml")),
    "worksheet": (("worksheet", "--puzzles", "cube:2", "--seed", "1"), ("worksheet", "--puzzles", "cube:2", "--seed", "2")),
    "figures": (("figures",), ("figures",)),
    "story": (("story", "one.toml", "--only", "script"), ("story", "one.toml", "--only", "script", "--only", "captions")),
}
PLACES = {"visitor": "visitor.html", "proof": "proof.json"}


@pytest.fixture
def begun(tmp_path, monkeypatch):
    """Begin a folder by a command; the folder, and the arguments that go on with it."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(figures, "FIGURES", {"two_ripples": figures.FIGURES["two_ripples"]})
    every = evening._files
    monkeypatch.setattr(evening, "_files", lambda *given: (file for file in every(*given) if file[0] in ("guide.md",)))
    Path("one.toml").write_text(ONE, "utf-8")
    Path("other.toml").write_text(OTHER, "utf-8")

    def begin(name: str) -> tuple[Path, list[str]]:
        out, (before, now) = tmp_path / "out", COMMANDS[name]
        place = ["--out", str(out / PLACES.get(name, ""))]
        assert run([*before, *place])[::2] == (0, "")
        return out, [*now, *place]

    return begin


@pytest.mark.parametrize("name", COMMANDS)
def test_a_kill_at_any_step_leaves_whole_files_old_or_new_and_the_next_run_puts_all_right(tmp_path, begun, name):
    out, now = begun(name)
    (out / "mine.md").write_text("mine")
    old = files_in(out)
    *left, end = moments(out, tmp_path / "copies", *now)
    new = files_in(end)
    assert len(left) > 4 and new["mine.md"] == b"mine" and (name == "figures" or new != old)
    for there in left:
        found = files_in(there)
        assert all(data in (old.get(file), new.get(file)) for file, data in found.items()), there.name
        assert found.keys() >= old.keys() & new.keys() - {"ticket.toml"}, there.name
        assert names_in(there) <= {file.split("/")[0] for file in old.keys() | new.keys()}
    for there in left[len(left) // 2], left[-1]:
        shutil.rmtree(out)
        there.rename(out)
        assert run(now)[::2] == (0, "")
        assert files_in(out) == new
        assert not {path.name for path in out.rglob("*") if ".oddswap" in path.parts} - {".oddswap", "written.json"}


@contextmanager
def filling_up(folder: Path, room: int):
    """After so many steps no file can be begun below a folder, and no folder made."""
    steps = 0

    def fill(event):
        nonlocal steps
        steps += event in ("open", "os.mkdir")
        if event in ("open", "os.mkdir") and steps > room:
            raise OSError(28, "No space left on device")

    WATCHED.append((fill, str(folder)))
    try:
        yield
    finally:
        WATCHED.clear()


@pytest.mark.parametrize("name", [name for name in COMMANDS if name != "figures"])
def test_a_disk_that_fills_up_at_any_step_gets_one_sentence_and_spoils_nothing(begun, name):
    """At every fifth step, and at the first."""
    out, now = begun(name)
    old, states = files_in(out), []
    for room in (0, 1, *range(5, 60, 5)):
        with filling_up(out, room):
            status, _, said = run(now)
        if status == 0:
            break
        assert status == 2 and said.count("\n") == 1 and "cannot be written (No space left on device)" in said
        states.append(files_in(out))
    assert len(states) > 1 and status == 0
    new = files_in(out)
    for found in states:
        assert all(data in (old.get(file), new.get(file)) for file, data in found.items())
        assert found.keys() >= old.keys() & new.keys() - {"ticket.toml"}
    assert run(now)[::2] == (0, "") and files_in(out) == new


@pytest.mark.parametrize("name", [name for name in COMMANDS if name not in ("answer", "story")])
def test_a_run_waits_for_another_in_the_same_folder(begun, name):
    """Of the longer ones `test_files_kept.py` sees to it, with two processes."""
    out, now = begun(name)
    old, held, then = files_in(out), threading.Event(), []

    def hold():
        with open_folder(out):
            held.set()
            time.sleep(0.5)
            then.append(files_in(out))

    other = threading.Thread(target=hold)
    other.start()
    held.wait()
    assert run(now)[::2] == (0, "") and then == [old], "nothing was changed meanwhile"
    other.join()


def test_no_answer_is_found_again_under_the_ticket_of_another(tmp_path):
    """At each step, a ticket that lies in the folder has just its own pages beside it."""
    for name, text in {"one": ONE, "other": OTHER}.items():
        (tmp_path / f"{name}.toml").write_text(text, "utf-8")
    assert run(["answer", str(tmp_path / "one.toml"), "--out", str(tmp_path / "out")])[0] == 0
    pages = {"one": (tmp_path / "out" / "answer.html").read_bytes()}
    *left, end = moments(tmp_path / "out", tmp_path / "copies", "answer", tmp_path / "other.toml", "--out", tmp_path / "out")
    pages["other"] = (end / "answer.html").read_bytes()
    known = {"one": parse_ticket(ONE), "other": parse_ticket(OTHER)}
    met = set()
    for there in (*left, end):
        for name, ticket in known.items():
            for before in seen_before(ticket, there):
                assert before.page is None or Path(before.page).read_bytes() == pages[name], there.name
                met.add(name)
    assert met == {"one", "other"} and read_ticket(end / "ticket.toml").appearance == known["other"].appearance


@pytest.mark.parametrize("command", [("tools", "rings:4+5,cross=1", "--json"), ("ways", "cuboid:2x3x4", "--depth", "4")])
def test_what_is_kept_between_runs_is_whole_at_each_step_and_a_full_disk_changes_nothing(tmp_path, monkeypatch, command):
    """With the secret by which a run knows its own."""

    def keep_in(folder):
        monkeypatch.setenv(kept_files.VARIABLE, str(folder / "cache"))
        monkeypatch.setenv("XDG_STATE_HOME", str(folder / "state"))

    keep_in(tmp_path / "kept")
    *left, end = moments(tmp_path / "kept", tmp_path / "copies", *command)
    want, kept = run([*command])[1], set()
    assert len(left) > 2
    for there in (*left, end):
        keep_in(there)
        kept.add(len([*there.rglob("*.kept")]))
        assert run([*command]) == (0, want, "")
    assert len(kept) > 1
    for room in range(len(left)):
        keep_in(full := tmp_path / "full" / str(room))
        with filling_up(full, room):
            assert run([*command]) == (0, want, "")
        assert run([*command]) == (0, want, "")
