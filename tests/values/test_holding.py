"""The independent model: every cell of the grid has a place and a rotation matrix in space, in integers."""

import random
from itertools import product

import numpy as np
import pytest

from oddswap.errors import UnknownMove
from oddswap.values.notation import parse, simplified, write
from oddswap.values.position import START, Holding, settle
from oddswap.values.sequence import Step, cube_alphabet

DIRECTION = {"R": (1, 0, 0), "L": (-1, 0, 0), "U": (0, 1, 0), "D": (0, -1, 0), "F": (0, 0, 1), "B": (0, 0, -1)}
ALIKE = {"x": "R", "y": "U", "z": "F", "M": "L", "E": "D", "S": "F"}
BOXES = [(3, 3, 3), (4, 4, 4), (5, 5, 5)]


def clockwise(face: str) -> np.ndarray:
    """A quarter turn, clockwise seen from outside: v goes to d(d·v) - d×v."""
    d = np.array(DIRECTION[face])
    return np.array([d * (d @ v) - np.cross(d, v) for v in np.eye(3, dtype=int)]).T


class Space:
    def __init__(self, size):
        self.places = np.array(list(product(*(range(1 - n, n, 2) for n in size))))
        self.frames = np.array([np.eye(3, dtype=int)] * len(self.places))

    def depth(self, face):
        """Which slab each cell lies in, counted from this face."""
        along = self.places @ np.array(DIRECTION[face])
        return (along.max() - along) // 2 + 1

    def turn(self, face, moved, amount):
        matrix = np.linalg.matrix_power(clockwise(face), amount % 4)
        self.places[moved] = self.places[moved] @ matrix.T
        self.frames[moved] = matrix @ self.frames[moved]

    def apply(self, step):
        face = ALIKE.get(step.stem, step.stem)
        depth = self.depth(face)
        if step.stem in "xyz":
            moved = depth > 0
        elif step.stem in "MES":
            moved = 2 * depth == depth.max() + 1
        else:
            moved = (step.first <= depth) & (depth <= step.last)
        self.turn(face, moved, step.amount)

    def hold(self, holding: Holding):
        """Turn the whole from its own frame into the hands' frame."""
        matrix = sum(np.outer(DIRECTION[face], DIRECTION[holding.own(face)]) for face in "URF")
        assert np.linalg.det(matrix) == pytest.approx(1)
        self.places = self.places @ matrix.T
        self.frames = matrix @ self.frames

    def __eq__(self, other):
        return np.array_equal(self.places, other.places) and np.array_equal(self.frames, other.frames)


def random_steps(size, rng, length, amounts):
    """Steps that the box can make, whichever way it is held by then; and the space after them."""
    space, steps = Space(size), []
    for _ in range(length):
        face = rng.choice("UDFBLR")
        n = space.depth(face).max()
        amount = rng.choice(amounts)
        wide = [Step(face, 1, k, amount) for k in range(1, max(n, 2))]
        inner = [Step(face, k, k, amount) for k in range(2, n)]
        middle = [Step(m, 0, 0, amount) for m in "MES" if space.depth(ALIKE[m]).max() % 2]
        whole = [Step(r, 0, 0, rng.choice([1, 2, -1])) for r in "xyz"]
        steps.append(rng.choice(rng.choice([options for options in (wide, inner, middle, whole) if options])))
        space.apply(steps[-1])
    return tuple(steps), space


def layers_of(size):
    return dict(cube_alphabet(*size).layers)


def replayed(size, steps, holding):
    space = Space(size)
    for step in steps:
        space.apply(step)
    space.hold(holding)
    return space


@pytest.mark.parametrize("size", BOXES)
def test_settled_steps_and_then_the_holding_do_what_the_steps_do(size):
    for seed in range(40):
        steps, space = random_steps(size, random.Random(seed), 25, [1, 2, -1])
        assert parse(write(steps), cube_alphabet(*size)).steps == steps
        settled, holding = settle(steps, layers_of(size))
        assert replayed(size, settled, holding) == space


@pytest.mark.parametrize("size", [(3, 4, 5), (2, 3, 3), (1, 2, 3)])
def test_the_same_with_half_turns_of_a_box_that_is_held_in_all_ways(size):
    for seed in range(40):
        steps, space = random_steps(size, random.Random(seed), 25, [2])
        settled, holding = settle(steps, layers_of(size))
        assert replayed(size, settled, holding) == space


@pytest.mark.parametrize("size", BOXES)
def test_simplified_steps_do_what_the_steps_do(size):
    shorter = 0
    for seed in range(40):
        steps, space = random_steps(size, random.Random(seed), 60, [1, 2, -1])
        merged = simplified(steps, cube_alphabet(*size))
        assert replayed(size, merged, START) == space
        shorter += len(merged) < len(steps)
    assert shorter > 20


@pytest.mark.parametrize("n", [3, 5])
def test_settled_steps_never_move_the_core(n):
    steps, _ = random_steps((n, n, n), random.Random(n), 300, [1, 2, -1])
    settled, _ = settle(steps, layers_of((n, n, n)))
    assert len(settled) > 200
    assert not any(step.first <= (n + 1) // 2 <= step.last for step in settled)


@pytest.mark.parametrize(
    "text, settled, rotations",
    [
        ("Rw", "L", "x"),
        ("Lw'", "R'", "x"),
        ("M", "L' R", "x'"),
        ("2R'", "R L'", "x'"),
        ("E2", "D2 U2", "y2"),
        ("x U", "F", "x"),
        ("Rw U", "L F", "x"),
        ("R U", "R U", ""),
    ],
)
def test_by_hand_on_three_slabs(text, settled, rotations):
    cube = cube_alphabet(3, 3, 3)
    holding = START
    for turn in parse(rotations, cube):
        holding = holding.turned(turn.stem, turn.amount)
    steps, found = settle(parse(text, cube), cube.layers)
    assert (write(steps), found) == (settled, holding)


def test_an_even_axis_keeps_its_blocks():
    cube = cube_alphabet(4, 4, 4)
    steps, holding = settle(parse("3Rw 2U' z Lw", cube), cube.layers)
    assert (write(steps), holding) == ("3Rw 2U' Dw", START.turned("z", 1))


def test_settling_may_go_on_from_a_holding():
    steps, _ = random_steps((5, 5, 5), random.Random(7), 30, [1, 2, -1])
    layers = layers_of((5, 5, 5))
    whole = settle(steps, layers)
    first, holding = settle(steps[:11], layers)
    rest, last = settle(steps[11:], layers, start=holding)
    assert (first + rest, last) == whole


def test_all_24_holdings_are_reached_and_each_turn_has_order_four():
    reached = {START}
    while more := {h.turned(axis, 1) for h in reached for axis in "xyz"} - reached:
        reached |= more
    assert len(reached) == 24
    for axis in "xyz":
        assert all(h.turned(axis, 4) == h == h.turned(axis, 3).turned(axis, 1) for h in reached)


@pytest.mark.parametrize(
    "steps, word",
    [
        ([Step("y", 0, 0, 1), Step("F", 1, 4, 2)], "counts too far: its axis has 3 slabs"),
        ([Step("x", 0, 0, 1), Step("S", 0, 0, 2)], "no middle slab to turn: its axis has 4 slabs"),
        ([Step("shift", 0, 0, 1)], "no place in a holding"),
    ],
)
def test_a_slab_that_the_holding_does_not_offer_is_refused(steps, word):
    with pytest.raises(UnknownMove, match=word):
        settle(steps, layers_of((3, 4, 5)))
