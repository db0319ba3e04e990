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


def is_one_body(filled: np.ndarray, neighbours: np.ndarray) -> bool:
    """Whether the cells of which ``filled`` (cells,) is true hang together by faces."""
    left = set(np.flatnonzero(filled).tolist())
    queue = [left.pop()] if left else []
    while queue:
        near = left.intersection(neighbours[queue.pop()].tolist())
        left -= near
        queue += near
    return not left
