"""Classes of what turns inside the box cannot change, against their number by laws."""

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.excursions import frame_of, meetings


@pytest.mark.parametrize(("name", "classes"), [("cuboid:2x2x4,turns=half", 36)])
def test_as_many_classes_as_the_index_of_the_half_turns(name, classes):
    """The turns of this box reach 9216 of 24**4 arrangements: one in 36 (computed by hand and by the stabiliser chain)."""
    half, box = load(name), load("cuboid:2x2x4,turns=all")
    frame = frame_of(box, tuple(half.turns))
    assert len(frame.classes) == 24**4 and len(np.unique(frame.classes)) == classes == 24**4 // 9216


def test_turns_inside_the_box_change_no_class_and_turns_outside_are_undone_by_their_inverses():
    half, box = load("cuboid:2x3x4,turns=half"), load("cuboid:2x3x4,turns=all")
    frame = frame_of(box, tuple(half.turns))
    model = frame.labelled
    solved = frame.keys(model.solved[None])
    for name in half.turns:
        turned = model.apply(model.solved, name)
        assert (frame.keys(turned[None]) == solved).all()
        assert next(meetings(frame, turned, 5.0, 1000)) == []
    opened = model.apply(model.solved, "U")
    (way,) = (next(meetings(frame, opened, 5.0, 1000)),)
    assert len(way) == 1 and (frame.keys(model.apply(opened, list(box.turns)[way[0]])[None]) == solved).all()
