"""The shapes around home as a map: one place for all shapes that a symmetry takes to each other, and the turns between places.

What the symmetries call the turns takes a way from home to another way from home, and so a shape to a shape. A symmetry counts
only if it takes every turn between the shapes of the map to such a turn: whatever else decides the turns, it keeps that as well.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from oddswap.errors import BadOption
from oddswap.puzzles.base.shape_tree import STAGES, Shapes, around_home
from oddswap.puzzles.base.shapes import Shaped
from oddswap.reasoning.teaching.toolbox import symmetric_names

MOST = 60
"""So many places can still be read."""


@dataclass(frozen=True)
class MapPlace:
    """One shape for all that are ``alike``: its number among the `Shapes`, how many turns it is from home, and such turns."""

    shape: int
    level: int
    word: tuple[str, ...]
    alike: int


@dataclass(frozen=True, eq=False)
class ShapeMap:
    """The places, the nearest to home first; ``parents[i]`` is the place before i on its way from home (of home, itself).

    ``links[a, b]`` are the turns that lead from the shape of place a to one like that of place b.
    """

    shapes: Shapes
    places: tuple[MapPlace, ...]
    parents: tuple[int, ...]
    links: Mapping[tuple[int, int], tuple[str, ...]]


def shape_map(puzzle: Shaped, levels: int) -> ShapeMap:
    """The map of all shapes that are at most so many turns from home. `BadOption` for too many places.

    >>> from oddswap.puzzles.catalogue import load
    >>> found = shape_map(load("cuboid:1x3x3,turns=all"), 2)
    >>> [(" ".join(place.word), place.alike) for place in found.places]
    [('', 1), ('U', 4), ('U D', 2), ('U F', 16), ('U F2', 8), ('U LL', 16), ('U LL2', 8)]
    """
    shapes, names = around_home(puzzle, STAGES[0]), list(puzzle.turns)
    level = np.repeat(np.arange(len(shapes.levels)), shapes.levels)
    kept = int((level <= levels).sum())
    after, can = puzzle.arrows(shapes.rows[:kept])
    there = np.where(can, [shapes.find(rows) for rows in after], -1)
    there[there >= kept] = -1
    first = _alike(puzzle, shapes, there)
    places, parents, number = [MapPlace(0, 0, (), 1)], [0], {0: 0}
    for here, place in enumerate(places):
        for turn, reached in zip(names, there[:, place.shape].tolist(), strict=True):
            if reached >= 0 and first[reached] not in number:
                number[first[reached]] = len(places)
                alike = int((first == first[reached]).sum())
                places.append(MapPlace(reached, int(level[reached]), (*place.word, turn), alike))
                parents.append(here)
    if len(places) > MOST:
        reason = f"{len(places)} shapes are too many for one map, which has room for {MOST}: ask for fewer than {levels} levels"
        raise BadOption(reason)
    links: dict[tuple[int, int], tuple[str, ...]] = {}
    for here, place in enumerate(places):
        for turn, reached in zip(names, there[:, place.shape].tolist(), strict=True):
            if reached >= 0:
                pair = here, number[first[reached]]
                links[pair] = (*links.get(pair, ()), turn)
    return ShapeMap(shapes, tuple(places), tuple(parents), links)


def _alike(puzzle: Shaped, shapes: Shapes, there: np.ndarray) -> np.ndarray:
    """For each shape the first to which a symmetry takes it; ``there`` (turns, n) says where each turn leads, or -1."""
    names, first = list(puzzle.turns), np.arange(there.shape[1])
    for called in symmetric_names(puzzle):
        to = np.array([names.index(called[name]) for name in names])
        image = np.zeros_like(first)
        for i in range(1, len(first)):
            image[i] = there[to[shapes.turns[i]], image[shapes.parents[i]]]
        if image.min() >= 0 and (np.where(there >= 0, image[there], -1) == there[to][:, image]).all():
            first = np.minimum(first, image)
    return first
