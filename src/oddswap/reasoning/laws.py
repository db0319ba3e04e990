"""The laws of a puzzle: quantities that no allowed move changes, read off the moves, and proved complete.

Method. Every sector (see `sectors`) has a sign and a twist sum. The image of the turns in the product Q of what the
sectors have is computed exactly; a *law* is a character of Q that is trivial on it, found by linear algebra modulo prime
powers. Certificate: ``|A| * |image| / |Q|`` can only be too large for the group's order, the order from a randomised
stabiliser chain can only be too small; where they agree, the laws are proved complete, and the order with them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import gcd, prod

import numpy as np

from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.groups import StabiliserChain
from oddswap.reasoning.lookalikes import lookalikes
from oddswap.reasoning.modular import relations
from oddswap.reasoning.sectors import Coordinate, Sector, coordinates, keeps, measure, sectors
from oddswap.reasoning.statements import law_name, law_statement
from oddswap.values.arrangement import Arrangement


@dataclass(frozen=True, eq=False)
class Law:
    """``sum(weights * coordinates) = 0 (mod modulus)`` at everything that the turns reach from solved.

    ``type`` is sign, twist or mixed; ``seen`` says whether no exchange of lookalikes changes it, so that a broken
    law can be seen.
    """

    parts: tuple[Coordinate, ...]
    weights: tuple[int, ...]
    modulus: int
    seen: bool

    @property
    def type(self) -> str:
        whats = {part.what for part in self.parts}
        return whats.pop() if len(whats) == 1 else "mixed"

    @property
    def name(self) -> str:
        return law_name(self)

    @property
    def statement(self) -> str:
        """The law as one sentence in plain words."""
        return law_statement(self)

    def value(self, permutation: np.ndarray) -> int:
        """The law's quantity, from 0 (kept) to ``modulus - 1``, at a label permutation."""
        values = measure(self.parts, permutation)
        return sum(w * v for w, v in zip(self.weights, values, strict=True)) % self.modulus


@dataclass(frozen=True, eq=False)
class LawBook:
    """A puzzle's laws with their certificate.

    ``order`` counts the arrangements that the turns reach, ``assembly_order`` those that a hand could put together over
    the turns' own label orbits, ``wide_order`` over whole kinds. ``unexplained`` is the factor between what the laws
    allow and what the turns reach: 1 when ``complete``.
    """

    puzzle: Puzzle
    sectors: tuple[Sector, ...]
    laws: tuple[Law, ...]
    assembly_order: int
    wide_order: int
    allowed: int
    chain: StabiliserChain

    @property
    def order(self) -> int:
        return self.chain.order

    @property
    def complete(self) -> bool:
        return self.chain.order == self.allowed

    @property
    def unexplained(self) -> int:
        return self.allowed // self.chain.order

    @property
    def index(self) -> int:
        return self.assembly_order // self.order

    @property
    def index_wide(self) -> int:
        return self.wide_order // self.order

    @cached_property
    def seen_index(self) -> int:
        """How many classes of assemblies can be told apart by looking: K\\A/G."""
        return _count(self.sectors, [*self.puzzle.generators, *lookalikes(self.puzzle).generators()])

    @property
    def appearances(self) -> int:
        """How many appearances the turns reach: |G| / |G ∩ K|."""
        return self.assembly_order // (self.seen_index * lookalikes(self.puzzle).order)

    def values(self, arrangement: Arrangement) -> tuple[int, ...]:
        """Each law's quantity at an arrangement that keeps every sector."""
        permutation = self.puzzle.permutation(arrangement)
        return tuple(law.value(permutation) for law in self.laws)

    def broken(self, arrangement: Arrangement) -> tuple[Law, ...]:
        """The laws that an arrangement breaks."""
        return tuple(law for law, value in zip(self.laws, self.values(arrangement), strict=True) if value)

    def reaches(self, arrangement: Arrangement) -> bool:
        """Whether the turns lead from solved to exactly this arrangement, labels and all."""
        permutation = self.puzzle.permutation(arrangement)
        if keeps(self.sectors, permutation) is not None or any(law.value(permutation) for law in self.laws):
            return False
        return self.complete or self.chain.contains(permutation)


@lru_cache(maxsize=32)
def law_book(puzzle: Puzzle) -> LawBook:
    """All laws of a puzzle that are characters of signs and twist sums, with the certificate.

    >>> from oddswap.puzzles.catalogue import load
    >>> [law.type for law in law_book(load("cube:2")).laws]
    ['twist']
    """
    generators = list(puzzle.generators)
    parts = sectors(puzzle, generators)
    unseen = lookalikes(puzzle).generators()
    laws = laws_of(parts, generators, unseen)
    assembly = prod(sector.assembly_order for sector in parts)
    allowed = assembly // _count(parts, generators)
    chain = StabiliserChain.from_generators(generators, puzzle.degree, order_bound=allowed)
    wide = prod(s.assembly_order for s in sectors(puzzle, [*generators, *_all_relabellings(puzzle)]))
    return LawBook(puzzle, parts, laws, assembly, wide, allowed, chain)


def _all_relabellings(puzzle: Puzzle) -> list[np.ndarray]:
    """Label permutations that join every kind into one sector: what hands could do."""
    alike, found = lookalikes(puzzle), []
    for kind in puzzle.kinds:
        places = list(kind.places)
        if kind.twist > 1:
            found.append(alike.relabelling({places[0]: (places[0], 1)}))
        found.extend(alike.relabelling({p: (q, 0), q: (p, 0)}) for p, q in zip(places, places[1:], strict=False))
    return found


def _primes(parts: Iterable[Coordinate]) -> list[int]:
    moduli = {part.modulus for part in parts}
    top = max(moduli, default=1)
    return [p for p in range(2, top + 1) if all(p % q for q in range(2, p)) and any(m % p == 0 for m in moduli)]


def _relations(parts: tuple[Coordinate, ...], generators: list[np.ndarray], prime: int):
    """Per prime: the coordinates it concerns (last ones stay free), their prime-power orders, and the relations."""
    concerned = sorted(
        (p for p in parts if p.modulus % prime == 0), key=lambda p: (p.what == "sign", -p.sector.slots[0])
    )
    orders = [prime ** _exponent(p.modulus, prime) for p in concerned]
    modulus = max(orders)
    values = np.array([measure(concerned, g) for g in generators], dtype=np.int64).T.reshape(len(concerned), -1)
    scaled = values * np.array([[modulus // order] for order in orders], dtype=np.int64) % modulus
    return concerned, orders, relations(scaled, orders, prime, _exponent(modulus, prime))


def _exponent(number: int, prime: int) -> int:
    count = 0
    while number % prime == 0:
        number //= prime
        count += 1
    return count


def _count(parts: tuple[Sector, ...], generators: list[np.ndarray]) -> int:
    """How many characters are trivial on the generators."""
    every, total = coordinates(parts), 1
    for prime in _primes(every):
        _, orders, rows = _relations(every, generators, prime)
        for row in rows:
            lead = int(np.nonzero(row)[0][0])
            total *= orders[lead] // int(row[lead])
    return total


def laws_of(parts: tuple[Sector, ...], generators: list[np.ndarray], unseen: list[np.ndarray]) -> tuple[Law, ...]:
    """A generating set of the characters that are trivial on ``generators``, by prime.

    First those that are trivial on the relabellings ``unseen`` too, then what is missing.
    """
    every, laws = coordinates(parts), []
    for prime in _primes(every):
        concerned, orders, rows = _relations(every, generators, prime)
        chosen = [(row, True) for row in _relations(every, [*generators, *unseen], prime)[2]]
        for row in rows:
            if not _spanned(row, [r for r, _ in chosen], orders, prime):
                chosen.append((row, False))
        laws.extend(_law(row, concerned, orders, seen) for row, seen in chosen)
    return tuple(sorted(laws, key=lambda law: (law.type != "sign", law.type != "twist", not law.seen)))


def _spanned(row: np.ndarray, rows: list[np.ndarray], orders: list[int], prime: int) -> bool:
    """Whether a character is a combination of others."""
    top = max(orders)
    stack = np.array([row, *rows]) * (top // np.array(orders)) % top
    found = relations(stack, [top] * len(stack), prime, _exponent(top, prime))
    return any(int(relation[0]) == 1 for relation in found)


def _law(row: np.ndarray, concerned: list[Coordinate], orders: list[int], seen: bool) -> Law:
    top = max(orders)
    weights = [int(c) * (top // order) % top for c, order in zip(row, orders, strict=True)]
    common = gcd(top, *weights)
    kept = [(part, w // common) for part, w in zip(concerned, weights, strict=True) if w]
    kept.sort(key=lambda pair: (pair[0].sector.slots[0], pair[0].what))
    return Law(tuple(p for p, _ in kept), tuple(w for _, w in kept), top // common, seen)
