"""Symmetries of a puzzle's shape: rotations and reflections that keep the cuts, the facets, and which share a colour."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import permutations, product

import numpy as np

from oddswap.puzzles.geometry import Geometry
from oddswap.puzzles.mechanism import Cell, Mechanism
from oddswap.puzzles.puzzle import Puzzle

NEAR = 1e-7


@lru_cache(maxsize=16)
def shape_symmetries(puzzle: Puzzle) -> tuple[tuple[int, ...], ...]:
    """Each symmetry as the slots to which it takes the slots; only the identity where a puzzle is drawn flat.

    >>> from oddswap.puzzles.catalogue import load
    >>> len(shape_symmetries(load("cube:3"))), len(shape_symmetries(load("shape-mod:prism8")))
    (48, 16)
    """
    still = tuple(range(len(puzzle.slots)))
    if puzzle.geometry is None:
        return (still,)
    geometry = puzzle.geometry
    number = {body.cell: i for i, body in enumerate(geometry.bodies)}
    found = {still}
    for matrix in _candidates(geometry.mechanism):
        images = [_image(body.cell, matrix, geometry.mechanism) for body in geometry.bodies]
        if all(image in number for image in images) and _keeps_facets(geometry, matrix):
            found.add(tuple(number[image] for image in images))
    return tuple(sorted(found))


@lru_cache(maxsize=16)
def turn_symmetries(puzzle: Puzzle) -> tuple[tuple[int, ...], ...]:
    """Those symmetries of the shape that take every turn of this copy to one of its turns.

    >>> from oddswap.puzzles.catalogue import load
    >>> len(turn_symmetries(load("cube:3,turns=R+U"))), len(turn_symmetries(load("corner-cube")))
    (4, 24)
    """
    turns = {tuple(_on_slots(puzzle, turn.permutation).tolist()) for turn in puzzle.turns.values()}
    return tuple(
        move
        for move in shape_symmetries(puzzle)
        if all(tuple(move[turn[slot]] for slot in np.argsort(move)) in turns for turn in turns)
    )


def _on_slots(puzzle: Puzzle, permutation: np.ndarray) -> np.ndarray:
    """Where a label permutation takes the piece of each slot."""
    return np.searchsorted(puzzle.base_label, permutation[puzzle.base_label], side="right") - 1


def _candidates(mechanism: Mechanism) -> Iterator[np.ndarray]:
    """The mechanism's own rotations, the signed changes of coordinates, and each of them turned inside out."""
    for order in permutations(range(3)):
        for signs in product((1, -1), repeat=3):
            yield np.eye(3)[list(order)] * np.array(signs)[:, None]
    for matrix in mechanism.rotations.matrices:
        yield from (matrix, -matrix)


def _image(cell: Cell, matrix: np.ndarray, mechanism: Mechanism) -> Cell | None:
    signs = [0] * len(cell)
    for own, normal, offset in zip(cell, mechanism.normals, mechanism.offsets, strict=True):
        for sign in (1, -1):
            near = np.abs(mechanism.normals - sign * (matrix @ normal)).max(axis=1) < NEAR
            near &= np.abs(mechanism.offsets - sign * offset) < NEAR
            if near.any():
                signs[int(near.argmax())] = sign * own
                break
        else:
            return None
    return tuple(signs)


def _keeps_facets(geometry: Geometry, matrix: np.ndarray) -> bool:
    names = list(geometry.facets)
    normals = np.array([geometry.facets[name] for name in names])
    paints: dict[str, str] = {}
    for name in names:
        distance = np.abs(normals - matrix @ geometry.facets[name]).max(axis=1)
        if distance.min() > NEAR:
            return False
        target = geometry.paints[names[int(distance.argmin())]]
        if paints.setdefault(geometry.paints[name], target) != target:
            return False
    return len(set(paints.values())) == len(paints)
