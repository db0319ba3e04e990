"""The law of the two fours, against every half turn and every seating of the corners."""

from itertools import product

import pytest

from oddswap.describing.changes import changed
from oddswap.lessons.pictures.two_fours import BLACK, MIXED, OPEN, WHITE, draw_fours, signs_of_fours, told_fours
from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.laws.law_book import law_book

BOX = load("cuboid:2x3x4")
OUT = with_turns_out_of_the_box(BOX)


def test_neighbours_along_an_edge_of_the_box_differ_in_colour():
    """Two corners are neighbours where their names, of three faces each, have two in common."""
    for one, other in product(BLACK, BLACK):
        assert len(set(one) & set(other)) in (1, 3)
    assert all(len(set(one) & set(other)) in (0, 2) for one, other in product(BLACK, WHITE))


@pytest.mark.parametrize("name", ["cuboid:2x3x4", "cuboid:2x3x5", "cuboid:2x2x4,turns=half", "cuboid:3x4x5,turns=half"])
def test_no_half_turn_changes_one_four_without_the_other(name):
    puzzle = load(name)
    for turn in puzzle.turns:
        assert signs_of_fours(puzzle, puzzle.follow(turn)) in {("even", "even"), ("odd", "odd")}


def test_of_the_576_seatings_half_turns_reach_96_and_all_keep_the_law():
    """4! x 4! seatings; half keep the law of signs, and a third of those the law of pairs."""
    corners = [BOX.slot(name) for name in BLACK + WHITE]
    start = tuple(BOX.solved.pieces[slot] for slot in corners)
    found, queue = {start}, [BOX.solved]
    for state in queue:
        for turn in BOX.turns:
            after = BOX.follow(turn, state)
            seated = tuple(after.pieces[slot] for slot in corners)
            if seated not in found:
                found.add(seated)
                queue.append(after)
    assert len(found) == 96 == 576 // 2 // 3
    assert {signs_of_fours(BOX, state) for state in queue} == {("even", "even"), ("odd", "odd")}


@pytest.mark.parametrize("pair", ["UFR UBL", "UFL DFR", "DFL DBR"])
def test_one_swap_breaks_the_law_that_the_stabiliser_chain_found(pair):
    state = changed(BOX, [f"swap {pair}"])
    assert set(signs_of_fours(BOX, state)) == {"odd", "even"}
    assert "sign of corners like UFL and corners like UFR" in [law.name for law in law_book(BOX).broken(state)]


def test_what_is_said_inside_outside_and_where_the_fours_have_mixed():
    assert told_fours(OUT, OUT.follow("U")) == OPEN
    assert told_fours(OUT, OUT.follow("U U")) == "black corners odd, white corners odd"
    square = load("cuboid:2x2x4")
    assert told_fours(square, square.follow("F")) == MIXED


def test_the_cards_outline_the_black_corners_wherever_they_are():
    figure = draw_fours(BOX, {"before": BOX.solved, "after U2": BOX.follow("U2")})
    words = [text.get_text() for text in figure.axes[0].texts]
    assert words == ["before", "black corners even, white corners even", "after U2", "black corners odd, white corners odd"]
    inks = [set(collection.get_edgecolor()[:, 0].round(3)) for collection in figure.axes[0].collections]
    assert len(inks) == 2 and all(0.71 in ink for ink in inks), "the red share of the outline of what the text speaks of"
