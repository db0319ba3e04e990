"""The moves of a box from integer cells and integer matrices alone, independent of the puzzle engine.

A piece is where its rotation takes it: it starts in a cell, and its state is the rotation that it has made. What turns is
every layer but the middle one of an odd number; about an axis whose two cross sides are equal by a quarter, else by a half.
Where some side is even, no piece fixes the holding, and the whole box may be turned so that its outline stays.
"""

from collections.abc import Iterable
from itertools import product

import numpy as np

Matrix = tuple[tuple[int, ...], ...]
STILL: Matrix = ((1, 0, 0), (0, 1, 0), (0, 0, 1))


def box_moves(sides: tuple[int, int, int], half: bool = False, whole: bool = True) -> np.ndarray:
    """The moves as permutations of all states of all pieces: shape (moves, states). ``half``: layers by a half only."""
    cells = [
        cell
        for cell in product(*(range(1 - n, n, 2) for n in sides))
        if any(abs(c) == n - 1 for c, n in zip(cell, sides, strict=True))
    ]
    moves = [(rotation(axis, sides, half), axis, layer) for axis, layer in layers(sides)]
    if whole and any(n % 2 == 0 for n in sides):
        moves += [(rotation(axis, sides, False), axis, None) for axis in range(3)]
    index: dict[tuple, int] = {}
    homes: list[tuple[int, ...]] = []
    covered: set[tuple[int, ...]] = set()
    for cell in cells:
        if cell not in covered:
            homes.append(cell)
            states = reached(cell, moves)
            covered |= {times(state, cell) for state in states}
            index |= {(cell, state): len(index) + i for i, state in enumerate(sorted(states))}
    return np.array([[index[home, after(move, home, state)] for home, state in index] for move in moves])


def layers(sides: Iterable[int]) -> list[tuple[int, int]]:
    return [(axis, layer) for axis, n in enumerate(sides) for layer in range(1 - n, n, 2) if layer]


def rotation(axis: int, sides: tuple[int, int, int], half: bool) -> Matrix:
    """The smallest turn about a coordinate axis that keeps the outline."""
    a, b = (axis + 1) % 3, (axis + 2) % 3
    quarter = np.eye(3, dtype=int)
    quarter[[a, b]] = quarter[[b, a]] * np.array([[-1], [1]])
    return as_rows(quarter @ quarter if half or sides[a] != sides[b] else quarter)


def as_rows(matrix: np.ndarray) -> Matrix:
    return tuple(tuple(row) for row in matrix.tolist())


def times(matrix: Matrix, cell: tuple[int, ...]) -> tuple[int, ...]:
    return tuple(sum(m * c for m, c in zip(row, cell, strict=True)) for row in matrix)


def after(move: tuple, home: tuple[int, ...], state: Matrix) -> Matrix:
    """The rotation that a piece has made after a move; a move without a layer takes everything along."""
    matrix, axis, layer = move
    if layer is not None and times(state, home)[axis] != layer:
        return state
    return as_rows(np.array(matrix) @ np.array(state))


def reached(home: tuple[int, ...], moves: list[tuple]) -> set[Matrix]:
    found, queue = {STILL}, [STILL]
    for state in queue:
        fresh = {after(move, home, state) for move in moves} - found
        found |= fresh
        queue += sorted(fresh)
    return found
