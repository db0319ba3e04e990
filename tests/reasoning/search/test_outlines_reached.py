"""Outlines that turns give, by cells moved in integers, and those that no turning gives."""

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.errors import BadTicket
from oddswap.puzzles.base.shape_tree import around_home
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.diagnosis import judged
from tests.reasoning.box_sights import Box

MANY = 10_000


@pytest.mark.parametrize("name", ["1x2x3", "1x3x3", "2x3x4"])
def test_as_many_outlines_at_each_distance_as_cell_by_cell(name):
    box = load(f"cuboid:{name},turns=all")
    counted = tuple(len(level) for level in Box(tuple(map(int, name.split("x")))).outlines())
    found = around_home(box, MANY)
    assert found.levels == counted and found.whole and len(found) == sum(counted)


@pytest.mark.parametrize("name", ["1x3x3", "2x3x4", "2x2x4"])
def test_every_outline_on_a_random_walk_is_seen_as_it_is_and_comes_home(name):
    box, rng = load(f"cuboid:{name},turns=all"), np.random.default_rng(8)
    state = box.solved
    for _ in range(15):
        state = box.arrangement(rng.choice(box.legal(state)).permutation[box.permutation(state)])
        assert (box.outline_seen(box.appearance(state)) == box.outline(state)).all()
        assert not box.never_home(box.permutation(state))


def test_a_piece_in_the_wrong_place_outside_is_no_outline_of_turning():
    box = load("cuboid:2x3x4,turns=all")
    state = changed(box, ["swap FL .b2R1"])
    assert box.never_home(box.permutation(state))
    with pytest.raises(BadTicket, match="no turning gives the outline that is described, of the 4900"):
        judged(box, box.appearance(state))


def test_cells_that_do_not_touch_are_told():
    box = load("cuboid:1x2x5,turns=all")
    with pytest.raises(BadTicket, match="do not touch by whole faces"):
        judged(box, box.appearance(changed(box, ["swap UFLR .d1L2"])))
