"""The page to send back: it carries the way out and nothing of the ticket but what is seen; text stays text."""

import json
import re
from pathlib import Path

import pytest

from oddswap.describing.changes import changed
from oddswap.describing.tickets import parse_ticket
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.pages.answer_html import answer_html
from oddswap.words.table import reader_of
from tests.showing.viewer.test_widget import replayed

TICKETS = Path(__file__).parents[3] / "notebooks" / "tickets"
LIMIT = 500_000


def answered(name, moves="", changes=()):
    puzzle = load(name)
    return answer(puzzle, puzzle.appearance(changed(puzzle, changes, puzzle.follow(moves))), Budget(20))


def traits(page):
    return json.loads(re.search(r'id="answer">(.*?)</script>', page, re.DOTALL)[1])


@pytest.mark.parametrize(
    "name, moves, changes",
    [
        *[("cube:3", "R U F'", ()), ("cube:2", "R U' F2", ()), ("shape-mod:prism8", "", ("flip UF",))],
        *[("cuboid:2x3x4", "R2 F2 U2", ()), ("dodecahedron", "A B'", ()), ("tiles:3x3", "r2c3 r2c2", ())],
        *[("rings:7+7,cross=2", "a b'", ()), ("cube:5", "R 2U", ())],
    ],
)
def test_going_along_the_strip_makes_it_look_solved(name, moves, changes):
    found = answered(name, moves, changes)
    page = answer_html(found)
    data, puzzle = traits(page), found.turning
    assert len(page.encode()) < LIMIT
    labels = replayed(data["pack"], data["labels"], [frame["group"] for frame in data["strip"]["frames"]])
    assert looks_solved(puzzle, puzzle.appearance(puzzle.arrangement(labels)))
    assert " ".join(frame["name"] for frame in data["strip"]["frames"]) == found.way_out.moves


def test_it_says_what_to_do_if_it_does_not_come_right_and_where_no_turning_helps():
    assert "it does not come right, stop" in answer_html(answered("cube:2", "R U"))
    page = answer_html(answered("cube:3", "", ("twist UFR cw",)))
    assert "As described, no sequence of moves can make this." in page and "Do not force it" in page


def test_what_a_ticket_says_never_becomes_markup_and_its_note_stays_out_unless_asked():
    nasty = "</script><img src=x onerror=alert(1)><script>alert(2)</script>"
    ticket = parse_ticket(f'puzzle = "cube:2"\nafter = "R U"\nnote = {json.dumps(nasty)}\n[colours]\nU = "red"\n')
    found = answer(ticket.puzzle, ticket.appearance)
    assert "alert" not in answer_html(found, reader_of(ticket))
    page = answer_html(found, reader_of(ticket), ticket.note)
    assert "&lt;/script&gt;&lt;img src=x onerror=alert(1)&gt;" in page
    assert page.count("<script") == page.count("</script>") == 2 and "<img src=x" not in page
    assert traits(page)["colours"]["U"] == "#C4302B"


def test_the_page_names_no_other_place():
    assert not re.findall(r"https?://|//[a-z]+\.|src=\"(?!data:)|url\(", answer_html(answered("cube:2", "R")))
