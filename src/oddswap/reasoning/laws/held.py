"""The ways to hold a puzzle where nothing fixes the holding, as far as its turns and the eye tell them apart."""

from collections.abc import Callable

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import holdings, turns_fit_every_holding
from oddswap.values.orbits import orbit_labels

LeadsTo = Callable[[np.ndarray], bool]
"""Whether the puzzle's group contains a label permutation."""


def holdings_apart(puzzle: Puzzle, leads_to: LeadsTo) -> tuple[np.ndarray, ...]:
    """One of all holdings between which the puzzle's group leads, as label permutations; as it is held comes first."""
    if turns_fit_every_holding(puzzle) and not puzzle.chosen:
        return (np.arange(puzzle.degree),)
    found: list[np.ndarray] = []
    for _, rotation in holdings(puzzle):
        if not any(leads_to(np.argsort(other)[rotation]) for other in found):
            found.append(rotation)
    return tuple(found)


def is_held_visibly(puzzle: Puzzle, leads_to: LeadsTo) -> bool:
    """Whether no reachable appearance looks the same in another holding, nor as a reachable one does in a holding to which the
    group does not lead: as far as a piece shows it that looks like no other, or pieces alike that would show elsewhere.

    >>> from oddswap.puzzles.catalogue import load
    >>> is_held_visibly(load("cube:2"), lambda rotation: True)
    True
    """
    orbit = orbit_labels(np.reshape(puzzle.generators, (-1, puzzle.degree)), puzzle.degree)
    shown = [(kind.first, puzzle.looks[kind.labels]) for kind in puzzle.kinds]
    alike = [first + np.flatnonzero(looks == look) for first, looks in shown for look in np.unique(looks)]
    places = [np.flatnonzero(np.isin(orbit, orbit[labels])) for labels in alike]
    of_one = [where for where, labels in zip(places, alike, strict=True) if len(labels) == 1]

    def shows(rotation: np.ndarray) -> bool:
        if leads_to(rotation):
            return any((rotation[where] != where).all() for where in of_one)
        return any(np.isin(rotation[where], where, invert=True).all() for where in places)

    return all(shows(rotation) for _, rotation in holdings(puzzle)[1:])
