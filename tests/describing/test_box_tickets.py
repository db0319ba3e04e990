"""The tickets on boxes: what is said of each, and that its way out leads home when it is replayed turn by turn."""

from pathlib import Path

import pytest

from oddswap.describing.changes import changed
from oddswap.describing.tickets import read_ticket
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE, ORDINARY, OTHER_TURNS
from oddswap.reasoning.ways.way_out import looks_solved

FOLDER = Path(__file__).parents[2] / "notebooks" / "tickets" / "boxes"
EXPECTED = {
    "16_flat_box_two_corners_over": (ORDINARY, 5, True),
    "17_tall_box_two_corners_over": (ORDINARY, 7, True),
    "18_long_box_two_corners_over": (OTHER_TURNS, 9, True),
    "19_box_two_corners_over": (OTHER_TURNS, 5, True),
    "20_box_brought_open": (ORDINARY, 3, True),
    "21_box_a_pair_of_exchanges": (LOOKALIKE, 8, False),
    "22_square_bar_with_half_turns": (OTHER_TURNS, 12, False),
    "23_square_bar_that_opens": (ORDINARY, 5, True),
}
"""The verdict, how many turns the way out has, and whether it leaves the outline."""
SINGLE = {
    "18_long_box_two_corners_over": "swap UFL UBR",
    "19_box_two_corners_over": "swap UFR UBL",
    "22_square_bar_with_half_turns": "swap DFR DBL",
}


def tickets():
    return {path.stem: read_ticket(path) for path in sorted(FOLDER.glob("*.toml"))}


def test_at_least_six_tickets_on_boxes_of_every_parity_and_none_of_three_by_four_by_five():
    assert list(tickets()) == list(EXPECTED) and len(EXPECTED) >= 6
    names = [ticket.puzzle.name.removeprefix("cuboid:").split(",")[0] for ticket in tickets().values()]
    sides = {tuple(map(int, name.split("x"))) for name in names}
    assert {sum(n % 2 == 0 for n in three) for three in sides} == {0, 1, 2, 3} and len(sides) >= 4
    assert all(sorted(three) != [3, 4, 5] for three in sides)


@pytest.mark.parametrize("name", EXPECTED)
def test_the_verdict_and_the_length_and_the_way_out_replayed(name):
    """That no way is shorter is proved by the search; here every turn is made again, and each outline looked at."""
    ticket, (verdict, length, leaves) = tickets()[name], EXPECTED[name]
    found = answer(ticket.puzzle, ticket.appearance, Budget(20.0))
    way, start, turning = found.way_out, found.diagnosis.explanation, found.turning
    assert (found.verdict, way.length, way.shortest) == (verdict, length, True)
    assert len(way.moves.split()) == length
    assert looks_solved(turning, turning.appearance(turning.follow(way.moves, start)))
    opened = isinstance(turning, BoxPuzzle) and not all(
        (outline == turning.filled).all() for outline in turning.outlines(way.moves, start)
    )
    assert opened == leaves


@pytest.mark.parametrize("name", SINGLE)
def test_a_single_exchange_that_half_turns_cannot_make(name):
    """Every half turn swaps one pair in each set of four corners, or none: so one swap in one set is out of their reach."""
    ticket = tickets()[name]
    puzzle = ticket.puzzle
    assert all(turn.name.endswith("2") for turn in puzzle.turns.values())
    state = changed(puzzle, [SINGLE[name]])
    assert ticket.appearance == puzzle.appearance(state) and len(state.displaced()) == 2
    first = [puzzle.slot(slot) for slot in ("UFL", "UBR", "DFR", "DBL")]
    for turn in puzzle.turns:
        pieces = puzzle.follow(turn).pieces
        corners = [slot for kind in puzzle.kinds if kind.family == "corners" for slot in kind.places]
        moved = {slot for slot in corners if pieces[slot] != slot}
        assert len(moved & set(first)) == len(moved - set(first)) == (2 if turn[0] in "UDFBLR" else 0)
    assert not law_book(puzzle).reaches(state)
