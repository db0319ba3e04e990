"""What lies in the grid of a box that may leave its outline, against the closed box and the cube of its longest side."""

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.values.sequence import Step
from tests.common.rotated import rotations_of

ODD = [(1, 3, 3), (1, 3, 5), (3, 3, 5)]


@pytest.mark.parametrize("sides", ODD)
def test_sequences_on_odd_sides_act_as_on_the_cube_of_the_longest_side(sides):
    """A piece on the outside of the cube's grid goes where the cube's piece there goes, and its faces look the same ways."""
    n, rng = max(sides), np.random.default_rng(sum(sides))
    box, cube = load(f"cuboid:{'x'.join(map(str, sides))},turns=all"), load(f"cube:{n}")
    place = {box.places[b]: b for b in range(len(box.slots))}
    twin = [place[middle(body.cell, n)] for body in cube.geometry.bodies]
    for _ in range(8):
        state, made = box.solved, []
        for _ in range(10):
            turn = rng.choice([*box.legal(state)])
            state = box.follow(turn.name, state)
            made.append(str(in_cube(turn.step, sides)))
        ours, theirs = (rotations_of(p, s) for p, s in ((box, state), (cube, cube.follow(" ".join(made)))))
        for slot, (piece, rotation) in enumerate(theirs):
            assert ours[twin[slot]][0] == twin[piece]
            one, other = (p.geometry.mechanism.rotations.matrices for p in (box, cube))
            normals = [face.normal for face in cube.geometry.bodies[piece].faces if face.facet]
            assert np.allclose(one[ours[twin[slot]][1]] @ np.transpose(normals), other[rotation] @ np.transpose(normals))


def middle(cell, n: int) -> tuple[int, int, int]:
    """The middle of a cell of the cube in half layers: a plane after the other, on which side it lies."""
    x, y, z = (2 * sum(side > 0 for side in cell[k * (n - 1) : (k + 1) * (n - 1)]) + 1 - n for k in range(3))
    return x, y, z


def in_cube(step: Step, sides) -> Step:
    """The same turn on the cube, in which every layer of the box lies deeper by what the side is shorter on that side."""
    axis = next(axis for axis, faces in enumerate(("RL", "UD", "FB")) if step.stem[0] in faces)
    layer = (step.first or 2 - len(step.stem)) + (max(sides) - sides[axis]) // 2
    return Step(step.stem[0], layer, layer, step.amount)


@pytest.mark.parametrize("name", ["cuboid:3x4x5", "cuboid:2x2x4", "cuboid:1x2x3"])
def test_turns_that_keep_the_outline_are_called_and_act_as_on_the_box_that_never_leaves_it(name):
    closed_box, box = load(name), load(f"{name},turns=all")
    for turn in closed_box.turns.values():
        state = box.follow(turn.name)
        assert box.closed(state)
        before = closed_box.arrangement(turn.permutation)
        for b, slot in enumerate(closed_box.slots):
            assert box.slots[state.pieces[box.slot(slot)]] == closed_box.slots[before.pieces[b]]
