"""Outlines that turns give, by cells moved in integers, and those that no turning gives."""

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.errors import BadTicket
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search.outlines import count_of_outlines, outline_is_reached, outline_seen, outlines_around_home
from oddswap.reasoning.verdicts.open_boxes import judged_open
from tests.reasoning.box_sights import Box

CORE = (0, 0, 0)


@pytest.mark.parametrize("name", ["1x2x3", "1x3x3", "2x3x4"])
def test_as_many_outlines_at_each_distance_as_cell_by_cell(name):
    box = load(f"cuboid:{name},turns=all")
    counted = [len(level) for level in Box(tuple(map(int, name.split("x")))).outlines()]
    assert [len(level) for level in outlines_around_home(box).levels if len(level)] == counted
    assert count_of_outlines(box) == sum(counted)


@pytest.mark.parametrize("name", ["1x3x3", "2x3x4", "2x2x4"])
def test_every_outline_on_a_random_walk_is_reached_and_seen_as_it_is(name):
    box, rng = load(f"cuboid:{name},turns=all"), np.random.default_rng(8)
    state = box.solved
    for _ in range(15):
        state = box.arrangement(rng.choice(box.legal(state)).permutation[box.permutation(state)])
        outline = box.outline(state)
        assert (outline_seen(box, box.appearance(state)) == outline).all()
        assert outline_is_reached(box, outline, 10_000) in ((True, None) if name == "2x2x4" else (True,))


def test_a_piece_in_the_wrong_place_outside_is_no_outline_of_turning():
    box = load("cuboid:2x3x4,turns=all")
    state = changed(box, ["swap FL .b2R1"])
    assert outline_is_reached(box, box.outline(state)) is False
    with pytest.raises(BadTicket, match="no turning gives the outline"):
        judged_open(box, box.appearance(state))


def test_cells_that_do_not_touch_are_told():
    box = load("cuboid:1x2x5,turns=all")
    with pytest.raises(BadTicket, match="do not touch by whole faces"):
        judged_open(box, box.appearance(changed(box, ["swap UFLR .d1L2"])))


def test_where_there_are_too_many_outlines_nothing_is_claimed():
    box = load("cuboid:2x2x4,turns=all")
    assert outline_is_reached(box, ~box.filled, 10_000) is None
    assert outline_is_reached(box, box.outlines("U F")[-1], 10_000) is True
