"""Which quarter turns of a box close, which take layers out of its outline, and whether its unit cells then hang together.

Only that is asked of a turn which changes the shape: what it leaves must be one body whose cells touch by whole faces. This is
a necessary test and no model of a mechanism: a real copy may lock earlier.
"""

import re
from collections.abc import Mapping
from functools import lru_cache

import numpy as np

from oddswap.puzzles.base.mechanism import AXIS
from oddswap.values.grammar import number_word
from oddswap.values.sequence import FACES


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


def leaves_the_outline(turns: str, sides: tuple[int, int, int]) -> bool:
    """Whether ``turns`` (half, box, all or a list joined by +) of a box can change its shape."""
    if turns in ("half", "box"):
        return False
    if turns == "all":
        return extended(sides) != sides
    named = (re.fullmatch(rf"\d?(([{''.join(FACES)}])\2*)('?)", name) for name in turns.split("+"))
    crossed = ((match[1], across(match[2], sides)) for match in named if match)
    return any(len(stem) > 1 or (one != other and one % 2 == other % 2) for stem, (one, other) in crossed)


def across(face: str, sides: tuple[int, int, int]) -> tuple[int, int]:
    """How many layers lie across the axis of a face, one way and the other."""
    one, other = (sides[axis] for axis in range(3) if axis != AXIS[face])
    return one, other


def why_not(turn: str, layers: Mapping[str, int]) -> str:
    """Why a box with so many layers on each face's axis lacks a quarter turn; empty for what does not fail for that.

    >>> why_not("R", {"R": 3, "U": 4, "F": 5})
    'four layers one way and five the other, so a quarter turn does not close'
    """
    match = re.fullmatch(rf"\d?([{''.join(FACES)}])\1*'?", turn)
    if match is None or not layers:
        return ""
    one, other = across(match[1], (layers["R"], layers["U"], layers["F"]))
    if one % 2 == other % 2:
        return ""
    layers = f"{number_word(one)} layer{'s' if one > 1 else ''} one way and {number_word(other)} the other"
    return f"{layers}, so a quarter turn does not close"
