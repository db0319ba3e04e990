"""Laws that are characters: sums of signs and twist sums that vanish on every move, by linear algebra."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from math import gcd, prod

import numpy as np

from oddswap.reasoning.groups.modular import relations
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.laws.sectors import Measure, Sector, measure, measures


@dataclass(frozen=True, eq=False, repr=False)
class CharacterLaw(Law):
    """``sum(weights * parts) = 0 (mod modulus)`` at everything that the turns reach from solved; sign, twist or mixed."""

    parts: tuple[Measure, ...]
    weights: tuple[int, ...]
    modulus: int
    seen: bool
    additive = True

    @property
    def type(self) -> str:
        whats = {part.what for part in self.parts}
        return whats.pop() if len(whats) == 1 else "mixed"

    @property
    def terms(self) -> tuple[tuple[int, Measure], ...]:
        return tuple(zip(self.weights, self.parts, strict=True))

    def value(self, permutation: np.ndarray) -> int:
        """From 0 (kept, or without a sense as teams are broken) to ``modulus - 1``."""
        values = [part.value(permutation) for part in self.parts]
        return 0 if None in values else sum(w * v for w, v in zip(self.weights, values, strict=True)) % self.modulus


def laws_of(parts: tuple[Sector, ...], generators: list[np.ndarray], unseen: list[np.ndarray]) -> tuple[CharacterLaw, ...]:
    """A generating set of the characters that are trivial on ``generators``, by prime.

    First those that are trivial on the relabellings ``unseen`` too, then what is missing.
    """
    every, laws = measures(parts), []
    senseless = {part for part in every if not all(part.sector.kept(k) for k in unseen)}
    for prime in _primes(every):
        concerned, orders, rows = _relations(every, generators, prime)
        chosen = [(row, True) for row in _relations(every, [*generators, *unseen], prime, senseless)[2]]
        for row in rows:
            if not _spanned(row, [r for r, _ in chosen], orders, prime):
                chosen.append((row, False))
        laws.extend(_law(row, concerned, orders, seen) for row, seen in chosen)
    return tuple(sorted(laws, key=lambda law: (law.type != "sign", law.type != "twist", not law.seen)))


def count_characters(parts: tuple[Sector, ...], generators: list[np.ndarray]) -> int:
    """How many characters are trivial on the generators."""
    every, total = measures(parts), 1
    for prime in _primes(every):
        _, orders, rows = _relations(every, generators, prime)
        for row in rows:
            lead = int(np.nonzero(row)[0][0])
            total *= orders[lead] // int(row[lead])
    return total


def count_values(laws: tuple[CharacterLaw, ...], kept: tuple[CharacterLaw, ...], steps: list[np.ndarray]) -> int:
    """How many values ``laws`` take together at those products of ``steps`` that keep the laws ``kept``."""
    count = 1
    for prime in _primes(laws):
        own, others = ([law for law in some if law.modulus % prime == 0] for some in (laws, kept))
        top = max(law.modulus for law in (*own, *others))
        count *= _count_keeping(others, steps, prime, top) // _count_keeping([*others, *own], steps, prime, top)
    return count


def _count_keeping(laws: list[CharacterLaw], steps: list[np.ndarray], prime: int, top: int) -> int:
    """How many of the products of powers of ``steps`` from 0 to ``top - 1`` keep these laws."""
    values = [[law.value(step) * (top // law.modulus) for law in laws] for step in steps]
    found = relations(np.array(values).reshape(len(steps), len(laws)), [top] * len(steps), prime, _exponent(top, prime))
    return prod(top // int(row[row.nonzero()[0][0]]) for row in found)


def _primes(parts: Iterable[Measure]) -> list[int]:
    moduli = {part.modulus for part in parts}
    top = max(moduli, default=1)
    return [p for p in range(2, top + 1) if all(p % q for q in range(2, p)) and any(m % p == 0 for m in moduli)]


def _relations(parts: tuple[Measure, ...], generators: list[np.ndarray], prime: int, never: Collection[Measure] = ()):
    """Per prime: the measures it concerns (last ones stay free), their prime-power orders, and the relations.

    No relation has a coordinate of ``never``: each is given a value of its own.
    """
    concerned = sorted((p for p in parts if p.modulus % prime == 0), key=lambda p: (p.what == "sign", -p.sector.slots[0]))
    orders = [prime ** _exponent(p.modulus, prime) for p in concerned]
    modulus = max(orders)
    own = [[int(part == other) for other in concerned] for part in concerned if part in never]
    values = np.array([*(measure(concerned, g) for g in generators), *own], dtype=np.int64).reshape(-1, len(concerned)).T
    scaled = values * np.array([[modulus // order] for order in orders], dtype=np.int64) % modulus
    return concerned, orders, relations(scaled, orders, prime, _exponent(modulus, prime))


def _exponent(number: int, prime: int) -> int:
    count = 0
    while number % prime == 0:
        number //= prime
        count += 1
    return count


def _spanned(row: np.ndarray, rows: list[np.ndarray], orders: list[int], prime: int) -> bool:
    """Whether a character is a combination of others."""
    top = max(orders)
    stack = np.array([row, *rows]) * (top // np.array(orders)) % top
    found = relations(stack, [top] * len(stack), prime, _exponent(top, prime))
    return any(int(relation[0]) == 1 for relation in found)


def _law(row: np.ndarray, concerned: list[Measure], orders: list[int], seen: bool) -> CharacterLaw:
    top = max(orders)
    weights = [int(c) * (top // order) % top for c, order in zip(row, orders, strict=True)]
    common = gcd(top, *weights)
    kept = [(part, w // common) for part, w in zip(concerned, weights, strict=True) if w]
    kept.sort(key=lambda pair: (pair[0].sector.slots[0], pair[0].what))
    return CharacterLaw(tuple(p for p, _ in kept), tuple(w for _, w in kept), top // common, seen)
