"""No command loses a file: the user's own, one that was edited, or one that another run is writing."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from oddswap.__main__ import main
from oddswap.commands import figures
from oddswap.describing.tickets import parse_ticket, read_ticket
from oddswap.workshop import evening as workshop
from tests.common.folders import files_in, names_in

TICKET = '# what they said at the door\nnote = "call me"\npuzzle = "cube:2"\nafter = "R U2"\n'
OTHER = 'puzzle = "cube:2"\nafter = "F2 R U\'"\n'
SOLVED = 'puzzle = "cube:2"\nafter = ""\n'
SCRIPT = ("--only", "script", "--only", "captions")


@pytest.fixture
def tickets(tmp_path):
    """Three tickets in a folder of their own."""
    (tmp_path / "tickets").mkdir()
    for name, text in {"one": TICKET, "other": OTHER, "solved": SOLVED}.items():
        (tmp_path / "tickets" / f"{name}.toml").write_text(text, "utf-8")
    return tmp_path / "tickets"


def run(capsys, *arguments):
    """What was complained of by a command that ends well."""
    assert main([str(argument) for argument in arguments]) == 0
    return capsys.readouterr().err


def test_a_ticket_in_the_folder_of_its_answer_stays_as_it_is(tmp_path, capsys):
    ticket = tmp_path / "ticket.toml"
    ticket.write_text(TICKET, "utf-8")
    for more in ((), (), ("--force",)):
        assert run(capsys, "answer", ticket, "--out", tmp_path, *more) == ""
        assert ticket.read_text("utf-8") == TICKET
    assert names_in(tmp_path) == {
        "ticket.toml",
        "answer.md",
        "answer.html",
        "reply.md",
        "proof.json",
        "seen.png",
        "came_about.png",
        "strip.png",
        "tally.png",
    }


def test_another_ticket_in_the_folder_of_an_answer_stays_and_both_are_found_again(tmp_path, tickets, capsys):
    out = tmp_path / "out"
    out.mkdir()
    (out / "ticket.toml").write_text(TICKET, "utf-8")
    for more in ((), ("--force",)):
        said = run(capsys, "answer", tickets / "other.toml", "--out", out, *more)
        assert said.count("\n") == 1 and "ticket.toml` is yours" in said and "`ticket.new.toml`" in said
        assert (out / "ticket.toml").read_text("utf-8") == TICKET
    assert read_ticket(out / "ticket.new.toml").appearance == parse_ticket(OTHER).appearance
    main(["answer", str(tickets / "other.toml"), "--before", str(out)])
    assert f"out is the same position, up to how the puzzle is held; its page is {out}/answer" in (
        capsys.readouterr().out.replace("\\", "")
    )


@pytest.mark.parametrize(
    "command, name",
    [
        (("answer", "one.toml"), "reply.md"),
        (("answer", "one.toml"), "answer.md"),
        (("laws", "cube:2"), "laws.md"),
        (("alarms", "cube:2"), "alarms.md"),
        (("ways", "cuboid:2x3x4", "--depth", "6"), "ways.md"),
        (("story", "one.toml", *SCRIPT), "script.md"),
        (("worksheet", "--puzzles", "cube:2"), "guide.md"),
    ],
    ids=lambda value: value if isinstance(value, str) else value[0],
)
def test_an_edited_file_stays_and_the_new_one_lies_beside_it(tmp_path, tickets, capsys, monkeypatch, command, name):
    monkeypatch.chdir(tickets)
    every = workshop._files
    monkeypatch.setattr(workshop, "_files", lambda *told: (file for file in every(*told) if file[0] in ("guide.md", "guide.pdf")))
    out = tmp_path / "out"
    assert run(capsys, *command, "--out", out) == ""
    written = files_in(out)
    edited = written[name] + b"my own words\n"
    (out / name).write_bytes(edited)
    if command[0] == "story":
        told = (out / "story.toml").read_text("utf-8").replace("words_a_minute = 160", "words_a_minute = 70")
        (out / "story.toml").write_text(told, "utf-8")
    said, beside = run(capsys, *command, "--out", out), name.replace(".", ".new.")
    there = files_in(out)
    assert said.count("\n") == 1 and f"{name}` is yours or was changed" in said and f"`{beside}`" in said
    assert there.keys() == {*written, beside} and there[name] == edited
    assert b"my own words" not in there[beside] and there[beside].splitlines()[:1] == written[name].splitlines()[:1]
    assert command[0] != "story" or there["story.toml"] == told.encode() and b"70 words a minute" in there[beside]
    run(capsys, *command, "--out", out)
    assert files_in(out) == there
    assert run(capsys, *command, "--out", out, "--force") == ""
    new = there.pop(beside)
    assert files_in(out) == {**there, name: new}


@pytest.mark.parametrize("name", ["puzzle.png", "names.png"])
def test_a_picture_of_the_users_own_stays_and_the_page_shows_the_one_beside_it(tmp_path, capsys, name):
    (tmp_path / name).write_bytes(b"my own")
    said = run(capsys, "laws", "cube:2", "--out", tmp_path)
    beside = name.replace(".", ".new.")
    page = (tmp_path / "laws.md").read_text("utf-8")
    assert said.count("\n") == 1 and (tmp_path / name).read_bytes() == b"my own"
    assert f"]({beside})" in page and f"]({name})" not in page and (tmp_path / beside).read_bytes()[1:4] == b"PNG"


def test_a_picture_that_a_page_no_longer_shows_stays_if_it_is_the_users(tmp_path, tickets, capsys):
    out = tmp_path / "out"
    run(capsys, "answer", tickets / "one.toml", "--out", out)
    (out / "strip.png").write_bytes(b"my own")
    (out / "holiday.png").write_bytes(b"my own")
    for more in ((), ("--force",)):
        assert run(capsys, "answer", tickets / "solved.toml", "--out", out, *more) == ""
        there = files_in(out)
        assert there["strip.png"] == there["holiday.png"] == b"my own" and "tally.png" not in there


def test_figures_of_the_users_own_stay(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(figures, "FIGURES", {"two_ripples": figures.FIGURES["two_ripples"]})
    (tmp_path / "two_ripples.svg").write_text("my own")
    assert "two_ripples.new.svg" in run(capsys, "figures", "--out", tmp_path)
    there = files_in(tmp_path)
    assert there["two_ripples.svg"] == b"my own" and there["two_ripples.new.svg"].startswith(b"<?xml")
    assert run(capsys, "figures", "--out", tmp_path, "--force") == ""
    assert files_in(tmp_path) == {"two_ripples.svg": there["two_ripples.new.svg"]}


HOOKED = """
import os, sys, time
from pathlib import Path
from oddswap.__main__ import main
replace = os.replace
def hooked(source, target):
    if Path(target).name == {name!r} and (Path(target).parent == Path({folder!r})) == {moving}:
        {act}
    replace(source, target)
os.replace = hooked
sys.exit(main(sys.argv[1:]))
"""


def start(act, name, folder, moving, *arguments):
    """A command in a process of its own that does something odd when a file is made, or when it is moved in."""
    code = HOOKED.format(act=act, name=name, folder=str(folder), moving=moving)
    command = [sys.executable, "-c", code, *map(str, arguments)]
    return subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)


@pytest.mark.parametrize(
    "commands, name",
    [
        ((("answer", "one.toml"), ("answer", "other.toml")), "ticket.toml"),
        ((("story", "one.toml", *SCRIPT), ("story", "one.toml", *SCRIPT)), "captions.vtt"),
    ],
    ids=["answer", "story"],
)
def test_two_runs_at_once_end_well_and_the_folder_is_the_later_ones(tmp_path, tickets, capsys, monkeypatch, commands, name):
    """The first one pauses in the middle of its files, until the second one has ended, or says that it waits."""
    monkeypatch.chdir(tickets)
    out, reached, go_on = tmp_path / "out", tmp_path / "reached", tmp_path / "go on"
    pause = f"Path({str(reached)!r}).touch(); [time.sleep(0.05) for _ in range(1200) if not Path({str(go_on)!r}).exists()]"
    first = start(pause, name, out, True, *commands[0], "--out", out)
    while not reached.exists():
        assert first.poll() is None, first.stderr.read()
        time.sleep(0.05)
    second = start("pass", "", out, True, *commands[1], "--out", out)
    said = second.stderr.readline()
    go_on.touch()
    assert first.communicate()[1] == "" == second.communicate()[1] and (first.returncode, second.returncode) == (0, 0)
    run(capsys, *commands[1], "--out", tmp_path / "alone")
    assert files_in(out) == files_in(tmp_path / "alone")
    assert said.startswith("oddswap: another run is writing to") and said.endswith("waiting for it to end\n")


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="a signal that this system does not have")
@pytest.mark.parametrize(
    "command, name, moving",
    [
        (("answer", "one.toml"), "strip.png", False),
        (("answer", "one.toml"), "strip.png", True),
        (("answer", "one.toml"), "answer.md", True),
        (("story", "one.toml", "--only", "handout"), "handout.pdf", True),
    ],
)
def test_what_a_killed_run_left_is_cleared_by_the_next(tmp_path, tickets, capsys, monkeypatch, command, name, moving):
    monkeypatch.chdir(tickets)
    out = tmp_path / "out"
    run(capsys, *command, "--out", tmp_path / "whole")
    (tmp_path / "out" / ".making-of").mkdir(parents=True)
    (tmp_path / "out" / ".making-of" / "mine").write_text("mine")
    killed = start("os.kill(os.getpid(), 9)", name, out, moving, *command, "--out", out)
    assert killed.communicate()[1] == "" and killed.returncode == -signal.SIGKILL and not (out / name).exists()
    assert run(capsys, *command, "--out", out) == ""
    assert files_in(out) == {**files_in(tmp_path / "whole"), ".making-of/mine": b"mine"}
    left = {Path(folder, entry).name for folder, *entries in os.walk(out) for entry in [*entries[0], *entries[1]]}
    assert left - names_in(out) <= {"mine", ".oddswap", "written.json"}
