"""Which unit cells a box fills, and whether they hang together.

Only that is asked of a turn which changes the shape: what it leaves must be one body whose cells touch by whole faces. This is
a necessary test and no model of a mechanism: a real copy may lock earlier.
"""

from functools import lru_cache

import numpy as np


def extended(sides: tuple[int, int, int]) -> tuple[int, int, int]:
    """The sides of the grid that holds a box however it is turned: the longest of the sides of the same parity.

    >>> extended((3, 4, 5)), extended((2, 3, 4))
    ((5, 4, 5), (4, 3, 4))
    """
    x, y, z = (max(n for n in sides if n % 2 == side % 2) for side in sides)
    return x, y, z


@lru_cache(maxsize=16)
def touching(places: tuple[tuple[int, int, int], ...]) -> np.ndarray:
    """For each cell of a grid, its middle in half layers, the numbers of those next to it, or -1: shape (cells, 6)."""
    number = {place: i for i, place in enumerate(places)}
    steps = 2 * np.concatenate([np.eye(3, dtype=int), -np.eye(3, dtype=int)])
    return np.array([[number.get(tuple(np.add(place, step).tolist()), -1) for step in steps] for place in places])


def in_one_body(bits: np.ndarray, neighbours: np.ndarray) -> np.ndarray:
    """Whether cells hang together by faces, in many sets of cells at once, each of which has one bit of what lies in a column.

    ``bits`` (cells, n) are bytes; so is the answer (n,). What is reached spreads from the first filled cell of each set to
    neighbours that are filled, as long as anything grows. A last row stands for no cell.
    """
    bits = np.concatenate([bits, np.zeros_like(bits[:1])])
    begun = np.bitwise_or.accumulate(bits, axis=0)
    reached, before = bits & ~np.concatenate([bits[-1:], begun[:-1]]), None
    while before is None or (reached != before).any():
        before, reached = reached, reached.copy()
        for near in neighbours.T:
            reached[:-1] |= before[near]
        reached &= bits
    return ~np.bitwise_or.reduce(bits & ~reached, axis=0)
