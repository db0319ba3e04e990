"""The moves of an n × n × n cube from integer cells alone, independent of the puzzle engine.

Cells have coordinates from -(n - 1) to n - 1 in steps of two. A cell carries as many marks as its piece
can be told to lie in different ways: a corner or a middle edge one on each outer face, a fixed centre one in
each direction along its face, every other piece a single one.
"""

from itertools import product

import numpy as np


def turned(vector: tuple[int, ...], axis: int) -> tuple[int, ...]:
    """A quarter turn about a coordinate axis."""
    a, b = (axis + 1) % 3, (axis + 2) % 3
    image = list(vector)
    image[a], image[b] = -vector[b], vector[a]
    return tuple(image)


def marks(cell: tuple[int, ...], outer: int) -> list[tuple[int, ...]]:
    """The directions that tell how the piece of a cell lies; none for a cell inside."""
    out = [axis for axis in range(3) if abs(cell[axis]) == outer]
    if not out:
        return []
    if any(0 < abs(c) < outer for c in cell):
        return [(0, 0, 0)]
    if len(out) > 1:
        return [unit(axis, cell[axis] // outer) for axis in out]
    return [unit(axis, sign) for axis in range(3) if axis not in out for sign in (1, -1)]


def unit(axis: int, sign: int) -> tuple[int, ...]:
    return tuple(sign * (axis == a) for a in range(3))


def cube_moves(n: int) -> np.ndarray:
    """A quarter turn of every slab but the middle one, as permutations of all marks: shape (moves, marks)."""
    coordinates = range(1 - n, n, 2)
    cells = product(coordinates, repeat=3)
    index = {mark: i for i, mark in enumerate((c, d) for c in cells for d in marks(c, n - 1))}
    moves = [
        [index[turned(cell, axis), turned(way, axis)] if cell[axis] == slab else i for (cell, way), i in index.items()]
        for axis in range(3)
        for slab in coordinates
        if slab
    ]
    return np.array(moves)
