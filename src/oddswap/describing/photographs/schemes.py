"""Which colour of a copy is which paint, where nobody said: by what stays in its place and by which pieces there are.

It is an inference and has to be shown for a yes. What turns can do is not asked.
"""

from itertools import permutations

import numpy as np

from oddswap.describing.photographs.outside import Outside
from oddswap.errors import BadPhotograph
from oddswap.puzzles.base.puzzle import Puzzle

MOST = 7
"""So many colours, at most, may be left to the pieces."""
TIED = 1.0
"""Schemes whose worth, as a logarithm, differs by less cannot be told apart."""


def steady(solid: Outside) -> dict[int, int]:
    """The number of the paint that a place always shows, where it does."""
    fixed = {}
    for slot, numbers in enumerate(solid.at):
        for column, number in enumerate(numbers):
            if len(shown := np.unique(solid.shown[slot][:, column])) == 1:
                fixed[number] = int(shown[0])
    return fixed


def named(puzzle: Puzzle, solid: Outside, odds: np.ndarray, known: dict[int, int]) -> list[int]:
    """The paint of each colour; ``odds`` (places, colours) are what facets show, and those ``known`` stay. `BadPhotograph`."""
    count, paints = odds.shape[1], len(solid.paints)
    free = [c for c in range(count) if c not in known]
    left = [p for p in range(paints) if p not in known.values()]
    if len(left) > MOST:
        raise BadPhotograph(f"which of {len(left)} colours is which side's cannot be told: name them under [colours]")
    if not free:
        return [known[colour] for colour in range(count)]
    ways = np.array(list(permutations(left, len(free))))
    schemes = np.zeros((len(ways), count), int)
    schemes[:, list(known)], schemes[:, free] = list(known.values()), ways
    likely = np.full((len(ways), len(odds), paints + 1), -4.0)
    safe = np.log(np.maximum(odds, np.exp(-4.0)))
    for colour in range(count):
        likely[np.arange(len(ways)), :, schemes[:, colour]] = safe[:, colour]
    worth = np.zeros(len(ways))
    for slot, numbers in enumerate(solid.at):
        seen = [column for column, number in enumerate(numbers) if odds[number].any()]
        if len(seen) > 1:
            shown = np.unique(solid.shown[slot][:, seen], axis=0)
            worth += likely[:, np.array(numbers)[seen], shown].sum(axis=2).max(axis=1)
    best = np.flatnonzero(worth > worth.max() - TIED)
    alike = len(puzzle.geometry.mechanism.rotations.matrices) if puzzle.rotations else 1
    if len(best) > alike:
        raise BadPhotograph("the photographs do not show which colour is which side's: name the colours under [colours]")
    return schemes[best[0]].tolist()
