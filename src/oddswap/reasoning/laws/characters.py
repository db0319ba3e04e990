"""Laws by linear algebra: characters, sums of signs and twist sums that vanish on every move; and pairing laws.

Pairing laws are those of small sectors: how four slots fall into two pairs, and how three are rotated. Four slots fall into two
pairs in three ways, and a rearrangement permutes these: the map S_4 → S_3. In S_3, taken as the maps ``x -> s x + t`` of the
integers mod 3 with s = ±1, the number t obeys ``t(gh) = s(h) t(g) + t(h)``: *first g, then h*. Sectors whose signs always agree
share s; a combination of their t that the moves keep at ``b (1 - s)``, for a fixed b, is kept for good. Where s is always 1, t
is additive, and may be tied to twist sums mod 3 too. As 2 and 3 have no common divisor, every law at this stage is of this form
(Maschke's theorem for the group of signs acting on the t).
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from math import gcd, prod

import numpy as np

from oddswap.reasoning.groups.modular import exponent, prime_divisors, relations
from oddswap.reasoning.laws.image import LawImage
from oddswap.reasoning.laws.sectors import Law, Measure, Sector, measure, measures
from oddswap.values.orbits import gathered


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
    found = relations(np.array(values).reshape(len(steps), len(laws)), [top] * len(steps), prime, exponent(top, prime))
    return prod(top // int(row[row.nonzero()[0][0]]) for row in found)


def _primes(parts: Iterable[Measure]) -> list[int]:
    return sorted({prime for part in parts for prime in prime_divisors(part.modulus)})


def _relations(parts: tuple[Measure, ...], generators: list[np.ndarray], prime: int, never: Collection[Measure] = ()):
    """Per prime: the measures it concerns (last ones stay free), their prime-power orders, and the relations.

    No relation has a coordinate of ``never``: each is given a value of its own.
    """
    concerned = sorted((p for p in parts if p.modulus % prime == 0), key=lambda p: (p.what == "sign", -p.sector.slots[0]))
    orders = [prime ** exponent(p.modulus, prime) for p in concerned]
    modulus = max(orders)
    own = [[int(part == other) for other in concerned] for part in concerned if part in never]
    values = np.array([*(measure(concerned, g) for g in generators), *own], dtype=np.int64).reshape(-1, len(concerned)).T
    scaled = values * np.array([[modulus // order] for order in orders], dtype=np.int64) % modulus
    return concerned, orders, relations(scaled, orders, prime, exponent(modulus, prime))


def _spanned(row: np.ndarray, rows: list[np.ndarray], orders: list[int], prime: int) -> bool:
    """Whether a character is a combination of others."""
    top = max(orders)
    stack = np.array([row, *rows]) * (top // np.array(orders)) % top
    found = relations(stack, [top] * len(stack), prime, exponent(top, prime))
    return any(int(relation[0]) == 1 for relation in found)


def _law(row: np.ndarray, concerned: list[Measure], orders: list[int], seen: bool) -> CharacterLaw:
    top = max(orders)
    weights = [int(c) * (top // order) % top for c, order in zip(row, orders, strict=True)]
    common = gcd(top, *weights)
    kept = [(part, w // common) for part, w in zip(concerned, weights, strict=True) if w]
    kept.sort(key=lambda pair: (pair[0].sector.slots[0], pair[0].what))
    return CharacterLaw(tuple(p for p, _ in kept), tuple(w for _, w in kept), top // common, seen)


class Pairing(Measure):
    """What happens to the three ways in which four slots fall into pairs (or to three slots).

    0: they stay; 1 or 2: they go round by so many; 3: two of them change places.
    """

    def value(self, permutation: np.ndarray) -> int | None:
        if not self.sector.kept(permutation):
            return None
        s, t = rotation_of(self.sector, permutation)
        return t if s == 1 else 3


class PairingLaw(Law):
    """``sum(weights * t) + sum(twist_weights * twist sums) + shift * (1 - s) = 0 (mod 3)`` at all that is reached.

    It has a sense only where all its sectors have the same s; ``even`` where this must be 1.
    """

    sectors: tuple[Sector, ...]
    weights: tuple[int, ...]
    twists: tuple[Measure, ...]
    twist_weights: tuple[int, ...]
    shift: int
    seen: bool
    even: bool
    type = "pairing"
    modulus = 3

    @property
    def terms(self) -> tuple[tuple[int, Measure], ...]:
        twists = zip(self.twist_weights, self.twists, strict=True)
        return *twists, *((w, Pairing(s, "pairing", 4)) for w, s in zip(self.weights, self.sectors, strict=True))

    @property
    def partner(self) -> int:
        """Which of the other slots, from 0 to 2, is always the first one's: the x of ``x = s x + t``, of a law on one sector."""
        return -self.shift * self.weights[0] % 3

    def value(self, permutation: np.ndarray) -> int:
        """0 where the law is kept, or has no sense as a law of signs is broken; else 1, or 1 and 2 apart where turns do so."""
        if not all(sector.kept(permutation) for sector in self.sectors):
            return 0
        signs = {rotation_of(sector, permutation)[0] for sector in self.sectors}
        if len(signs) > 1 or (self.even and signs != {1}):
            return 0
        total = sum(w * rotation_of(s, permutation)[1] for w, s in zip(self.weights, self.sectors, strict=True))
        values = measure(self.twists, permutation)
        total += sum(w * v for w, v in zip(self.twist_weights, values, strict=True)) + self.shift * (1 - signs.pop())
        return total % 3 if self.even else min(total % 3, -total % 3)

    def touched_by(self, permutation: np.ndarray) -> bool:
        if not all(sector.kept(permutation) for sector in self.sectors):
            return True
        turned = any(value % 3 for value in measure(self.twists, permutation))
        return turned or any(rotation_of(sector, permutation) != (1, 0) for sector in self.sectors)


def rotation_of(sector: Sector, permutation: np.ndarray) -> tuple[int, int]:
    """``(s, t)`` of a sector of three or four slots: what a label permutation does to its pairings (or slots)."""
    images = [sector.place[label][0] for label in permutation[sector.labels[:, 0]].tolist()]
    if len(images) == 4:
        images = [pairing(images[0], images[j]) for j in (1, 2, 3)]
    return (1 if (images[1] - images[0]) % 3 == 1 else -1), images[0]


def pairing(a: int, b: int) -> int:
    """The number of the pairing of four slots in which a and b are a pair: 0 has 0 with 1, and so on."""
    pair = {a, b} if 0 in (a, b) else {0, 1, 2, 3} - {a, b}
    return max(pair) - 1


def pairing_laws(parts: Sequence[Sector], generators: list[np.ndarray], unseen: list[np.ndarray]) -> tuple[PairingLaw, ...]:
    """All laws of this kind, for sectors of three or four slots, tied to twist sums whose order 3 divides."""
    small = [sector for sector in parts if len(sector.slots) in (3, 4) and sector.signed]
    classes = gathered(small, lambda sector: tuple(rotation_of(sector, g)[0] for g in generators))
    found = []
    for signs, members in classes.items():
        even = all(s == 1 for s in signs)
        rows = [[rotation_of(sector, g)[1] for g in generators] for sector in reversed(members)]
        tied = [c for c in measures(parts) if c.what == "twist" and c.modulus % 3 == 0] if even else []
        rows += np.array([measure(tied, g) for g in generators]).reshape(len(generators), -1).T.tolist()
        rows += [] if even else [[(1 - s) % 3 for s in signs]]
        for row in relations(np.array(rows, dtype=np.int64) % 3, [3] * len(rows), 3, 1):
            weights = row[: len(members)][::-1]
            if weights.any():
                rest = row[len(members) :]
                law = PairingLaw(*_kept(members, weights), *_kept(tied, rest), 0 if even else int(rest[-1]), True, even)
                found.append(replace(law, seen=not any(law.touched_by(k) for k in unseen)))
    return tuple(found)


def _kept(things, weights) -> tuple[tuple, tuple[int, ...]]:
    """Those that count, and how often."""
    kept = [(thing, int(weight)) for thing, weight in zip(things, weights, strict=False) if weight]
    return tuple(thing for thing, _ in kept), tuple(weight for _, weight in kept)


def unsaid(image: LawImage, own: Iterable[Law] = ()) -> int:
    """The index that characters, pairing laws and these laws leave unsaid."""
    parts, generators = image.parts, list(image.generators)
    said = count_characters(parts, generators) * 3 ** len(pairing_laws(parts, generators, [])) * prod(law.factor for law in own)
    return image.whole_order // image.order // said
