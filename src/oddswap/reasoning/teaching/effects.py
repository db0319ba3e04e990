"""What a sequence does: which pieces it moves in circles, and which it turns in their places."""

from collections import Counter
from dataclasses import dataclass

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.finding import Finding
from oddswap.reasoning.ways.commutators import shows
from oddswap.values.permutation import cycles
from oddswap.values.sequence import Sequence


@dataclass(frozen=True, order=True)
class Deed:
    """``count`` circles of ``length`` pieces of a family; of length 1, pieces of order ``twist`` that turn in their places."""

    family: str
    length: int
    twist: int
    count: int


class Effect(Finding, order=True):
    """What a sequence does to the pieces of each family; nothing that shows where there are no deeds."""

    deeds: tuple[Deed, ...]

    @property
    def pieces(self) -> int:
        """How many pieces it changes."""
        return sum(deed.length * deed.count for deed in self.deeds)


def effect_of(puzzle: Puzzle, permutation: np.ndarray) -> Effect:
    """What a label permutation does to the kinds that show more than one look, family by family."""
    deeds: dict[str, Counter] = {}
    for kind in (kind for kind in puzzle.kinds if shows(puzzle, kind)):
        images = permutation[puzzle.base_label[list(kind.places)]] - kind.first
        slots, twists = np.divmod(images, kind.twist)
        counts = deeds.setdefault(kind.family, Counter())
        counts.update((len(circle), 0) for circle in cycles(slots.tolist()))
        counts[1, kind.twist] += int(((slots == np.arange(len(slots))) & (twists > 0)).sum())
    return Effect(
        tuple(
            Deed(family, length, twist, count)
            for family, counts in deeds.items()
            for (length, twist), count in sorted(counts.items(), key=lambda item: (item[0][0] == 1, item[0]))
            if count
        )
    )


def effect_of_turns(puzzle: Puzzle, moves: str | Sequence) -> Effect:
    """What a sequence does.

    >>> from oddswap.puzzles.catalogue import load
    >>> effect_of_turns(load("cube:3"), "[R U R', D]").deeds
    (Deed(family='corners', length=3, twist=0, count=1),)
    """
    return effect_of(puzzle, image_of_turns(puzzle, moves))


def image_of_turns(puzzle: Puzzle, moves: str | Sequence) -> np.ndarray:
    """The label permutation of a sequence as seen from the core, shape (degree,)."""
    image = np.arange(puzzle.degree)
    for turn in puzzle.settled(moves)[0]:
        image = turn.permutation[image]
    return image
