"""Lookalikes: twins and hidden turns, read off the looks; the group K of relabellings that nobody can see.

A relabelling acts on the left: first exchange the names, then everything that has happened. The explanations
of an appearance that the arrangement s has are the set K s.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import factorial, lcm, prod

import numpy as np

from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.reasoning.laws.sectors import Sector, sectors
from oddswap.values.orbits import gathered
from oddswap.values.position import Appearance, Arrangement


@dataclass(frozen=True)
class TwinFamily:
    """Pieces of one kind that look alike, by home slot, each with the twist at which it looks as the first does.

    ``hidden`` counts the ways round that cannot be told apart: a turn by ``kind.twist // hidden`` steps does not show.
    """

    kind: Kind
    pieces: tuple[int, ...]
    offsets: tuple[int, ...]
    hidden: int

    @property
    def step(self) -> int:
        """The smallest hidden twist; the order of twist itself when every twist shows."""
        return self.kind.twist // self.hidden

    @property
    def order(self) -> int:
        """How many relabellings of this family there are: C_hidden ≀ S_k."""
        return self.hidden ** len(self.pieces) * factorial(len(self.pieces))


@dataclass(frozen=True, eq=False)
class Lookalikes:
    """The families of a puzzle; every piece belongs to exactly one, and so does what is none: blanks and air.

    What is no piece has no name, so that calling it otherwise counts for nothing.
    """

    puzzle: Puzzle
    families: tuple[TwinFamily, ...]

    @cached_property
    def family_of(self) -> dict[int, TwinFamily]:
        return {piece: family for family in self.families for piece in family.pieces}

    @cached_property
    def of_pieces(self) -> tuple[TwinFamily, ...]:
        """The families of pieces."""
        return tuple(family for family in self.families if family.pieces[0] not in self.puzzle.void)

    @property
    def order(self) -> int:
        """The order of K."""
        return prod(family.order for family in self.of_pieces)

    @property
    def twins(self) -> tuple[tuple[int, ...], ...]:
        """Sets of two or more pieces that look alike, by home slot."""
        return tuple(f.pieces for f in self.of_pieces if len(f.pieces) > 1)

    @property
    def hidden_turns(self) -> tuple[int, ...]:
        """The pieces that have hidden turns."""
        return tuple(p for f in self.of_pieces if f.hidden > 1 for p in f.pieces)

    def generators(self, among: frozenset[int] | None = None) -> list[np.ndarray]:
        """Label permutations that generate K; with ``among``, its part that moves only these pieces."""
        found = []
        for family in self.of_pieces:
            members = [p for p in family.pieces if among is None or p in among]
            if family.hidden > 1:
                found.extend(self.relabelling({p: (p, family.step)}) for p in members)
            found.extend(self.exchange(p, q) for p, q in zip(members, members[1:], strict=False))
        return found

    def relabelling(self, images: dict[int, tuple[int, int]]) -> np.ndarray:
        """The label permutation that calls piece p by the name of piece q, twisted by e: ``{p: (q, e)}``."""
        puzzle = self.puzzle
        result = np.arange(puzzle.degree)
        for p, (q, extra) in images.items():
            twist = puzzle.kind_of[p].twist
            way = np.arange(twist)
            result[puzzle.base_label[p] + way] = puzzle.base_label[q] + (way + extra) % twist
        return result

    def exchange(self, p: int, q: int) -> np.ndarray:
        """The exchange of the twins p and q, each so that it looks as the other does."""
        return self.relabelling({p: (q, self.offset(p, q)), q: (p, self.offset(q, p))})

    def offset(self, p: int, q: int) -> int:
        """The twist e such that piece p with twist t + e looks as piece q with twist t does."""
        family = self.family_of[p]
        at = dict(zip(family.pieces, family.offsets, strict=True))
        return (at[p] - at[q]) % family.kind.twist


@lru_cache(maxsize=64)
def lookalikes(puzzle: Puzzle) -> Lookalikes:
    """The families of look-alike pieces, from `Puzzle.looks`.

    >>> import oddswap
    >>> len(oddswap.lookalikes("shape-mod:prism8").hidden_turns)
    10
    """
    families = []
    for kind in puzzle.kinds:
        rows = puzzle.looks[list(kind.labels)].reshape(-1, kind.twist)
        by_looks = gathered(range(len(rows)), lambda i, rows=rows: frozenset(rows[i].tolist()))
        for looks, members in by_looks.items():
            model = rows[members[0]]
            offsets = [int((rows[i] == model[0]).argmax()) for i in members]
            families.append(TwinFamily(kind, tuple(kind.start + i for i in members), tuple(offsets), kind.twist // len(looks)))
    return Lookalikes(puzzle, tuple(families))


def within(alike: Lookalikes, parts: Sequence[Sector]) -> Lookalikes:
    """The lookalikes whose exchange keeps every label in its sector: families are split where the turns split kinds."""
    sector_of = {slot: sector for sector in parts for slot in sector.slots}
    puzzle, families = alike.puzzle, []
    for family in alike.families:
        found: dict[tuple[int, int], list[tuple[int, int]]] = {}
        twist = family.kind.twist
        for piece, offset in zip(family.pieces, family.offsets, strict=True):
            sector = sector_of[piece]
            apart = twist // sector.twist
            first = int(sector.labels[sector.slots.index(piece), 0] - puzzle.base_label[piece])
            same = [(offset + family.step * h) % twist for h in range(family.hidden)]
            nearest = min(same, key=lambda t, first=first, apart=apart: ((t + first) % apart, t))
            found.setdefault((sector.slots[0], (nearest + first) % apart), []).append((piece, nearest))
        for (slot, _), members in found.items():
            step = lcm(family.step, twist // sector_of[slot].twist)
            pieces, offsets = zip(*members, strict=True)
            families.append(TwinFamily(family.kind, pieces, offsets, twist // step))
    return Lookalikes(puzzle, tuple(families))


def first_sight(puzzle: Puzzle, appearance: Appearance) -> tuple[Arrangement, frozenset[int]] | None:
    """One first-sight explanation of a complete appearance, and the pieces that it displaces.

    The whole set of first-sight explanations is that arrangement under the relabellings of these pieces. ``None`` when no
    assembly of the puzzle's pieces looks like this.
    """
    alike, looks, every = lookalikes(puzzle), appearance.looks, puzzle.looks.tolist()
    labels = puzzle.base_label.tolist()
    pieces = [slot if look == every[labels[slot]] else -1 for slot, look in enumerate(looks)]
    twists = [0] * len(looks)
    for family in alike.families:
        ways = range(family.kind.twist)
        shown = {every[labels[family.pieces[0]] + t] for t in ways}
        free = [p for p in family.pieces if pieces[p] != p]
        for slot in family.kind.places:
            if pieces[slot] >= 0 or looks[slot] not in shown:
                continue
            if not free:
                return None
            pieces[slot] = piece = free.pop(0)
            twists[slot] = next(t for t in ways if every[labels[piece] + t] == looks[slot])
    arrangement = Arrangement(puzzle.name, tuple(pieces), tuple(twists))
    return arrangement, frozenset(pieces[slot] for slot in arrangement.displaced())


def surplus(puzzle: Puzzle, appearance: Appearance) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Pieces seen more often than the puzzle has them, and pieces never seen: ``(too many, missing)`` home slots.

    Only certain sights count. For lookalikes the family's first piece stands for all.
    """
    too_many, missing = [], []
    for family in lookalikes(puzzle).families:
        looks = {int(puzzle.looks[puzzle.base_label[family.pieces[0]] + t]) for t in range(family.kind.twist)}
        sights = [appearance.sights[slot] for slot in family.kind.places]
        count = sum(len(sight) == 1 and sight <= looks for sight in sights)
        if count > len(family.pieces):
            too_many.append(family.pieces[0])
        elif count < len(family.pieces):
            missing.append(family.pieces[0])
    return tuple(too_many), tuple(missing)


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
