"""Symmetries of a puzzle's shape: rotations and reflections that keep the cuts, the facets, and which share a colour."""

from collections.abc import Iterator
from functools import lru_cache
from itertools import combinations, permutations

import numpy as np

from oddswap.puzzles.base.flat_symmetry import flat_symmetries
from oddswap.puzzles.base.geometry import Geometry
from oddswap.puzzles.base.puzzle import Puzzle

NEAR = 1e-7


@lru_cache(maxsize=16)
def shape_symmetries(puzzle: Puzzle) -> tuple[tuple[int, ...], ...]:
    """Each symmetry as the slots to which it takes the slots; for a puzzle drawn flat see `flat_symmetry`.

    >>> from oddswap.puzzles.catalogue import load
    >>> len(shape_symmetries(load("cube:3"))), len(shape_symmetries(load("shape-mod:prism8")))
    (48, 16)
    """
    still = tuple(range(len(puzzle.slots)))
    if puzzle.geometry is None:
        return tuple(sorted({still, *flat_symmetries(puzzle)}))
    geometry = puzzle.geometry
    number = {body.cell: i for i, body in enumerate(geometry.bodies)}
    found, offsets, cells = {still}, _offsets(geometry), np.array(list(number))
    for matrix in _candidates(np.array(list(geometry.facets.values()))):
        if _keeps_facets(geometry, offsets, matrix) and (planes := geometry.mechanism.plane_images(matrix)).all():
            images = np.zeros_like(cells)
            images[:, np.abs(planes) - 1] = np.sign(planes) * cells
            slots = [number.get(tuple(image)) for image in images.tolist()]
            if None not in slots and {slots[place] for place in puzzle.void} == puzzle.void:
                found.add(tuple(slots))
    return tuple(sorted(found))


@lru_cache(maxsize=16)
def turn_symmetries(puzzle: Puzzle) -> tuple[tuple[int, ...], ...]:
    """Those symmetries of the shape that take every turn of this copy to one of its turns, and joined pieces to joined pieces.

    >>> from oddswap.puzzles.catalogue import load
    >>> len(turn_symmetries(load("cube:3,turns=R+U"))), len(turn_symmetries(load("corner-cube")))
    (4, 24)
    """
    turns = {tuple(puzzle.slots_of(turn.permutation[puzzle.base_label]).tolist()) for turn in puzzle.turns.values()}
    joints = {frozenset(joint) for joint in puzzle.joints}
    return tuple(
        move
        for move in shape_symmetries(puzzle)
        if joints == {frozenset(move[piece] for piece in joint) for joint in joints}
        and all(tuple(move[turn[slot]] for slot in np.argsort(move)) in turns for turn in turns)
    )


def _candidates(facets: np.ndarray) -> Iterator[np.ndarray]:
    """The orthogonal matrices that take three independent facet normals to facet normals: every symmetry is among them."""
    base = next(list(three) for three in combinations(range(len(facets)), 3) if abs(np.linalg.det(facets[list(three)])) > NEAR)
    angles = facets @ facets.T
    images = np.array(list(permutations(range(len(facets)), 3)))
    alike = np.isclose(angles[images[:, :, None], images[:, None]], angles[np.ix_(base, base)], atol=NEAR).all(axis=(1, 2))
    for image in images[alike]:
        yield facets[image].T @ np.linalg.inv(facets[base].T)


def _keeps_facets(geometry: Geometry, offsets: np.ndarray, matrix: np.ndarray) -> bool:
    """Whether facets go to facets as far out, and those of one colour to those of one colour."""
    names = list(geometry.facets)
    normals = np.array(list(geometry.facets.values()))
    paints: dict[str, str] = {}
    for name, normal, offset in zip(names, normals, offsets, strict=True):
        distance = np.abs(normals - matrix @ normal).max(axis=1)
        image = int(distance.argmin())
        if distance[image] > NEAR or abs(offsets[image] - offset) > NEAR:
            return False
        if paints.setdefault(geometry.paints[name], geometry.paints[names[image]]) != geometry.paints[names[image]]:
            return False
    return len(set(paints.values())) == len(paints)


def _offsets(geometry: Geometry) -> np.ndarray:
    """How far out each facet lies."""
    far = {face.facet: float(face.normal @ face.centre) for body in geometry.bodies for face in body.faces}
    return np.array([far[name] for name in geometry.facets])
