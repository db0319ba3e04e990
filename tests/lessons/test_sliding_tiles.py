"""The chequering: neighbours differ, and a walk is numbered where it goes.

The columns of a spread: as high as the counts, coloured as far as was gone.

Exercises about tiles: every right answer is accepted, and hints name the law that was overlooked.
"""

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.colors import to_hex
from matplotlib.patches import FancyArrowPatch

from oddswap.errors import BadOption
from oddswap.lessons.sliding_tiles import (
    blank_walk,
    check_places,
    check_sorting,
    chequers,
    draw_chequers,
    draw_levels,
    levels_words,
)
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.palette import PALETTE
from tests.common.walking import depths


@pytest.mark.parametrize("name", ["tiles:2x2", "tiles:3x3", "tiles:4x4", "tiles:3x5,blank=r2c2"])
def test_a_slot_has_the_colour_of_the_parity_of_its_distance_from_the_blank(name):
    puzzle = load(name)
    places = puzzle.flat.positions
    taxicab = abs(places - places[puzzle.blank]).sum(axis=1).round().astype(int)
    assert chequers(puzzle) == tuple((taxicab % 2).tolist())


def test_a_loop_of_odd_length_cannot_be_chequered():
    """Such a graph is not bipartite (Wilson, J. Combin. Theory B 16 (1974) 86-96)."""
    assert set(chequers(load("graph:2+2+2"))) == {0, 1}
    with pytest.raises(BadOption, match="cannot be chequered"):
        chequers(load("graph:1+2+2"))


def test_the_walk_of_the_blank():
    puzzle = load("tiles:2x3")
    assert [puzzle.slots[slot] for slot in blank_walk(puzzle, "r2c2 r1c2 r1c3 r2c3")] == "r2c3 r2c2 r1c2 r1c3 r2c3".split()
    assert blank_walk(puzzle, "") == (puzzle.blank,)


def test_each_slot_bears_the_numbers_of_slides_after_which_the_blank_was_there():
    puzzle = load("tiles:3x3")
    figure = draw_chequers(puzzle, "r3c2 r3c3 r2c3 r3c3 r3c2")
    ax = figure.axes[0]
    written = [text.get_text().replace("\n", ", ") for text in ax.texts]
    assert written == ["", "", "", "", "", "3", "", "1, 5", "0, 2, 4"]
    assert sum(isinstance(patch, FancyArrowPatch) for patch in ax.patches) == 5


def test_cells_are_drawn_in_two_colours_and_touch():
    puzzle = load("tiles:2x3")
    (cells,) = draw_chequers(puzzle).axes[0].collections
    colours = [tuple(colour) for colour in cells.get_facecolor()]
    assert [colours[0] == colour for colour in colours] == [colour == 1 for colour in chequers(puzzle)]
    middles = np.array([path.vertices.mean(axis=0) for path in cells.get_paths()])
    width = np.ptp(cells.get_paths()[0].vertices[:, 0])
    assert middles[1, 0] - middles[0, 0] == pytest.approx(width)


COUNTS = [len(level) for level in depths(load("tiles:2x3"))]
"""From a walk over all 360 arrangements; the farthest takes 21 slides (OEIS A087725)."""


def test_columns_up_to_so_many_slides_are_coloured():
    for upto in (0, 12, 21, 30):
        bars = draw_levels(COUNTS, 720, upto).axes[0].patches
        assert [bar.get_height() for bar in bars] == COUNTS
        coloured = [to_hex(bar.get_facecolor()).upper() == PALETTE["sky blue"] for bar in bars]
        assert coloured == [d <= upto for d in range(22)]


def test_the_words_add_up_what_was_reached():
    words = [text.get_text() for text in draw_levels(COUNTS, 720, 30).axes[0].texts]
    assert "after at most 30 slides: 360 arrangements of 720" in words
    assert levels_words(COUNTS, 720, 0) == "after at most 0 slides: 1 arrangement of 720"
    assert levels_words(COUNTS, 720, 1) == "after at most 1 slide: 3 arrangements of 720"


SMALL = load("tiles:2x3")
REACHED = {tuple(row) for level in depths(SMALL) for row in level.tolist()}


def written(pieces):
    return " ".join("-" if piece == 5 else str(piece + 1) for piece in pieces)


def test_exactly_the_arrangements_that_a_walk_reaches_with_two_tiles_in_each_others_places():
    accepted = 0
    for pieces in permutations(range(6)):
        right = pieces[0] == 1 and pieces[1] == 0 and pieces in REACHED
        told = check_places(written(pieces), "1", "2", name="tiles:2x3").text
        assert told.startswith("Yes") == right
        accepted += right
        if pieces[:2] == (1, 0) and not right:
            assert "no slides lead there" in told and ("odd" in told and "even" in told)
    assert accepted == 12


def test_a_row_is_sorted_by_any_swaps_of_the_right_number():
    row, rng = "3 5 1 2 4", np.random.default_rng(2)
    pairs = [f"{a} {b}" for a in range(1, 6) for b in range(1, a)]
    accepted = 0
    for _ in range(4000):
        chosen = rng.choice(pairs, 3)
        line = row.split()
        for pair in chosen:
            a, b = pair.split()
            line = [b if x == a else a if x == b else x for x in line]
        right = line == sorted(line)
        assert check_sorting(", ".join(chosen), row, 3).text.startswith("Yes") == right
        accepted += right
    assert accepted > 5
    assert check_sorting("3 1, 5 2, 5 4, 1 2, 2 1", row, 5).text.startswith("Yes")
    assert "by 3 swaps where 5 are asked for" in check_sorting("3 1, 5 2, 5 4", row, 5).text


def test_the_hint_says_when_the_number_of_swaps_can_never_do():
    row = "3 5 1 2 4"
    assert "no even number of swaps" in check_sorting("3 1, 5 2", row, 5).text
    assert "number of swaps can" not in check_sorting("3 1, 5 2, 1 2", row, 5).text


@pytest.mark.parametrize(
    ("answer", "word"),
    [
        ("", "Nothing written yet"),
        ("2 1 3 4 5 6 7 9 -", "no tile `9`"),
        ("2 1 3 4 5 6 7 7 -", "too often 7, and missing 8"),
        ("2 1 3 4 5 6 7 8", "missing -"),
        ("1 2 3 4 5 6 7 8 -", "Tile 1 should be where tile 2 belongs"),
    ],
)
def test_what_cannot_be_read_gets_a_kind_sentence(answer, word):
    assert word in check_places(answer, "1", "2").text


def test_the_blank_may_be_written_in_several_ways():
    for blank in ("-", "_", "–", "blank"):
        assert check_places(f"2 1 3 / 4, 5, 6 | 8 7 {blank}", "1", "2").text.startswith("Yes")


@given(st.one_of(st.none(), st.integers(), st.text(max_size=40), st.lists(st.text(max_size=3), max_size=3)))
def test_nonsense_gets_a_kind_sentence(answer):
    for told in (check_places(answer, "1", "2"), check_sorting(answer, "3 5 1 2 4", 5)):
        assert told.text and not told.text.startswith("Yes") and "\n" not in told.text


def test_too_many_swaps_are_not_read():
    assert "at most 200" in check_sorting(", ".join(["1 2"] * 201), "2 1", 1).text
