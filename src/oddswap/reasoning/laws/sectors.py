"""Sectors: what one orbit of labels under the turns looks like, and the two quantities that each has.

A sector is a set of n slots among which the turns move pieces freely, with the m ways round that they really use; its
assembly group is the wreath product C_m ≀ S_n. With the widest turns a sector is a kind; fewer turns may split a kind.
Each sector has a *sign* (of how its pieces are rearranged) and a *twist sum* mod m. Of such quantities `Law` speaks; each kind
of law has a file of its own.

In coarser looks (`by_orbits`) a piece shows only its orbit under some of the turns: what these turns can never change.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from math import factorial
from typing import ClassVar, dataclass_transform

import numpy as np

from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.values.orbits import orbit_labels
from oddswap.values.permutation import sign


@dataclass(frozen=True)
class Sector:
    """``labels`` (n, m): row i holds the labels of its i-th slot, in the order of twist; ``slots`` their numbers.

    ``whole``: the sector is its whole kind (but for what is no piece, or placed by the shape).
    """

    kind: Kind
    slots: tuple[int, ...]
    labels: np.ndarray = field(compare=False)
    whole: bool

    @property
    def twist(self) -> int:
        return self.labels.shape[1]

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its slots."""
        return tuple(self.kind.slots[slot - self.kind.start] for slot in self.slots)

    def among(self, slots: Collection[int]) -> "Sector":
        """The part of it in some slots."""
        rows = [row for row, slot in enumerate(self.slots) if slot in slots]
        return replace(self, slots=tuple(self.slots[row] for row in rows), labels=self.labels[rows])

    @property
    def signed(self) -> bool:
        """Whether its sign is a quantity of its own."""
        return len(self.slots) > 1

    def kept(self, permutation: np.ndarray) -> bool:
        """Whether its quantities have a sense at a label permutation that keeps every sector."""
        return True

    @cached_property
    def place(self) -> dict[int, tuple[int, int]]:
        """For each of its labels the row (slot) and column (twist)."""
        return {int(label): divmod(k, self.twist) for k, label in enumerate(self.labels.ravel())}

    @property
    def assembly_order(self) -> int:
        """The order of C_m ≀ S_n."""
        return self.twist ** len(self.slots) * factorial(len(self.slots))


@dataclass(frozen=True)
class Measure:
    """One quantity: the ``sign`` (0 even, 1 odd) or the ``twist`` sum of a sector, counted modulo ``modulus``.

    Kinds of law may speak of something else (see `Law`); ``modulus`` is ``None`` for what is no number.
    """

    sector: Sector
    what: str
    modulus: int | None

    def value(self, permutation: np.ndarray) -> int | None:
        """From 0 to ``modulus - 1`` at a label permutation that keeps every sector; ``None`` where it has no sense."""
        if not self.sector.kept(permutation):
            return None
        images = [self.sector.place[label] for label in permutation[self.sector.labels[:, 0]].tolist()]
        if self.what == "sign":
            return int(sign([i for i, _ in images]) != 1)
        return sum(t for _, t in images) % self.modulus


def sectors(puzzle: Puzzle, generators: Iterable[np.ndarray]) -> tuple[Sector, ...]:
    """The sectors of the group that ``generators`` (label permutations) generate, in the order of the slots.

    The generators commute with twisting every piece of a kind alike, so that the label orbits over one orbit of
    slots are copies of each other; the one through twist 0 of its first slot stands for all.
    """
    orbit_of = orbit_labels(list(generators), puzzle.degree)
    found, done = [], set()
    for kind in puzzle.kinds:
        for number in kind.places:
            if number in done:
                continue
            orbit = orbit_of[puzzle.base_label[number]]
            inside = [label for label in kind.labels if orbit_of[label] == orbit]
            rows: dict[int, list[int]] = {}
            for label in inside:
                rows.setdefault(kind.start + (label - kind.first) // kind.twist, []).append(label)
            done.update(rows)
            labels = np.array(list(rows.values()))
            free = sum(place not in puzzle.fixed for place in kind.places)
            whole = number in puzzle.fixed or labels.size == free * kind.twist
            found.append(Sector(kind, tuple(rows), labels, whole))
    return tuple(found)


def measures(parts: Iterable[Sector]) -> tuple[Measure, ...]:
    """Every quantity that is not constant: a sign from two slots on, a twist sum from two ways round on."""
    sums = (Measure(s, what, m) for s in parts for what, m in (("sign", 2 if s.signed else 1), ("twist", s.twist)))
    return tuple(each for each in sums if each.modulus > 1)


def measure(parts: Iterable[Measure], permutation: np.ndarray) -> tuple[int, ...]:
    """The values of measures at a label permutation that keeps every sector.

    Moves and arrangements multiply; these values add. A quantity that has no sense there counts as 0.
    """
    return tuple(part.value(permutation) or 0 for part in parts)


def keeps(parts: Iterable[Sector], permutation: np.ndarray) -> bool:
    """Whether a label permutation keeps all sectors (the orbit law)."""
    return all(label in sector.place for sector in parts for label in permutation[sector.labels[:, 0]].tolist())


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


@forwarded
@dataclass_transform(frozen_default=True)
class Law:
    """A law, which is a frozen value; two are equal that speak alike of the same slots.

    ``type`` is sign, twist, mixed, pairing, orbit or other. ``modulus`` is what its quantity counts to; ``None`` where that is no
    number. ``seen`` says whether no exchange of lookalikes changes it, so that a broken law can be seen.
    """

    type: str = "other"
    modulus: int | None
    seen: bool
    additive: ClassVar[bool] = False
    """Whether its quantity adds as moves follow each other."""
    alone: ClassVar[bool] = False
    """Whether the others have no sense where it is broken."""

    def __init_subclass__(cls) -> None:
        dataclass(frozen=True, eq=False, repr=False)(cls)

    @property
    def terms(self) -> tuple[tuple[int, Measure], ...]:
        """What it speaks of, each with how often that counts."""
        raise NotImplementedError

    def value(self, permutation: np.ndarray) -> int:
        """Its quantity at a label permutation that keeps every sector: 0 where the law is kept, or has no sense."""
        raise NotImplementedError

    def touched_by(self, permutation: np.ndarray) -> bool:
        """Whether a label permutation changes the law's quantity or its sense."""
        return bool(self.value(permutation)) or any(part.value(permutation) is None for _, part in self.terms if part.modulus)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Law) and (self.type, self.modulus, self.terms) == (other.type, other.modulus, other.terms)

    def __hash__(self) -> int:
        return hash((self.type, self.modulus, self.terms))
