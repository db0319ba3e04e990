"""Symmetries of a puzzle's shape: rotations and reflections that keep the cuts, the facets, and which share a colour.

Without a solid they are rearrangements of the slots that take each turn to a turn, and what looks alike to what looks alike.
Where its turns go decides where a slot goes once one slot of its orbit is decided, so each choice is followed along the turns.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import combinations, permutations

import numpy as np

from oddswap.puzzles.base.mechanism import Geometry
from oddswap.puzzles.base.puzzle import Puzzle

NEAR = 1e-7


@lru_cache(maxsize=16)
def shape_symmetries(puzzle: Puzzle) -> tuple[tuple[int, ...], ...]:
    """Each symmetry as the slots to which it takes the slots; without a solid those of `flat_symmetries`.

    >>> from oddswap.puzzles.catalogue import load
    >>> len(shape_symmetries(load("cube:3"))), len(shape_symmetries(load("shape-mod:prism8")))
    (48, 16)
    """
    still = tuple(range(len(puzzle.slots)))
    if puzzle.geometry is None:
        return tuple(sorted({still, *flat_symmetries(puzzle)}))
    geometry = puzzle.geometry
    number = {body.cell: i for i, body in enumerate(geometry.bodies)}
    far = {face.facet: float(face.normal @ face.centre) for body in geometry.bodies for face in body.faces}
    found, offsets, cells = {still}, np.array([far[name] for name in geometry.facets]), np.array(list(number))
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


def is_mirror(puzzle: Puzzle, move: Sequence[int]) -> bool:
    """Whether such a symmetry is a reflection, and no rotation does the same.

    >>> from oddswap.puzzles.catalogue import load
    >>> kept, free = load("cuboid:1x3x3"), load("cuboid:1x3x3,turns=all")
    >>> [sum(is_mirror(puzzle, move) for move in shape_symmetries(puzzle)) for puzzle in (kept, free)]
    [0, 8]
    """
    if puzzle.geometry is None:
        return False
    centres = np.array([body.cell for body in puzzle.geometry.bodies]) @ puzzle.geometry.mechanism.normals
    matrix = np.linalg.lstsq(centres, centres[list(move)], rcond=NEAR)[0]
    return bool(np.linalg.det(matrix) < -NEAR)


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


Pairs = Sequence[tuple[np.ndarray, np.ndarray]]
"""Permutations, each with the one to which it goes."""

MOST = 6
"""With more turns than this, or twists or a blank, nothing is looked for."""


def flat_symmetries(puzzle: Puzzle) -> Iterator[tuple[int, ...]]:
    """Each symmetry as the slots to which it takes the slots.

    >>> from oddswap.puzzles.catalogue import load
    >>> len(set(flat_symmetries(load("rings:4+4"))))
    4
    """
    if puzzle.blank is not None or len(puzzle.turns) > MOST or any(kind.twist > 1 for kind in puzzle.kinds):
        return
    turns = [turn.permutation for turn in puzzle.turns.values()]
    for images in permutations(turns):
        pairs = list(zip(turns, images, strict=True))
        for move in _along(np.full(len(puzzle.slots), -1), pairs):
            if len(set(move)) == len(move) and _keeps_looks(puzzle, move):
                yield move


def _along(found: np.ndarray, pairs: Pairs) -> Iterator[tuple[int, ...]]:
    """Every way to go on where some slots are decided, -1 where one is not, orbit by orbit."""
    open_slots = np.flatnonzero(found < 0)
    if not len(open_slots):
        yield tuple(found.tolist())
        return
    for image in range(len(found)):
        trial = found.copy()
        trial[open_slots[0]] = image
        if followed(trial, int(open_slots[0]), pairs):
            yield from _along(trial, pairs)


def followed(found: np.ndarray, start: int, pairs: Pairs) -> bool:
    """Decide where all go that turns join to ``start``, whose place in ``found`` is decided, others being -1, so that each turn
    goes to its partner; False where that is contradictory, and ``found`` is then of no use.
    """
    queue = [start]
    for here in queue:
        for turn, image in pairs:
            there, place = int(turn[here]), int(image[found[here]])
            if found[there] < 0:
                found[there] = place
                queue.append(there)
            elif found[there] != place:
                return False
    return True


def _keeps_looks(puzzle: Puzzle, move: tuple[int, ...]) -> bool:
    """Whether pieces at home stay among their kind, and look alike just where they did."""
    kinds = [kind.first for kind in puzzle.kind_of]
    if any(kinds[slot] != kinds[image] for slot, image in enumerate(move)):
        return False
    looks = puzzle.looks[puzzle.base_label]
    before = {(kinds[slot], int(look)) for slot, look in enumerate(looks)}
    pairs = {((kinds[slot], int(looks[slot])), int(looks[image])) for slot, image in enumerate(move)}
    return len(pairs) == len(before) == len({(key[0], look) for key, look in pairs})
