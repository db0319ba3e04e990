"""What is printed arrives, in whatever letters the terminal has, or one sentence says why it does not."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.commands.terminal_runs import ARGUMENTS, TICKET, arguments, command, environment, is_one_sentence, run

pytestmark = pytest.mark.skipif(not Path("/dev/full").exists(), reason="a device that is always full")
PRINTING = [name for name in ARGUMENTS if name not in ("figures", "edition", "lab")]
"""Figures and an edition take long to make, and are printed as the others are; JupyterLab prints for itself."""
PLAIN = ["laws", "cube:2"]


@pytest.mark.parametrize("name", PRINTING)
def test_a_full_device_gets_one_sentence(name, tmp_path):
    with open("/dev/full", "wb") as full:
        status, _, said = run(*arguments(name, tmp_path), stdout=full)
    assert status == 2 and is_one_sentence(said) and "standard output cannot be written (No space left on device)" in said


@pytest.mark.parametrize("words", [PLAIN, [*PLAIN, "--json"], ["answer", TICKET], ["--help"], ["laws", "--help"]], ids=str)
@pytest.mark.parametrize("buffered", ["", "1"])
def test_so_it_does_whether_python_waits_or_not(words, buffered):
    with open("/dev/full", "wb") as full:
        status, _, said = run(*words, stdout=full, env=environment(PYTHONUNBUFFERED=buffered))
    assert status == 2 and is_one_sentence(said)


@pytest.mark.parametrize("closed", [">&-", ">&- 2>&-", "<&- >&- 2>&-", ">/dev/full 2>/dev/full", "2>&-", "2>/dev/full"])
@pytest.mark.parametrize("words", [PLAIN, ["laws", "no such puzzle"]], ids=["answered", "refused"])
def test_closed_and_full_streams(words, closed, tmp_path):
    line = ["bash", "-c", f'exec "$@" {closed}', "bash", *command(*words)]
    done = subprocess.run(line, capture_output=True, text=True, env=environment(), stdin=subprocess.DEVNULL, check=False)
    assert done.returncode == (2 if ">&-" in closed.split()[:2] or "full 2" in closed or words != PLAIN else 0)
    assert done.stderr == "" or is_one_sentence(done.stderr)
    assert bool(done.stderr) == ("2>" not in closed)


def test_a_reader_that_goes_is_no_mistake():
    line = ["bash", "-c", '"$@" | true; exit ${PIPESTATUS[0]}', "bash", *command(*PLAIN)]
    done = subprocess.run(line, capture_output=True, text=True, env=environment(), check=False)
    assert (done.returncode, done.stderr) == (0, "")


C_LOCALE = {"LC_ALL": "C", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"}
LETTERS = [{"PYTHONIOENCODING": "ascii"}, {"PYTHONIOENCODING": "cp1252"}, C_LOCALE]


@pytest.mark.parametrize("letters", LETTERS, ids=["ascii", "cp1252", "C"])
@pytest.mark.parametrize("name", ["laws", "answer", "check", "ways"])
def test_letters_that_a_terminal_lacks_have_others_in_their_place(name, letters, tmp_path):
    words = [word for word in arguments(name, tmp_path) if word != "--out" and not word.startswith(str(tmp_path))]
    status, text, said = run(*words, env=environment(**letters))
    assert (status, said) == (0, "") and not re.search(r"\?(?![\s`])", text)
    assert text.isascii() or "cp1252" in letters.values()


def test_so_have_those_of_a_visitor_and_of_a_complaint(tmp_path):
    (tmp_path / "ticket.toml").write_text('puzzle = "cube:3"\n[seen.U]\nrows = ["é×", "", ""]', "utf-8")
    status, _, said = run("answer", tmp_path / "ticket.toml", env=environment(PYTHONIOENCODING="ascii"))
    assert status == 2 and is_one_sentence(said) and said.isascii()
    name = os.fsdecode(b"no\xff\xc3\xa9.toml")
    for letters in ({}, *LETTERS):
        status, _, said = run("answer", name, env=environment(**letters))
        assert status == 2 and is_one_sentence(said)


@pytest.mark.skipif(sys.platform == "win32", reason="a terminal as Unix has it")
@pytest.mark.parametrize("letters", [{}, {"PYTHONIOENCODING": "ascii"}], ids=["utf-8", "ascii"])
def test_a_real_terminal(letters):
    import pty

    ours, theirs = pty.openpty()
    process = subprocess.Popen(command("answer", TICKET), stdout=theirs, stderr=theirs, env=environment(TERM="xterm", **letters))
    os.close(theirs)
    said = b""
    while True:
        try:
            part = os.read(ours, 4096)
        except OSError:
            break
        if not part:
            break
        said += part
    os.close(ours)
    assert process.wait() == 0 and b"ordinary" in said and b"Traceback" not in said
    assert not letters or said.isascii()
