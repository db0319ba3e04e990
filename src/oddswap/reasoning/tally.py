"""The tally of a sequence: every law's quantity after every move."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.law_kinds import TeamLaw
from oddswap.reasoning.laws import law_book
from oddswap.reasoning.pairings import rotation_of
from oddswap.reasoning.sectors import Coordinate, Sector, measure
from oddswap.reasoning.statements import parts_name, sector_name
from oddswap.reasoning.teams import Teams
from oddswap.values.arrangement import Arrangement
from oddswap.values.sequence import Sequence

NO_SENSE = "–"
"""What stands for a quantity of teams where the teams themselves are broken."""


@dataclass(frozen=True)
class Quantity:
    """Something that laws speak of: one coordinate, or the sum of the twists of single slots of one family."""

    name: str
    parts: tuple[Coordinate, ...]
    modulus: int

    def shown(self, permutation: np.ndarray) -> str:
        """``even`` or ``odd`` for a sign, else the number, at a label permutation that keeps every sector."""
        if not all(part.sector.kept(permutation) for part in self.parts):
            return NO_SENSE
        value = sum(measure(self.parts, permutation)) % self.modulus
        return ("even", "odd")[value] if self.parts[0].what == "sign" else str(value)


@dataclass(frozen=True)
class PairingQuantity:
    """What happens to the three ways in which four slots fall into two pairs (or to three slots)."""

    name: str
    sector: Sector

    def shown(self, permutation: np.ndarray) -> str:
        if not self.sector.kept(permutation):
            return NO_SENSE
        s, t = rotation_of(self.sector, permutation)
        return ("stay", "go round", "go back")[t] if s == 1 else "two change"


@dataclass(frozen=True)
class TeamQuantity:
    """How many teams go elsewhere."""

    name: str
    teams: Teams

    def shown(self, permutation: np.ndarray) -> str:
        if not self.teams.kept(permutation):
            return NO_SENSE
        heads = enumerate(self.teams.labels[:, 0])
        moved = [row for row, label in heads if self.teams.place[int(permutation[label])] != (row, 0)]
        return f"{len(moved)} move" if moved else "stay"


def quantities(puzzle: Puzzle) -> tuple[Quantity | PairingQuantity | TeamQuantity, ...]:
    """What the laws of a puzzle speak of, in the order in which they do; orbits and groups by name have no quantity."""
    laws = law_book(puzzle).laws
    gathered: dict[tuple, list[Coordinate]] = {}
    for part in (part for law in laws for part in getattr(law, "parts", getattr(law, "twists", ()))):
        kind = part.sector.kind
        alone = len(kind.slots) == 1
        key = (part.what, kind.family, part.modulus) if alone else (part.what, part.sector.slots)
        if part not in gathered.setdefault(key, []):
            gathered[key].append(part)
    plain = [Quantity(parts_name(parts), tuple(parts), parts[0].modulus) for parts in gathered.values()]
    tied = dict.fromkeys(sector for law in laws if law.type == "pairing" for sector in law.sectors)
    teams = [TeamQuantity(law.name, law.teams) for law in laws if isinstance(law, TeamLaw)]
    return (*teams, *plain, *(PairingQuantity(f"pairs of {sector_name(sector)}", sector) for sector in tied))


@dataclass(frozen=True)
class Tally:
    """``moves`` (n names); ``laws`` (names) with one row of ``values`` each; ``parts`` (names) with ``part_values``.

    Rows have n + 1 entries: at the start, and after each move. A law's row never changes; what it is made of does.
    """

    moves: tuple[str, ...]
    laws: tuple[str, ...]
    values: tuple[tuple[str, ...], ...]
    parts: tuple[str, ...]
    part_values: tuple[tuple[str, ...], ...]

    def in_full(self) -> Tally:
        """The same with a row for each quantity before the rows of the laws, which are called so."""
        names = (*self.parts, *(f"law: {name}" for name in self.laws))
        return Tally(self.moves, names, self.part_values + self.values, (), ())


def tally(puzzle: Puzzle, moves: str | Sequence, start: Arrangement | None = None) -> Tally:
    """The tally of ``moves`` from an arrangement (solved when left out).

    >>> from oddswap.puzzles.catalogue import load
    >>> table = tally(load("cube:2"), "R U")
    >>> table.moves, table.laws, table.values
    (('R', 'U'), ('twists of corners',), (('0', '0', '0'),))
    """
    laws, counted = law_book(puzzle).laws, quantities(puzzle)
    turns = puzzle.settled(moves, start)[0]
    images = [puzzle.permutation(start or puzzle.solved)]
    for turn in turns:
        images.append(turn.permutation[images[-1]])
    homes = [puzzle.homed(image) for image in images]
    return Tally(
        tuple(turn.name for turn in turns),
        tuple(law.name for law in laws),
        tuple(tuple(str(law.value(home)) for home in homes) for law in laws),
        tuple(quantity.name for quantity in counted),
        tuple(tuple(q.shown(home) for home in homes) for q in counted),
    )


def move_table(puzzle: Puzzle, permutations: Iterable[np.ndarray]) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """What each move adds to each quantity that the laws speak of: ``(names of quantities, a row for each move)``."""
    counted = quantities(puzzle)
    return tuple(q.name for q in counted), tuple(tuple(q.shown(move) for q in counted) for move in permutations)
