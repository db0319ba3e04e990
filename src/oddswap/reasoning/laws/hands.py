"""What hands could do: label permutations that generate the assembly groups, over whole kinds or over given sectors."""

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.laws.sectors import Sector, sectors


def whole_kinds(puzzle: Puzzle) -> tuple[Sector, ...]:
    """The sectors of the widest set: whole kinds, but for the blank, which no hand puts in as a piece."""
    return sectors(puzzle, kind_generators(puzzle))


def kind_generators(puzzle: Puzzle) -> list[np.ndarray]:
    """Label permutations that join every kind into one sector: what hands could do."""
    alike, found = lookalikes(puzzle), []
    for kind in puzzle.kinds:
        places = [p for p in kind.places if p != puzzle.blank]
        if kind.twist > 1:
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
