"""The marks on the picture count flips as the mechanism does, and two sequences that people know flip just two upper edges."""

import numpy as np
import pytest

from oddswap.lessons.stuck_puzzles import DOT, RING, draw_flip_marks
from oddswap.puzzles.catalogue import load

CUBE = load("cube:3")


def parted(turns) -> int:
    """How many dots lie in no ring, read from the picture."""
    lines = draw_flip_marks(CUBE, turns).axes[0].lines
    places = {size: {tuple(np.round(line.get_xydata()[0], 6)) for line in lines if line.get_ms() == size} for size in (RING, DOT)}
    assert len(places[RING]) == len(places[DOT]) == 12
    return len(places[DOT] - places[RING])


@pytest.mark.parametrize(("turns", "flips"), [("", 0), ("U", 0), ("F", 4), ("B2", 0), ("F R", 4), ("F U F'", 2), ("R L2 D", 0)])
def test_a_dot_lies_beside_its_ring_where_an_edge_is_flipped(turns, flips):
    state = CUBE.follow(turns)
    assert parted(turns) == flips == sum(state.twists[slot] for slot in CUBE.kinds[1].places)


@pytest.mark.parametrize("turns", ["F' L' U' L U F", "F R U R' U' F'"])
def test_the_sequence_of_common_practice_and_its_mirror_image_flip_two_upper_edges(turns):
    """The second is known by heart to many who solve cubes (common practice)."""
    state = CUBE.follow(turns)
    assert all(CUBE.slots[slot].startswith("U") for slot in state.displaced())
    assert sum(state.twists[slot] for slot in CUBE.kinds[1].places) == 2
