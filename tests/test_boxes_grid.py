"""What lies in the grid of a box that may leave its outline, against the closed box and the cube of its longest side."""

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.values.sequence import Step

ODD = {(1, 3, 5): "cube:5", (3, 3, 5): "cube:5", (1, 3, 3): "cube:3", (1, 1, 3): "cube:3"}


@pytest.mark.parametrize("sides", ODD)
def test_odd_sides_turn_as_in_the_cube_of_the_longest_side(sides):
    """A piece on the outside of the cube's grid goes where the cube's piece there goes, turned as that is."""
    box, cube = load(f"cuboid:{'x'.join(map(str, sides))},turns=all"), load(ODD[sides])
    place = {box.places[b]: b for b in range(len(box.slots))}
    first = np.cumsum([0, max(sides) - 1, max(sides) - 1])
    n = max(sides)
    twin = {}
    for b, body in enumerate(cube.geometry.bodies):
        at = tuple(2 * sum(s > 0 for s in body.cell[f : f + n - 1]) + 1 - n for f in first)
        twin[b] = place[at]
    for name, turn in box.turns.items():
        stem, axis = turn.step.stem, int(np.abs(turn.axis).argmax())
        layer = turn.step.first or 2 - len(stem)
        other = cube.turns[str(Step(stem[0], *2 * [layer + (n - sides[axis]) // 2], turn.step.amount))]
        arrived = cube.arrangement(other.permutation).pieces
        assert [box.slot_images[name][twin[piece]] for piece in arrived] == list(twin.values())
        assert turn.angle == other.angle and turn.axis == other.axis


@pytest.mark.parametrize("name", ["cuboid:3x4x5", "cuboid:2x2x4", "cuboid:1x2x3"])
def test_turns_that_keep_the_outline_are_called_and_act_as_on_the_box_that_never_leaves_it(name):
    closed_box, box = load(name), load(f"{name},turns=all")
    for turn in closed_box.turns.values():
        state = box.follow(turn.name)
        assert box.closed(state)
        before = closed_box.arrangement(turn.permutation)
        for b, slot in enumerate(closed_box.slots):
            assert box.slots[state.pieces[box.slot(slot)]] == closed_box.slots[before.pieces[b]]
