"""The whole puzzle turned: every holding once, and turns called as they are in it."""

import numpy as np
import pytest

from oddswap.puzzles.base.whole_turns import holdings, made_before
from oddswap.puzzles.catalogue import load


@pytest.mark.parametrize("name", ["cuboid:2x3x4,turns=all", "cuboid:2x2x4,turns=all", "cube:2"])
def test_a_turn_before_the_rotations_does_what_the_other_does_after_them(name):
    puzzle = load(name)
    for _, whole in holdings(puzzle):
        for turn, before in made_before(puzzle, whole).items():
            assert (whole[puzzle.turns[before].permutation] == puzzle.turns[turn].permutation[whole]).all()


@pytest.mark.parametrize("name", ["cuboid:2x3x4,turns=all", "cuboid:2x2x4,turns=all"])
def test_turns_are_called_as_the_box_is_held(name):
    box = load(name)
    for names, whole in holdings(box):
        held = made_before(box, np.argsort(whole))
        assert held.keys() == box.turns.keys()
        for turn in list(box.turns)[::3]:
            after = box.turns[held[turn]].permutation[whole]
            other = box.turns[turn].permutation
            for rotation in names:
                other = box.rotations[rotation].permutation[other]
            assert (after == other).all()


def test_each_holding_once():
    assert len(holdings(load("cuboid:2x3x4,turns=all"))) == 8
    assert len(holdings(load("cuboid:2x2x4,turns=all"))) == 24
    assert [names for names, _ in holdings(load("cuboid:1x3x3,turns=all"))] == [()]
