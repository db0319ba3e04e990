"""The tally of a sequence: every law's quantity after every move."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.sectors import Law, Measure
from oddswap.values.position import Arrangement
from oddswap.values.sequence import Sequence

Values = tuple[int | None, ...]
"""What is counted at one time after another; ``None`` where it has no sense, as teams are broken or a box is out of its shape."""


@forwarded
@dataclass(frozen=True)
class Quantity:
    """Something that laws speak of: one coordinate, or the sum of the twists of single slots of one family."""

    parts: tuple[Measure, ...]

    @property
    def what(self) -> str:
        return self.parts[0].what

    def value(self, permutation: np.ndarray) -> int | None:
        """Its value at a label permutation that keeps every sector; ``None`` where it has no sense."""
        values = [part.value(permutation) for part in self.parts]
        return None if None in values else sum(values) % self.parts[0].modulus


Counted = Quantity | Law


def quantities(puzzle: Puzzle) -> tuple[Quantity, ...]:
    """What the laws of a puzzle speak of: teams, signs and twists, pairings; orbits and groups have no quantity."""
    gathered: dict[tuple, list[Measure]] = {}
    for part in (part for law in law_book(puzzle).laws for _, part in law.terms if part.modulus):
        kind = part.sector.kind
        alone = len(kind.slots) == 1
        key = (part.what, kind.family, part.modulus) if alone else (part.what, part.sector.slots)
        if part not in gathered.setdefault(key, []):
            gathered[key].append(part)
    return tuple(Quantity(tuple(parts)) for parts in gathered.values())


@dataclass(frozen=True)
class Tally:
    """``moves`` (n names); ``laws`` with one row of ``values`` each; ``parts``, what they are made of, with ``part_values``.

    Rows have n + 1 entries: at the start, and after each move. A law's row never changes; what it is made of does.
    """

    moves: tuple[str, ...]
    laws: tuple[Counted, ...]
    values: tuple[Values, ...]
    parts: tuple[Counted, ...]
    part_values: tuple[Values, ...]

    def in_full(self) -> Tally:
        """The same with a row for each quantity before the rows of the laws."""
        return Tally(self.moves, (*self.parts, *self.laws), self.part_values + self.values, (), ())


def tally(puzzle: Puzzle, moves: str | Sequence, start: Arrangement | None = None) -> Tally:
    """The tally of ``moves`` from an arrangement (solved when left out).

    >>> from oddswap import load
    >>> table = tally(load("cube:2"), "R U")
    >>> table.moves, [law.name for law in table.laws], table.values
    (('R', 'U'), ['twists of corners'], ((0, 0, 0),))
    """
    book, counted = law_book(puzzle), quantities(puzzle)
    turns = puzzle.settled(moves, start)[0]
    images = [puzzle.permutation(start or puzzle.solved)]
    for turn in turns:
        images.append(turn.permutation[images[-1]])
    homes = [_at_home(puzzle, book.best_held(image)) for image in images]
    rows = [[tuple(None if home is None else row.value(home) for home in homes) for row in rows] for rows in (book.laws, counted)]
    return Tally(tuple(turn.name for turn in turns), book.laws, tuple(rows[0]), counted, tuple(rows[1]))


def _at_home(puzzle: Puzzle, image: np.ndarray) -> np.ndarray | None:
    """A label permutation with the blank taken home; ``None`` where another shape is not at home, and laws have no sense."""
    away = puzzle.shape_first and (puzzle.shape_of(image) != puzzle.shape_of(np.arange(len(image)))).any()
    return None if away else puzzle.homed(image)
