"""The verdict stands on the screen, or in the pipe, while ways are still looked for; and the whole says what the page says."""

import os
import re
import subprocess
import sys

import pytest

from oddswap.__main__ import main
from oddswap.describing.tickets import read_ticket
from oddswap.reasoning.answers import answer
from oddswap.showing.pages.report import answer_markdown

HARD = """puzzle = "cube:4"
changes = ["swap UFR UFL"]
"""
"""Two corners have changed places, and so have hidden twins: the search goes on until its time ends."""
EASY = {
    "ordinary": 'puzzle = "cube:2"\nafter = "R U"',
    "lookalike": 'puzzle = "tiles:2x3,letters=aabcd"\nchanges = ["swap r1c3 r2c1"]',
    "other turns": 'puzzle = "cuboid:2x2x3,turns=half"\nchanges = ["swap UFL UFR"]',
    "not by turning": 'puzzle = "cube:2"\nchanges = ["twist UFR cw"]',
    "cannot tell yet": 'puzzle = "cube:3"\n[seen.U]\nrows = ["U U U", "U U U", "U U U"]',
    "ordinary, in a box that opens": 'puzzle = "cuboid:2x3x4,turns=all"\nafter = "U 2F2"\n[notation]\nleading_number = "slab"',
}


def told(folder, text):
    path = folder / "ticket.toml"
    path.write_text(text, encoding="utf-8")
    return path


def started(*arguments, **streams):
    command = [sys.executable, "-m", "oddswap", "answer", *map(str, arguments)]
    return subprocess.Popen(command, **{"stdout": subprocess.PIPE, "stderr": subprocess.DEVNULL, "text": True} | streams)


def test_the_verdict_is_read_while_the_search_goes_on(tmp_path):
    with started(told(tmp_path, HARD)) as search:
        said = [search.stdout.readline()]
        while said[-1] and "change places" not in said[-1] and "changed places" not in said[-1]:
            said.append(search.stdout.readline())
        still_searching = search.poll() is None
        search.kill()
        rest = search.stdout.read()
    text = "".join(said)
    assert text.startswith("# Yes, this can really happen") and "**lookalike**" in text
    assert "## Why" in text and "## Which piece is not what it seems" in text
    assert still_searching and "## A way out" not in text + rest


@pytest.mark.parametrize("verdict", EASY)
def test_the_printed_text_is_the_text_of_the_page(capsys, tmp_path, verdict):
    path = told(tmp_path, EASY[verdict])
    ticket = read_ticket(path)
    assert main(["answer", str(path)]) == 0
    out, err = capsys.readouterr()
    assert err == "" and f"Verdict: **{verdict.split(',')[0]}**" in out
    assert out == answer_markdown(answer(ticket.puzzle, ticket.appearance))


def test_the_pages_are_written_although_the_reader_went_away_after_the_verdict(tmp_path):
    with started(told(tmp_path, EASY["ordinary"]), "--out", tmp_path / "page", stderr=subprocess.PIPE) as search:
        assert search.stdout.readline().startswith("# Yes")
        search.stdout.close()
        assert "Traceback" not in search.stderr.read()
    assert {"answer.md", "answer.html", "reply.md", "ticket.toml"} <= {path.name for path in (tmp_path / "page").iterdir()}


def test_on_a_terminal_the_line_of_the_search_and_the_answer_leave_each_other_alone(tmp_path):
    """The line hides the cursor while it stands, so what it may wipe lies between hiding it and showing it again."""
    pty = pytest.importorskip("pty")
    ours, theirs = pty.openpty()
    sized = os.environ | {"TERM": "xterm-256color", "COLUMNS": "200"}
    with started(told(tmp_path, EASY["ordinary"]), stdout=theirs, stderr=theirs, text=False, env=sized) as search:
        os.close(theirs)
        screen = read_all(ours)
        assert search.wait() == 0
    lines = re.findall(r"\x1b\[\?25l.*?\x1b\[\?25h", screen, re.DOTALL)
    kept = re.sub(r"\x1b\[\?25l.*?\x1b\[\?25h", "", screen, flags=re.DOTALL)
    for sentence in ("Yes, this can really happen", "No law is broken", "To set it up", "Nobody has taken it apart"):
        assert kept.count(sentence) == screen.count(sentence) == 1
    (search_line,) = [line for line in lines if "looking for a way out" in line]
    assert "looking for a way out" not in kept
    assert screen.index("No law is broken") < screen.index(search_line) < screen.index("To set it up")


def read_all(terminal):
    """All that is written to a terminal until its last writer has closed it."""
    pieces = []
    with os.fdopen(terminal, "rb", buffering=0) as screen:
        try:
            while piece := screen.read(65536):
                pieces.append(piece)
        except OSError:
            pass
    return b"".join(pieces).decode()
