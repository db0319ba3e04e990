"""Replies, played by somebody who knows the ticket, the puzzle in their hands and the reply, and nothing of the package."""

import random

import pytest

from oddswap.describing.tickets import parse_ticket
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.showing.pages.report import reply_text
from oddswap.words.table import reader_of
from tests.judge.altering import altered
from tests.judge.cells import askew, box, mixed, prism
from tests.judge.reading import HOLD, moves_of, play, promises
from tests.judge.tray import mixed_tray, solved_tray, told
from tests.judge.visitor import holdings_of, painted_by, told_by_pieces, told_by_rows

QUARTERS = "U U' U2 D R R' L F F2 B'".split()
INNER = [*QUARTERS, "2U", "2R'", "2F2"]
HALVES = "U2 D2 R2 L2 F2 B2".split()
PUZZLES = {
    "cube:3": (box((3, 3, 3)), QUARTERS),
    "shape-mod:prism8": (prism(8), QUARTERS),
    "cube:2": (box((2, 2, 2)), QUARTERS),
    "cuboid:2x3x4": (box((2, 3, 4)), HALVES),
    "cube:4": (box((4, 4, 4)), INNER),
    "shape-mod:cube,axis=U,degrees=45": (askew(45), QUARTERS),
    "cuboid:3x3x2": (box((3, 3, 2)), [*HALVES, "F", "B'"]),
    "shape-mod:prism5": (prism(5), ["U", "D'", "F2", "R2", "L2", "B2", "R", "F'"]),
    "cube:5": (box((5, 5, 5)), INNER),
    "cuboid:2x2x4": (box((2, 2, 4)), [*HALVES, "2F", "F'"]),
}
TRAYS = {"tiles:3x3": (3, 3, "12345678"), "tiles:3x4,letters=aabcdefghij": (3, 4, "aabcdefghij")}


def answered(ticket: str) -> str:
    """The reply to a ticket, for which the desk has two seconds."""
    read = parse_ticket(ticket)
    return reply_text(answer(read.puzzle, read.appearance, Budget(2)), reader_of(read))


def case(number: int):
    """A puzzle in somebody's hands, mixed by few turns or by many, its colours, and the ticket that they write."""
    dice = random.Random(number)
    name = list(PUZZLES)[(number + number // len(PUZZLES)) % len(PUZZLES)]
    painted, turns = PUZZLES[name]
    paint = painted_by(painted, dice)
    held = mixed(painted.solved, turns, dice.choice((1, 2, 3, 4, 5, 6, 30)), dice)
    if not name.startswith("shape-mod"):
        held = held.moved(dice.choice(holdings_of(painted)))
        return held, paint, told_by_rows(name, held, paint)
    return held, paint, told_by_pieces(name, held, paint, dice)


def test_every_way_out_that_a_reply_gives_leads_home_in_the_visitor_s_hands(cases):
    played = 0
    for number in cases:
        held, paint, ticket = case(number)
        text = answered(ticket)
        if promises(text):
            played += 1
            assert play(text, held, paint).is_done(paint), f"case {number}\n{ticket}\n{text}"
        else:
            assert held.is_done(paint) or "not found a way out yet" in text, f"case {number}\n{ticket}\n{text}"
    assert played > 0.8 * len(cases)


@pytest.mark.parametrize("name", TRAYS)
def test_tiles_that_a_reply_slides_come_home(name, cases):
    rows, columns, letters = TRAYS[name]
    home = solved_tray(rows, columns, letters)
    for number in cases[: len(cases) // 5]:
        dice = random.Random(number)
        tray = mixed_tray(home, dice.choice((2, 5, 40)), dice)
        text = answered(told(name, tray, home, dice))
        assert not promises(text) and tray == home or tray.played(moves_of(text)) == home, text


def test_a_reply_in_which_one_thing_is_altered_does_not_lead_home(cases):
    """Of cubes of three layers with a way of five turns and more, so that no symmetry makes up for it."""
    tried = 0
    for number in cases[: (3 * len(cases)) // 5]:
        dice = random.Random(number)
        painted, turns = PUZZLES["cube:3"]
        paint = painted_by(painted, dice)
        held = mixed(painted.solved, turns, 7, dice).moved(dice.choice(holdings_of(painted)))
        text = answered(told_by_rows("cube:3", held, paint))
        if not promises(text) or len(set(moves_of(text).replace("'", "").replace("2", "").split())) < 3:
            continue
        tried += 1
        hold, moves = HOLD.search(text)[0], moves_of(text)
        new_hold, new_moves = altered(hold, moves, dice)
        other = text.replace(hold, new_hold).replace(f"`{moves}`", f"`{new_moves}`")
        assert other != text
        try:
            done = play(other, held, paint).is_done(paint)
        except ValueError:
            done = False
        assert not done, f"case {number}\n{text}\n{other}"
    assert tried > 0.5 * len(cases) * 3 / 5
