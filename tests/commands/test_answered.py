"""Answered tickets found again by position, and kept without what belongs to the visitor."""

from __future__ import annotations

import pytest

from oddswap.__main__ import main
from oddswap.commands.answered import kept, seen_before
from oddswap.describing.tickets import parse_ticket, read_ticket
from oddswap.errors import BadOption
from oddswap.words import say

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
    assert [before.ticket.source.parent.name for before in found] == ([name] if name else [])
    if name:
        assert found[0].mirrored == mirrored and ("mirror" in say(found[0].finding)) == mirrored
        assert found[0].page == answered / name / "answer.md" and str(found[0].page) in say(found[0].finding)


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
    assert "monday is the same position" in capsys.readouterr().out.replace("\\", "")
    for path in (answered / "new").glob("*.*"):
        if path.suffix in (".md", ".toml", ".html"):
            assert "monday" not in path.read_text() and NOTE not in path.read_text()
