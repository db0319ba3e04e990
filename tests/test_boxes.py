"""Boxes that leave their outline, against cells moved one by one in integers."""

from functools import lru_cache
from itertools import product

import numpy as np
import pytest

from oddswap.errors import OddswapError, UnknownMove
from oddswap.puzzles.boxes import BoxPuzzle
from oddswap.puzzles.catalogue import load, with_all_turns, with_turns_out_of_the_box
from oddswap.puzzles.outlines import extended
from oddswap.reasoning.search import depth_counts
from tests.boxes import STILL, Matrix, as_rows, times

Cell = tuple[int, ...]
State = frozenset[tuple[Cell, Matrix, Cell]]
"""Of each unit cell that shows something: where it is, how it is turned, and where it was in the closed box."""


@lru_cache(maxsize=100_000)
def turned(matrix: Matrix, state: Matrix) -> Matrix:
    return as_rows(np.array(matrix) @ np.array(state))


def turns_of(sides: Cell) -> list[tuple[int, int, Matrix]]:
    """Every turn as axis, layer and matrix: by a quarter, a half and three quarters, or by a half alone."""
    grid, turns = extended(sides), []
    for axis, n in enumerate(grid):
        a, b = (axis + 1) % 3, (axis + 2) % 3
        quarter = np.eye(3, dtype=int)
        quarter[[a, b]] = quarter[[b, a]] * np.array([[-1], [1]])
        powers = (1, 2, 3) if sides[a] % 2 == sides[b] % 2 else (2,)
        matrices = [as_rows(np.linalg.matrix_power(quarter, power)) for power in powers]
        turns += [(axis, layer, matrix) for layer in range(1 - n, n, 2) if layer for matrix in matrices]
    return turns


def closed(sides: Cell) -> list[Cell]:
    return list(product(*(range(1 - n, n, 2) for n in sides)))


def in_one_piece(cells: set[Cell]) -> bool:
    left = set(cells)
    queue = [left.pop()]
    while queue:
        here = np.array(queue.pop())
        for axis, step in product(range(3), (-2, 2)):
            near = tuple((here + step * np.eye(3, dtype=int)[axis]).tolist())
            if near in left:
                left.remove(near)
                queue.append(near)
    return not left


def after(state: State, turn: tuple[int, int, Matrix]) -> State | None:
    axis, layer, matrix = turn
    moved = frozenset(
        (times(matrix, at), turned(matrix, way), home) if at[axis] == layer else (at, way, home) for at, way, home in state
    )
    return moved if in_one_piece({at for at, _, _ in moved}) else None


def looks(state: State, sides: Cell) -> frozenset:
    """What is seen: each cell with its colours by direction."""

    def colours(way: Matrix, home: Cell) -> frozenset:
        faces = (tuple(s * (i == a) for i in range(3)) for a in range(3) for s in (1, -1) if s * home[a] == sides[a] - 1)
        return frozenset((times(way, face), face) for face in faces)

    return frozenset((at, colours(way, home)) for at, way, home in state)


def whole_turns(sides: Cell) -> list[Matrix]:
    """The rotations of the whole box that join where some side is even: the group of all its turns."""
    if all(n % 2 for n in sides):
        return [STILL]
    found = [STILL]
    for way in found:
        found += [new for new in {turned(m, way) for _, _, m in turns_of(sides)} if new not in found]
    return found


def counts(sides: Cell, depth: int) -> list[int]:
    """How many sights there are at each distance, up to how the box is held."""
    whole = whole_turns(sides)

    def held(state: State) -> set[frozenset]:
        return {looks(frozenset((times(m, at), turned(m, way), home) for at, way, home in state), sides) for m in whole}

    start = frozenset((cell, STILL, cell) for cell in closed(sides))
    seen, edge, found = held(start), [start], [1]
    for _ in range(depth):
        following = []
        for state, turn in product(edge, turns_of(sides)):
            new = after(state, turn)
            if new is not None and looks(new, sides) not in seen:
                seen |= held(new)
                following.append(new)
        edge = following
        found.append(len(edge))
    return found


@pytest.mark.parametrize(("sides", "depth"), [((1, 2, 3), 4), ((1, 3, 3), 2), ((2, 2, 4), 2), ((1, 2, 5), 3)])
def test_sights_at_each_distance_as_counted_cell_by_cell(sides, depth):
    puzzle = load(f"cuboid:{'x'.join(map(str, sides))},turns=all")
    assert depth_counts(puzzle, depth) == counts(sides, depth)


BAD = {
    "R": "does not make the turn R: four layers one way and five the other, so a quarter turn does not close",
    "RR2": "turn 1, RR2, finds no layer there",
    "M": "carries the core",
    "U D' RR F2": "does not make the turn RR: four layers",
}


@pytest.mark.parametrize("moves", BAD)
def test_what_cannot_be_turned_is_told_in_one_sentence(moves):
    with pytest.raises(OddswapError) as caught:
        load("cuboid:3x4x5,turns=all").follow(moves)
    assert BAD[moves] in str(caught.value) and "\n" not in str(caught.value)


@pytest.mark.parametrize(("sides", "moves", "turn"), [((1, 2, 5), "U'", "2B2"), ((1, 3, 5), "B", "RR'")])
def test_a_turn_that_leaves_two_bodies_is_refused(sides, moves, turn):
    box = load(f"cuboid:{'x'.join(map(str, sides))},turns=all")
    assert box.turns[turn] not in box.legal(box.follow(moves))
    with pytest.raises(UnknownMove, match=f"turn 2, {turn}, would leave cells that do not touch by a face"):
        box.follow(f"{moves} {turn}")


def test_wider_and_narrower_turns_by_name():
    half = load("cuboid:2x2x4,turns=half")
    box, wide = with_all_turns(half), with_turns_out_of_the_box(half)
    assert (box.name, wide.name) == ("cuboid:2x2x4", "cuboid:2x2x4,turns=all")
    assert isinstance(wide, BoxPuzzle) and with_all_turns(wide) is None
    assert with_turns_out_of_the_box(load("cuboid:2x3x3")) is None and with_turns_out_of_the_box(load("cube:3")) is None
    assert set(load("cuboid:2x2x4,turns=R+U2").turns) == {"R", "R2", "R'", "U2"}
