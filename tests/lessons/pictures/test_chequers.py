"""The chequering: neighbours differ, and a walk is numbered where it goes."""

import numpy as np
import pytest
from matplotlib.patches import FancyArrowPatch

from oddswap.errors import BadOption
from oddswap.lessons.pictures.chequers import blank_walk, chequers, draw_chequers
from oddswap.puzzles.catalogue import load


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
