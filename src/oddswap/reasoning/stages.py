"""Going home in two stages, through a smaller set of turns.

First every label is brought into its orbit under the smaller set: that is a search on coarser looks, in which a piece
shows only the orbit that it belongs to. Then the smaller set of turns finishes. Each stage is proved shortest by itself;
the whole is not.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.search import Budget, Progress, find_way
from oddswap.reasoning.sectors import sectors
from oddswap.values.arrangement import Arrangement


@dataclass(frozen=True)
class Stage:
    """One stage: what it is for, its turns, and which turns it was allowed."""

    words: str
    turns: tuple[str, ...]
    allowed: tuple[str, ...]


@lru_cache(maxsize=16)
def by_orbits(puzzle: Puzzle, turns: tuple[str, ...]) -> Puzzle:
    """The puzzle on which a piece shows only its orbit under ``turns``; kinds that show one look go on doing so.

    >>> from oddswap.puzzles.catalogue import load
    >>> coarse = by_orbits(load("cube:3"), ("U", "D", "F2", "B2", "L2", "R2"))
    >>> [len(set(coarse.looks[list(kind.labels)].tolist())) for kind in coarse.kinds[:2]]
    [3, 4]
    """
    parts = sectors(puzzle, [puzzle.turns[name].permutation for name in turns])
    looks = np.zeros_like(puzzle.looks)
    for kind in puzzle.kinds:
        labels = list(kind.labels)
        if len(set(puzzle.looks[labels].tolist())) == 1:
            continue
        numbers: dict[tuple[int, int], int] = {}
        for sector in (part for part in parts if part.kind is kind):
            apart = kind.twist // sector.twist
            for row, slot in enumerate(sector.slots):
                base = puzzle.base_label[slot]
                first = int(sector.labels[row, 0] - base)
                for t in range(kind.twist):
                    key = (sector.slots[0], (t + first) % apart)
                    looks[base + t] = numbers.setdefault(key, len(numbers))
    looks.setflags(write=False)
    return replace(puzzle, name=f"{puzzle.name} by orbits", looks=looks)


def through(
    puzzle: Puzzle,
    explanation: Arrangement,
    inner: Iterable[str],
    budget: Budget | None = None,
    progress: Progress | None = None,
) -> tuple[Stage, ...] | None:
    """The two stages home through the turns ``inner``; ``None`` when the budget ends first.

    ``explanation`` is a reachable arrangement; the last stage looks for what is seen, so lookalikes help it.
    """
    budget = budget or Budget()
    generators = tuple(inner)
    allowed = tuple(name for name in puzzle.turns if _made_by(name, generators))
    coarse = by_orbits(puzzle, generators)
    start = Arrangement(coarse.name, explanation.pieces, explanation.twists)
    first = find_way(coarse, coarse.appearance(start), budget=budget, progress=progress)
    if first.turns is None:
        return None
    between = puzzle.follow(" ".join(first.turns), explanation)
    last = find_way(puzzle, puzzle.appearance(between), turns=allowed, budget=budget, progress=progress)
    if last.turns is None:
        return None
    return (
        Stage("bring every piece among its own, the right way round", first.turns, tuple(puzzle.turns)),
        Stage(f"finish with {' '.join(generators)} alone", last.turns, allowed),
    )


def _made_by(name: str, generators: tuple[str, ...]) -> bool:
    """Whether repeating one of the generators gives the turn of this name."""
    return name in generators or name.rstrip("2'") in generators
