"""Classes of what turns inside the box cannot change, against their number by laws."""

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.opening.excursions import meetings
from oddswap.reasoning.opening.frames import frame_of
from tests.common.clocks import PLENTY
from tests.reasoning.boxes import box_moves, layers


@pytest.mark.parametrize(("sides", "readings"), [((1, 3, 3), 24 * 2**4), ((2, 2, 4), 24**4)])
def test_as_many_classes_as_the_index_of_the_half_turns_in_integer_cells(sides, readings):
    """Twists of single edges included, every assembly is a reading, so classes are cosets of the group of the half turns."""
    name = f"cuboid:{'x'.join(map(str, sides))}"
    half, box = load(f"{name},turns=half"), load(f"{name},turns=all")
    moves = box_moves(sides, half=True)[: len(layers(sides))]
    order = PermutationGroup([Permutation(images) for images in moves.tolist()]).order()
    frame = frame_of(box, tuple(half.turns))
    assert len(frame.classes) == readings and len(np.unique(frame.classes)) == readings // order


def test_turns_inside_the_box_change_no_class_and_turns_outside_are_undone_by_their_inverses():
    half, box = load("cuboid:2x3x4,turns=half"), load("cuboid:2x3x4,turns=all")
    frame = frame_of(box, tuple(half.turns))
    model = frame.labelled
    solved = frame.keys(model.solved[None])
    for name in half.turns:
        turned = model.apply(model.solved, name)
        assert (frame.keys(turned[None]) == solved).all()
        assert next(meetings(frame, turned, PLENTY, 1000)) == []
    opened = model.apply(model.solved, "U")
    (way,) = (next(meetings(frame, opened, PLENTY, 1000)),)
    assert len(way) == 1 and (frame.keys(model.apply(opened, list(box.turns)[way[0]])[None]) == solved).all()
