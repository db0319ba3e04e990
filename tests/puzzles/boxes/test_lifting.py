"""Arrangements told on both boxes."""

import pytest

from oddswap.puzzles.boxes.box import lifted, lowered
from oddswap.puzzles.catalogue import load


@pytest.mark.parametrize("name", ["cuboid:3x4x5", "cuboid:2x2x4", "cuboid:3x3x5", "cuboid:1x3x5"])
def test_every_turn_does_the_same_on_both_boxes_and_there_and_back_is_where_it_was(name):
    inner, box = load(name), load(f"{name},turns=all")
    names = list(inner.turns)
    for one, other in zip(names, names[1:] + names[:1], strict=True):
        state = inner.follow(f"{one} {other}")
        told = lifted(inner, box, state)
        assert box.appearance(told) == box.appearance(box.follow(f"{one} {other}"))
        assert lowered(inner, box, told) == state


def test_what_is_open_is_not_told_on_the_closed_box():
    inner, box = load("cuboid:2x3x4"), load("cuboid:2x3x4,turns=all")
    assert lowered(inner, box, box.follow("U")) is None


def test_a_centre_left_a_hidden_quarter_turn_round_is_told_as_one_of_the_turns_that_the_closed_box_has():
    """Inside, the middle centres of 2 by 3 by 5 make half turns only, which do not show; an excursion may leave a quarter."""
    inner, box = load("cuboid:2x3x5"), load("cuboid:2x3x5,turns=all")
    state = box.follow("L 2B2 D2 B2 UU2 L2 U2 L DD2 2F2 L2 F2 U2 L' x")
    told = lowered(inner, box, state)
    assert told is not None and box.appearance(lifted(inner, box, told)) == box.appearance(state)
    assert {inner.kind_of[slot].family for slot in told.displaced()} >= {"wings"}
