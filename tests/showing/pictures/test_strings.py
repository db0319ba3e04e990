"""Crossing strings: as many crossings as inversions, each once, far enough apart to be counted."""

from itertools import combinations, permutations

import numpy as np
import pytest
from matplotlib.colors import to_hex
from sympy.combinatorics import Permutation

from oddswap.describing.changes import changed
from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.palette import HIGHLIGHT, PAPER
from oddswap.showing.pictures.strings import board_strings, crossing_points, crossings, draw_strings, row_of, strands

LETTERS = "abcdefghijklmnop"


RNG = np.random.default_rng(5)
ORDERS = [*permutations(range(4)), *(tuple(range(n))[::-1] for n in (5, 9, 16))]
ORDERS += [tuple(RNG.permutation(n).tolist()) for n in (5, 9, 16) for _ in range(8)]


def after(places):
    """The row in which the piece that was i-th stands at ``places[i]``."""
    return [LETTERS[places.index(at)] for at in range(len(places))]


def dots(figure):
    (found,) = [line for line in figure.axes[0].lines if line.get_marker() == "o"]
    return np.column_stack(found.get_data())


@pytest.mark.parametrize("places", ORDERS, ids=str)
def test_two_strings_cross_once_if_and_only_if_they_are_an_inversion(places):
    """Counted on the strings as drawn, point by point; SymPy counts the inversions."""
    lines = strands(places, 4001)
    changes = 0
    for one, other in combinations(range(len(places)), 2):
        signs = np.sign(lines[one] - lines[other])
        signs = signs[signs != 0]
        times = int((signs[1:] != signs[:-1]).sum())
        assert times == (places[one] > places[other])
        changes += times
    assert changes == Permutation(list(places)).inversions() == len(crossing_points(places))
    assert changes == crossings(LETTERS[: len(places)], after(places))


@pytest.mark.parametrize("places", [p for p in ORDERS if len(p) < 16], ids=str)
def test_crossings_can_be_told_apart(places):
    """Never three strings in one point. Only where nine are all reversed do they come nearer than a fortieth of a step."""
    points = crossing_points(places) * (1.0, 3.0)
    gaps = [np.linalg.norm(one - other) for one, other in combinations(points, 2)]
    assert min(gaps, default=1.0) > (0.025 if len(points) < 36 else 0.005)


def test_every_crossing_lies_on_two_strings():
    places = (4, 2, 0, 5, 1, 3)
    lines = strands(places, 100001)
    for across, way in crossing_points(places):
        there = lines[:, round(way * 100000)]
        assert (abs(there - across) < 1e-3).sum() == 2


def test_the_picture_bears_a_dot_for_each_crossing_and_says_how_many():
    for places in ((0, 1, 2), (2, 1, 0), (1, 0, 2), (4, 1, 2, 3, 0)):
        figure = draw_strings(LETTERS[: len(places)], after(places))
        count, parity = Permutation(list(places)).inversions(), Permutation(list(places)).parity()
        assert len(dots(figure)) == count
        assert figure.axes[0].texts[-1].get_text() == f"{count} crossing{'s' * (count != 1)}: {('even', 'odd')[parity]}"


def test_dots_lie_where_the_drawn_strings_meet():
    figure = draw_strings("abcde", "ebcda")
    drawn = [np.column_stack(line.get_data()) for line in figure.axes[0].lines if line.get_marker() != "o"]
    for dot in dots(figure):
        near = sum(np.linalg.norm(line - dot, axis=1).min() < 0.02 for line in drawn)
        assert near >= 4, "two strings, each a line on its edge"
    assert to_hex(next(line for line in figure.axes[0].lines if line.get_marker() == "o").get_mfc()).upper() == PAPER


def test_an_exchange_with_k_between_has_2_k_and_1_crossings():
    for k in range(14):
        row = LETTERS[: k + 2]
        assert crossings(row, row[-1] + row[1:-1] + row[0]) == 2 * k + 1


def test_a_board_is_read_as_a_page_with_its_blank():
    board = load("tiles:3x3")
    state = board.follow("r3c2 r2c2")
    assert row_of(board, board.solved) == (*"12345678", "")
    assert row_of(board, state) == ("1", "2", "3", "4", "", "6", "7", "5", "8")
    words = [text.get_text() for text in board_strings(board, state).axes[0].texts]
    assert words.count("5") == words.count("8") == 2 and words[-1].startswith("6 crossings")


def test_the_strings_that_the_text_speaks_of_are_edged():
    board = load("tiles:2x3")
    figure = board_strings(board, changed(board, ["swap r1c1 r1c2"]), highlight=["1", "2"])
    edged = [line for line in figure.axes[0].lines if to_hex(line.get_color()).upper() == HIGHLIGHT]
    assert len(edged) == 2


@pytest.mark.parametrize(("before", "now"), [("aab", "aba"), ("abc", "ab"), ("abc", "abd")])
def test_only_the_same_pieces_all_different_can_be_tied(before, now):
    with pytest.raises(BadOption, match="same pieces, all different"):
        draw_strings(before, now)
