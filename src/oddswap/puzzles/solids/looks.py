"""Which placed pieces look alike: compare coloured shapes, exactly.

A look is the set of a piece's coloured polygons in the base slot of its kind. Coordinates that agree within rounding are
given one number, so that comparing looks is comparing sets of integers. Congruences missed by less than
``NEAR`` of a piece's diameter are told apart, and listed: people would need to measure. `as_measured` is the puzzle once they
did.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import combinations

import numpy as np

from oddswap.puzzles.base.mechanism import Body
from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.puzzles.base.space import RotationTable, double_area
from oddswap.values.orbits import numbered

NEAR = 0.03
ROUNDING = 1e-7

Polygon = tuple[str, np.ndarray]


def looks_of(
    kinds: list[Kind], bodies: tuple[Body, ...], placements: np.ndarray, rotations: RotationTable, paints: Mapping[str, str]
) -> tuple[np.ndarray, tuple[tuple[int, int], ...]]:
    """``(looks, nearly)``: a number for each label, equal within a kind where nobody can see a difference; and pairs of labels
    that only measuring tells apart.
    """
    looks, nearly = np.zeros(len(placements), dtype=np.intp), []
    for kind in kinds:
        shown = _shown(kind, bodies, placements, rotations, paints)
        looks[kind.labels.start : kind.labels.stop] = numbered(_signatures(shown))
        nearly.extend(_near_misses(kind, shown, looks))
    return looks, tuple(nearly)


def as_measured(puzzle: Puzzle, alike: bool) -> Puzzle:
    """The puzzle once measuring has shown that all pieces which only measuring tells apart are ``alike``, or that none are.

    >>> from oddswap.puzzles.catalogue import load
    >>> skew = load("shape-mod:cube,axis=U,degrees=44.5")
    >>> [len(set(cube.looks[list(cube.kinds[1].labels)])) for cube in (skew, as_measured(skew, alike=True))]
    [24, 20]
    """
    looks = puzzle.looks.copy()
    for pair in np.array(puzzle.nearly if alike else (), dtype=np.intp).reshape(-1, 2):
        kind, base = puzzle.kind_of[puzzle.slots_of(pair[0])], puzzle.base_label[puzzle.slots_of(pair)]
        for turned in range(kind.twist):
            one, other = looks[base + (pair - base + turned) % kind.twist]
            own = looks[kind.first : kind.labels.stop]
            own[own == other] = one
    for kind in puzzle.kinds:
        looks[kind.first : kind.labels.stop] = numbered(looks[list(kind.labels)].tolist())
    looks.setflags(write=False)
    return replace(puzzle, looks=looks, nearly=())


def _shown(kind, bodies, placements, rotations, paints) -> list[list[Polygon]]:
    """For each label (i, t) of a kind, the coloured polygons of piece i in the base slot with twist t."""
    shown = []
    for label in kind.labels:
        i, t = divmod(label - kind.first, kind.twist)
        back = rotations.inverse[placements[kind.first + i * kind.twist]]
        matrix = rotations.matrices[rotations.then[back, placements[kind.first + t]]]
        body = bodies[kind.start + i]
        polygons = [(paints[f.facet] if f.facet else "", f.vertices @ matrix.T) for f in body.faces]
        polygons += [("mark", mark.vertices @ matrix.T) for mark in body.marks]
        shown.append(polygons)
    return shown


def _signatures(shown: list[list[Polygon]]) -> list[frozenset]:
    flat = np.concatenate([polygon.ravel() for polygons in shown for _, polygon in polygons])
    order = np.argsort(flat, kind="stable")
    steps = np.diff(flat[order], prepend=flat[order[0]]) > ROUNDING
    numbers = np.empty(len(flat), dtype=np.intp)
    numbers[order] = np.cumsum(steps)
    triples = numbers.reshape(-1, 3).tolist()
    signatures, at = [], 0
    for polygons in shown:
        faces = set()
        for paint, polygon in polygons:
            faces.add((paint, frozenset(map(tuple, triples[at : at + len(polygon)]))))
            at += len(polygon)
        signatures.append(frozenset(faces))
    return signatures


def _near_misses(kind: Kind, shown: list[list[Polygon]], looks: np.ndarray) -> Iterator[tuple[int, int]]:
    """Pairs of labels, of two pieces or of one and its own turn, that differ by less than ``NEAR``; one for each two looks."""
    first_with: dict[int, int] = {}
    for label in kind.labels:
        first_with.setdefault(int(looks[label]), label)
    clouds = {label: _clouds(shown[label - kind.first]) for label in first_with.values() if shown[label - kind.first]}
    for one, other in combinations(clouds, 2):
        p, q = clouds[one], clouds[other]
        if p.keys() == q.keys() and all(_close(p[paint], q[paint]) for paint in p):
            yield one, other


def _clouds(polygons: list[Polygon]) -> dict[str, np.ndarray]:
    """The corners by paint; a strip of paint that is too narrow to be noticed is left out."""
    diameter = float(np.linalg.norm(np.ptp(np.concatenate([v for _, v in polygons]), axis=0)))
    wide = [(paint, v) for paint, v in polygons if _width(v) >= NEAR * diameter]
    return {paint: np.concatenate([v for name, v in wide if name == paint]) for paint in {paint for paint, _ in wide}}


def _width(polygon: np.ndarray) -> float:
    """Twice the area over half the outline: about the width of a long strip."""
    outline = np.linalg.norm(np.diff(polygon, axis=0, append=polygon[:1]), axis=1).sum()
    return float(2 * np.linalg.norm(double_area(polygon)) / outline)


def _close(one: np.ndarray, other: np.ndarray) -> bool:
    """Whether two clouds of corners lie within ``NEAR`` of the first one's diameter of each other."""
    gaps = np.linalg.norm(one[:, None] - other[None], axis=2)
    diameter = float(np.linalg.norm(np.ptp(one, axis=0)))
    return max(gaps.min(axis=0).max(), gaps.min(axis=1).max()) < NEAR * diameter
