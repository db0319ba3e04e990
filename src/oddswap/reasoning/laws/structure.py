"""A proof that the laws of a large puzzle are complete, from the structure of its group instead of a chain on all labels.

Let G be the group of the turns; on sector i it acts as a part of C_m ≀ S_n. Fix t >= 8; call the sectors of t or more slots
*large*, the others *small*. Let Q be the product of C_2 × C_m (sign, twist sum) for each large sector and all of C_m ≀ S_n for
each small one. The kernel N of the map from the assembly group to Q is the product, over the large sectors, of Z ⋊ A_n, where
Z holds the twists with sum 0.

Theorem. G contains N, so that ``|G| = |N| * |image of G in Q|``, if
 1. on every large sector G is transitive, and some element has a cycle of prime length p, n/2 < p < n - 2;
 2. for any two large sectors of equally many slots some element has different cycle types on their slots;
 3. for every large sector with m > 1 and every prime p that divides m, some element has a power that brings every piece of
    this sector back to its slot, with twists that are not all equal modulo p (what it does elsewhere is of no concern).

Proof of 1 and 2: R = G ∩ N rearranges the large sectors in all ways of T, the product of their A_n.
 - A power of the element of (1) is a p-cycle. It keeps every block of a block system, as it would else move p blocks of two
   or more slots and 2p > n; so it lies in one block, of more than n/2 slots. Hence G is primitive on the sector, and acts
   as A_n or S_n (Jordan 1873; Wielandt 1964, Theorem 13.9).
 - The last term H of the derived series of G acts as A_n on each. On two large sectors it acts as A_n × A_n' or as the graph
   of an isomorphism (Goursat 1889), which comes from a bijection b of their slots (Hölder 1895; n is not 6). In the second
   case take g in G, with actions x and y. As H is normal, g keeps the graph; so x carried over by b and y conjugate A_n'
   alike, thus are equal, and x and y have the same cycle type. For every g: which (2) excludes.
 - Let h_j in H have any given action on the first large sector, and none on the j-th. The commutator [h_2, [h_3, …]] acts on
   the first alone, and such commutators generate its A_n, which is perfect. So H acts as all of T (Hall 1936).
 - The action R' of R lies in T and is normal in that of G. An A_n outside R' would meet it trivially and so be a section
   of G/R, thus of Q; being simple and not abelian, of one factor of Q; thus of S_k with k < t, but k! <= (t-1)! < t!/2.
Proof of 3: R holds all of Z. Let w be the power and v its twists on this sector.
 - For r in R, a 3-cycle on this sector and nothing but twists on the other large ones, [w, r] is nothing but twists everywhere,
   with u = v - rv on this sector and none on small ones. u is 0 off the three slots; choose them such that v differs modulo p
   on two. Then some u_a is not 0 modulo p.
 - Let r' be like r with the 3-cycle (a d e), d and e off those three. As twists commute, [[w, r], r'] has twists on this
   sector alone, u_a (1 at a, -1 at d). A_n is doubly transitive, so R has the same for any two slots.
 - Over all p that divide m, these u_a and m have no common factor: R has (1 at x, -1 at y) for any two slots, and so all of Z.

Nothing is lost where p divides n, nor where m is no prime. Elements are drawn at random from a fixed seed, and each condition is
checked on them exactly: chance decides only whether the proof is found.

Sources (from memory): C. Jordan, Bull. Soc. Math. France 1 (1873) 40–71; H. Wielandt, Finite Permutation Groups (1964);
É. Goursat, Ann. Sci. École Norm. Sup. 6 (1889) 9–102; O. Hölder, Math. Ann. 46 (1895) 321–422; P. Hall, Quart. J. Math. 7
(1936) 134–151; for the test of (1) also Á. Seress, Permutation Group Algorithms (2003), section 10.2.

A `Certificate` is what the proof leaves in hand.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import factorial, lcm, prod

import numpy as np

from oddswap.errors import BadPermutation
from oddswap.reasoning.groups.chain import POOL, ROUNDS_AGAIN, ROUNDS_AT_FIRST, identities, mix, products, random_subproducts
from oddswap.reasoning.groups.modular import prime_divisors
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.image import SMALL, LawImage
from oddswap.reasoning.laws.sectors import Sector
from oddswap.values.orbits import checked, orbit_labels


@dataclass(frozen=True, eq=False)
class Actions:
    """What elements do to one sector of n slots: where the piece of each slot goes, and by how much it is twisted on the way.

    Both are arrays of shape (elements, n).
    """

    slots: np.ndarray
    twists: np.ndarray

    @classmethod
    def on(cls, sector: Sector, permutations: np.ndarray) -> "Actions":
        """Those of label permutations (elements, degree). `BadPermutation` unless they keep the sector, twists in step."""
        number = np.full(permutations.shape[1], -1)
        number[sector.labels] = np.arange(sector.labels.size).reshape(sector.labels.shape)
        images = number[permutations[:, sector.labels]]
        slots, twists = np.divmod(images, sector.twist)
        in_step = (slots == slots[..., :1]) & (twists == (twists[..., :1] + np.arange(sector.twist)) % sector.twist)
        if (images < 0).any() or not in_step.all():
            raise BadPermutation("a generator does not keep these sectors: take the sectors of the generators themselves")
        return cls(slots[..., 0], twists[..., 0])

    @cached_property
    def _cycle(self) -> np.ndarray:
        """The least slot of the cycle on which each slot lies, (elements, n)."""
        least, step = np.broadcast_to(np.arange(self.slots.shape[1]), self.slots.shape), self.slots
        for _ in range(self.slots.shape[1].bit_length()):  # each round looks twice as far ahead
            least, step = np.minimum(least, np.take_along_axis(least, step, 1)), np.take_along_axis(step, step, 1)
        return least

    def _along_cycles(self, values: np.ndarray) -> np.ndarray:
        """The sum of the values, (elements, n), over the cycle on which each slot lies."""
        total = np.zeros(values.shape, dtype=np.int64)
        np.add.at(total, (np.arange(len(values))[:, None], self._cycle), values)
        return np.take_along_axis(total, self._cycle, 1)

    @cached_property
    def lengths(self) -> np.ndarray:
        """The length of the cycle on which each slot lies, (elements, n)."""
        return self._along_cycles(np.ones_like(self.slots))

    @property
    def rounds(self) -> np.ndarray:
        """The twist, not reduced, of a piece that has gone once round its cycle, (elements, n)."""
        return self._along_cycles(self.twists)


@dataclass(frozen=True, eq=False)
class Certificate:
    """The order of a puzzle's group, proved: ``kernel_order`` times the order of ``image``.

    ``cycles`` holds a prime for each sector of ``large``: the length of the cycle that shows it to be rearranged in every
    even way. ``image`` acts on the signs and twist sums of ``large`` and on the labels of ``small``.
    """

    large: tuple[Sector, ...]
    small: tuple[Sector, ...]
    cycles: tuple[int, ...]
    kernel_order: int
    image: StabiliserChain

    @property
    def order(self) -> int:
        return self.kernel_order * self.image.order


LARGE = 8
"""The least t; it is raised above every sector that does not meet (1). Then by Bertrand's postulate there is such a p."""
TRIES = 16
"""So many pools of random elements are drawn at most. About ln 2 / ln n of all rearrangements meet (1): one in five to eleven."""


def certify(parts: Sequence[Sector], generators: Sequence[np.ndarray], allowed: int, seed: int = 0) -> Certificate | None:
    """A proof that the order of the group of ``generators`` is ``allowed``, a number proved to be no less than that order.

    ``parts`` are all sectors of these generators (label permutations). ``None`` where a condition of the theorem was not seen
    to hold, or where the order is less. `BadPermutation` if a generator does not keep the sectors.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.laws.sectors import sectors
    >>> cube = load("cube:2")
    >>> certificate = certify(sectors(cube, cube.generators), cube.generators, allowed=40320 * 3**7)
    >>> certificate.cycles, certificate.kernel_order, certificate.image.order
    ((5,), 44089920, 2)
    """
    rows = checked(generators, max(sector.kind.labels.stop for sector in parts))
    if (evidence := _evidence(parts, rows, seed)) is None:
        return None
    large, cycles = evidence
    small = tuple(sector for sector in parts if sector not in large)
    kernel = prod(s.twist ** (len(s.slots) - 1) * (factorial(len(s.slots)) // 2) for s in large)  # the orders of Z ⋊ A_n
    quotient = LawImage(tuple(parts), tuple(rows), tuple(sector for sector in small if len(sector.slots) > SMALL))
    image = StabiliserChain.from_generators([quotient.of(g) for g in rows], quotient.degree, seed, allowed // kernel)
    return Certificate(large, small, cycles, kernel, image) if kernel * image.order == allowed else None


def _evidence(parts: Sequence[Sector], rows: np.ndarray, seed: int) -> tuple[tuple[Sector, ...], tuple[int, ...]] | None:
    """The large sectors, and for each a prime as in (1); ``None`` where (2) or (3) was not seen to hold.

    A sector without such a prime is small, and so is every sector that is not larger.
    """
    cycles, types, apart = dict.fromkeys(parts, 0), dict.fromkeys(parts, b""), set()
    split = [sector for sector in parts if orbit_labels(Actions.on(sector, rows).slots, len(sector.slots)).any()]
    for pool in _pools(rows, seed):
        drawn = {sector: Actions.on(sector, pool) for sector in parts}
        for sector, actions in drawn.items():
            cycles[sector] = max(cycles[sector], _prime_cycle(actions.lengths))
            types[sector] += np.sort(actions.lengths, axis=1).tobytes()
        least = max(LARGE, *(len(sector.slots) + 1 for sector in parts if sector in split or not cycles[sector]), 0)
        large = tuple(sector for sector in parts if len(sector.slots) >= least)
        needed = {(sector, p) for sector in large for p in prime_divisors(sector.twist)}
        apart |= {(sector, p) for sector, p in needed - apart if _twists_apart(drawn[sector], p)}
        proved = needed <= apart and len({types[sector] for sector in large}) == len(large)
        if proved and all(len(sector.slots) < LARGE for sector in parts if sector not in large):
            break
    return (large, tuple(cycles[sector] for sector in large)) if proved else None


def _pools(rows: np.ndarray, seed: int) -> Iterator[np.ndarray]:
    """Random elements, `TRIES` times a pool of them, by product replacement as in a stabiliser chain."""
    rng = np.random.default_rng(seed)
    pool, rounds = identities(POOL, rows), ROUNDS_AT_FIRST
    for _ in range(TRIES):
        pool = mix(products(pool, random_subproducts(rows, rng), np.arange(POOL)), rng, rounds)
        rounds = ROUNDS_AGAIN
        yield pool


def _prime_cycle(lengths: np.ndarray) -> int:
    """The greatest length as in (1) of a cycle of elements, or 0; ``lengths`` (elements, n) as in `Actions`."""
    n = lengths.shape[1]
    return max((p for p in np.unique(lengths).tolist() if n < 2 * p < 2 * (n - 2) and prime_divisors(p) == [p]), default=0)


def _twists_apart(actions: Actions, prime: int) -> bool:
    """Whether a power of some element keeps all slots and twists them unequally modulo a prime; as in (3)."""
    for lengths, rounds in zip(actions.lengths.tolist(), actions.rounds.tolist(), strict=True):
        power = lcm(*lengths)
        if len({power // length * once % prime for length, once in zip(lengths, rounds, strict=True)}) > 1:
            return True
    return False
