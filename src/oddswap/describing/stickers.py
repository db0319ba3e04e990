"""Stickers one by one: for solids whose facets are the faces of the cuts, so that each slot shows one colour a face.

A *place* is a slot and one of the faces that it touches. Faces are read row by row as seen from outside: U with B at the
top, D with F at the top, the others with U at the top.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.solids.cutting import TOP
from oddswap.values.position import Appearance, Arrangement, Sight


@dataclass(frozen=True, eq=False)
class Stickers:
    """``places`` in order of slots: ``(slot, face)``; ``at`` is the other way.

    ``shown[slot, label]``: the paints that the piece of home slot i with twist t (label = (i, t)) shows in that slot,
    face by face as the slot's name has them.

    ``grid[face]``: rows of place numbers as the face is seen.
    """

    places: tuple[tuple[int, str], ...]
    at: Mapping[tuple[int, str], int]
    shown: Mapping[tuple[int, int], tuple[str, ...]]
    grid: Mapping[str, tuple[tuple[int, ...], ...]]


@lru_cache(maxsize=32)
def stickers(puzzle: Puzzle) -> Stickers | None:
    """The sticker places of a puzzle; ``None`` where facets are not the six faces of the cuts (shape mods, other solids)."""
    geometry = puzzle.geometry
    if geometry is None:
        return None
    directions = geometry.mechanism.directions
    if set(geometry.facets) != set(TOP) or set(directions) != set(TOP):
        return None
    if any(not np.allclose(geometry.facets[name], directions[name]) for name in TOP):
        return None
    places = tuple((slot, face) for slot, name in enumerate(puzzle.slots) for face in name.partition(".")[0])
    at = {place: i for i, place in enumerate(places)}
    shown = {}
    for slot, kind in enumerate(puzzle.kind_of):
        for piece in kind.places:
            for twist in range(kind.twist):
                shown[slot, int(puzzle.base_label[piece] + twist)] = _paints(puzzle, piece, slot, twist)
    return Stickers(places, at, shown, _grid(puzzle, at))


def _paints(puzzle: Puzzle, piece: int, slot: int, twist: int) -> tuple[str, ...]:
    """The paints that ``piece`` shows in ``slot`` with ``twist``, one for each face that the slot touches."""
    rotation = puzzle.geometry.rotation_of(puzzle.base_label, puzzle.kind_of[slot].twist, piece, slot, twist)
    return tuple(puzzle.geometry.paints[facet_on(puzzle, rotation, face)] for face in puzzle.slots[slot].partition(".")[0])


@lru_cache(maxsize=4096)
def facet_on(puzzle: Puzzle, rotation: int, face: str) -> str:
    """The facet that shows on a face of the cuts once a rotation has taken it there."""
    geometry = puzzle.geometry
    home = geometry.mechanism.directions[face] @ geometry.mechanism.rotations.matrices[rotation]
    return max(geometry.facets, key=lambda name: float(geometry.facets[name] @ home))


def _grid(puzzle: Puzzle, at: Mapping[tuple[int, str], int]) -> dict[str, tuple[tuple[int, ...], ...]]:
    geometry = puzzle.geometry
    directions, grid = geometry.mechanism.directions, {}
    for face, outward in directions.items():
        up = directions[TOP[face]]
        right = np.cross(up, outward)
        cells: dict[float, list[tuple[float, int]]] = {}
        for (slot, named), number in at.items():
            if named == face:
                centre = next(f.centre for f in geometry.bodies[slot].faces if f.facet == face)
                cells.setdefault(round(float(-centre @ up), 6), []).append((float(centre @ right), number))
        grid[face] = tuple(tuple(number for _, number in sorted(row)) for _, row in sorted(cells.items()))
    return grid


def paints_of(puzzle: Puzzle, arrangement: Arrangement) -> tuple[str, ...]:
    """The paint at each sticker place of an arrangement; for puzzles that have sticker places."""
    shown = stickers(puzzle).shown
    labels = puzzle.base_label[list(arrangement.pieces)] + np.array(arrangement.twists)
    return tuple(paint for slot, label in enumerate(labels.tolist()) for paint in shown[slot, label])


def seen_stickers(puzzle: Puzzle, colours: tuple[frozenset[str], ...]) -> Appearance:
    """The appearance with these possible paints at each sticker place; an empty set means that it was not seen."""
    table = stickers(puzzle)
    sights, start = [], 0
    for slot, kind in enumerate(puzzle.kind_of):
        width = len(table.shown[slot, kind.first])
        sights.append(_sight(puzzle, slot, colours[start : start + width]))
        start += width
    return Appearance(puzzle.name, tuple(sights), colours)


@lru_cache(maxsize=20_000)
def _sight(puzzle: Puzzle, slot: int, wanted: tuple[frozenset[str], ...]) -> Sight:
    """The looks that show these possible paints in a slot."""
    shown = stickers(puzzle).shown
    return frozenset(
        int(puzzle.looks[label])
        for label in puzzle.kind_of[slot].labels
        if all(not w or paint in w for paint, w in zip(shown[slot, label], wanted, strict=True))
    )
