"""The ways to hold a puzzle where nothing fixes the holding, as far as its turns and the eye tell them apart; and hands.

What hands could do (`hand_generators`) are label permutations that generate the assembly groups, over whole kinds or over given
sectors.
"""

from collections.abc import Callable

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import holdings, turns_fit_every_holding
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.laws.sectors import Sector, sectors
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


def whole_kinds(puzzle: Puzzle) -> tuple[Sector, ...]:
    """The sectors of the widest set: whole kinds, but for what is no piece, which no hand puts in."""
    return sectors(puzzle, kind_generators(puzzle))


def kind_generators(puzzle: Puzzle) -> list[np.ndarray]:
    """Label permutations that join every kind into one sector: what hands could do."""
    alike, found = lookalikes(puzzle), []
    for kind in puzzle.kinds:
        places = [p for p in kind.places if p not in puzzle.fixed]
        if kind.twist > 1 and places:
            found.append(alike.relabelling({places[0]: (places[0], 1)}))
        found.extend(alike.relabelling({p: (q, 0), q: (p, 0)}) for p, q in zip(places, places[1:], strict=False))
    return found


def hand_generators(puzzle: Puzzle, parts: tuple[Sector, ...]) -> list[np.ndarray]:
    """Label permutations that generate the assembly group over these sectors, copies of a sector moving alike.

    Of each sector a twist, an exchange of two pieces, and all pieces moved on by one.
    """
    found, alike = [], lookalikes(puzzle)
    for sector in parts:
        slots, count = sector.slots, len(sector.slots)
        if sector.twist > 1:
            found.append(alike.relabelling({slots[0]: (slots[0], sector.kind.twist // sector.twist)}))
        first = dict(zip(slots, (sector.labels[:, 0] - puzzle.base_label[list(slots)]).tolist(), strict=True))
        for ring in ([slots[:2]] if count > 1 else []) + ([slots] if count > 2 else []):
            following = zip(ring, (*ring[1:], ring[0]), strict=True)
            found.append(alike.relabelling({p: (q, first[q] - first[p]) for p, q in following}))
    return found
