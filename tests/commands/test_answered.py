"""Answered tickets found again by position, and kept without what belongs to the visitor."""

from __future__ import annotations

import random

import pytest

from oddswap.__main__ import main
from oddswap.commands.answered import kept, seen_before
from oddswap.describing.tickets import parse_ticket, read_ticket
from oddswap.errors import BadOption
from oddswap.words import say
from tests.judge.cells import mixed
from tests.judge.test_replies import PUZZLES
from tests.judge.visitor import as_it_is, by_a_mirroring_camera, holdings_of, painted_by, told_by_rows

NOTE = "bought at the market, please call me"


@pytest.fixture
def answered(tmp_path):
    """Three answered tickets, a file that is no ticket, and one of another puzzle."""
    for name, text in {
        "monday": 'puzzle = "shape-mod:prism8"\nchanges = ["flip UF"]',
        "tuesday": 'puzzle = "cube:3"\nafter = "R U"\n[colours]\nU = "ivory"',
        "friday": 'puzzle = "cube:3"\nchanges = ["flip UF"]',
    }.items():
        (tmp_path / name).mkdir()
        ((file, words),) = kept(parse_ticket(f"note = '{NOTE}'\n{text}"), tmp_path / name).items()
        (tmp_path / name / file).write_text(words)
        (tmp_path / name / "answer.md").write_text("the page")
    (tmp_path / "broken.toml").write_text("puzzle = 3")
    return tmp_path


def test_a_ticket_is_kept_without_its_note(answered):
    for path in answered.glob("*/ticket.toml"):
        assert NOTE not in path.read_text() and read_ticket(path).note == ""
    assert dict(read_ticket(answered / "tuesday" / "ticket.toml").colours) == {"U": "ivory"}


@pytest.mark.parametrize(
    ("text", "name", "mirrored"),
    [
        ('puzzle = "shape-mod:prism8"\nchanges = ["flip DL"]', "monday", False),
        ('puzzle = "cube:3"\nafter = "F U"\n[colours]\nD = "mint"', "tuesday", False),
        ('puzzle = "cube:3"\nafter = "F\' U\'"', "tuesday", True),
        ('puzzle = "cube:3"\nchanges = ["flip BR"]', "friday", False),
        ('puzzle = "cube:3"\nafter = "R L"', None, None),
        ('puzzle = "cube:3,turns=half"\nafter = "R2"', None, None),
    ],
)
def test_the_same_position_is_found_up_to_symmetry_and_colours(answered, text, name, mirrored):
    found = seen_before(parse_ticket(text), answered)
    assert [before.ticket for before in found] == ([name] if name else [])
    if name:
        assert found[0].mirrored == mirrored and ("mirror" in say(found[0])) == mirrored
        assert found[0].page == str(answered / name / "answer.md") and found[0].page in say(found[0])


HALF = """puzzle = "cube:3"
elsewhere = "turned"
[slots]
{}
"""


def test_a_half_seen_ticket_is_found_as_far_as_both_were_seen(answered):
    """Of a cube with one edge flipped, that edge and one more were seen: it may be Friday's; nothing seen wrong is no sign."""
    (before,) = seen_before(parse_ticket(HALF.format('BR = "BR flipped"\nUF = "UF"')), answered)
    assert before.ticket == "friday" and before.partly and not before.slipped
    assert "as far as both were seen" in say(before)
    assert seen_before(parse_ticket(HALF.format('BR = "BR"\nUF = "UF"')), answered) == []
    assert seen_before(parse_ticket(HALF.format('BR = "BR flipped"\nUF = "UF flipped"')), answered) == []


@pytest.mark.parametrize("order", [(True, False), (False, True), (True, True)])
def test_a_ticket_by_a_mirroring_camera_is_found_whichever_of_the_two_it_is(tmp_path, order):
    dice = random.Random(5)
    painted, turns = PUZZLES["cube:3"]
    held = mixed(painted.solved, turns, 6, dice)
    for number, camera in enumerate(order):
        paint, read = painted_by(painted, dice), by_a_mirroring_camera if camera else as_it_is
        (tmp_path / str(number)).mkdir()
        text = told_by_rows("cube:3", held.moved(dice.choice(holdings_of(painted))), paint, read=read)
        (tmp_path / str(number) / "told.toml").write_text(text)
    (before,) = seen_before(read_ticket(tmp_path / "1" / "told.toml"), tmp_path / "0")
    assert not before.mirrored and not before.partly
    assert before.slipped


def test_a_ticket_is_not_its_own_forerunner(answered):
    ticket = read_ticket(answered / "monday" / "ticket.toml")
    assert seen_before(ticket, answered) == []


def test_a_missing_folder_is_one_sentence(tmp_path):
    with pytest.raises(BadOption, match="is no folder"):
        seen_before(parse_ticket('puzzle = "cube:2"\nafter = "R"'), tmp_path / "nowhere")


def test_the_command_line_says_it_and_no_shared_file_does(answered, capsys):
    ticket = answered / "new.toml"
    ticket.write_text(f"puzzle = 'shape-mod:prism8'\nchanges = ['flip UB']\nnote = '{NOTE}'")
    assert main(["answer", str(ticket), "--before", str(answered), "--out", str(answered / "new")]) == 0
    first = capsys.readouterr().out.replace("\\", "").split("## ")[0]
    assert "monday is the same position" in first
    for path in (answered / "new").glob("*.*"):
        if path.suffix in (".md", ".toml", ".html"):
            assert "monday" not in path.read_text() and NOTE not in path.read_text()
