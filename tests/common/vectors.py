"""The cubes of two and three slabs from integer vectors alone, independent of the puzzle engine.

A sticker is a position and a direction; a turn rotates those on its side. Where each face goes in a clockwise turn is a fact
that anybody can read off a cube in their hands (and WCA Regulations 12a1 say what clockwise means).
"""

from itertools import product

import numpy as np

FACES = "UDFBLR"
RINGS = {"U": "FLBR", "D": "FRBL", "F": "URDL", "B": "ULDR", "L": "UFDB", "R": "UBDF"}
VECTORS = {"U": (0, 1, 0), "D": (0, -1, 0), "F": (0, 0, 1), "B": (0, 0, -1), "L": (-1, 0, 0), "R": (1, 0, 0)}


def quarter(face: str) -> np.ndarray:
    """The clockwise quarter turn about a face, as an integer matrix."""
    goes = {face: face, RINGS[face][0]: RINGS[face][1], RINGS[face][1]: RINGS[face][2]}
    there = np.array([VECTORS[f] for f in goes]).T
    return np.array([VECTORS[f] for f in goes.values()]).T @ np.round(np.linalg.inv(there)).astype(int)


def position(slot: str) -> tuple[int, int, int]:
    """Where a slot named by its faces lies."""
    return tuple(sum((np.array(VECTORS[face]) for face in slot), np.zeros(3, dtype=int)).tolist())


def solved(n: int) -> dict:
    """The colour at each (position, direction): the letter of the face where it is at home."""
    places = [p for p in product((-1, 0, 1) if n == 3 else (-1, 1), repeat=3)]
    return {(p, VECTORS[f]): f for p in places for f in FACES if np.dot(p, VECTORS[f]) == 1}


def turned(state: dict, face: str, amount: int = 1) -> dict:
    """The stickers after clockwise quarter turns of one face."""
    matrix = np.linalg.matrix_power(quarter(face), amount % 4)
    return {
        tuple(tuple((matrix @ vector).tolist()) if np.dot(p, VECTORS[face]) == 1 else vector for vector in (p, d)): colour
        for (p, d), colour in state.items()
    }
