"""Coarser looks, in which a piece shows only its orbit under some of the turns: what these turns can never change."""

from dataclasses import replace
from functools import lru_cache

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.sectors import sectors


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
