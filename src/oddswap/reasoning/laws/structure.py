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
from math import factorial, isqrt, lcm, prod

import numpy as np

from oddswap.reasoning.groups.chain import POOL, ROUNDS_AGAIN, ROUNDS_AT_FIRST, identities, mix, products, random_subproducts
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.assemblies import Assemblies, SectorRows
from oddswap.reasoning.laws.sectors import Sector


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
    layout = SectorRows(tuple(parts))
    turns = layout.read(generators)
    if (cycles := _evidence(turns, seed)) is None:
        return None
    large = np.flatnonzero(cycles)
    sizes = ((layout.parts[i].twist, len(layout.parts[i].slots)) for i in large)
    kernel = prod(twist ** (n - 1) * (factorial(n) // 2) for twist, n in sizes)  # the orders of Z ⋊ A_n
    points = _in_quotient(turns, large)
    image = StabiliserChain.from_generators(points, points.shape[1], seed, order_bound=allowed // kernel)
    if kernel * image.order != allowed:
        return None
    small = tuple(layout.parts[i] for i in np.flatnonzero(cycles == 0))
    return Certificate(tuple(layout.parts[i] for i in large), small, tuple(cycles[large].tolist()), kernel, image)


def _in_quotient(turns: Assemblies, large: np.ndarray) -> np.ndarray:
    """The image in Q: the labels of small sectors, and for each large one two points for the sign and m for the twist sum."""
    layout, blocks, start = turns.layout, [], 0
    for i, sector in enumerate(layout.parts):
        if i in large:
            for values, modulus in ((turns.signs[:, i], 2), (turns.twist_sums[:, i], sector.twist)):
                blocks.append(start + (np.arange(modulus) + values[:, None]) % modulus)
                start += modulus
        else:
            span = layout.span_of_labels(i)
            blocks.append(turns.rows[:, span].astype(np.intp) + (start - span.start))
            start += sector.labels.size
    return np.concatenate(blocks, axis=1)


def _evidence(turns: Assemblies, seed: int) -> np.ndarray | None:
    """For each sector a prime as in (1), or 0 where it is small; ``None`` where (2) or (3) was not seen to hold.

    A sector without such a prime is small, and so is every sector that is not larger.
    """
    layout = turns.layout
    able = layout.sizes >= LARGE
    cycles, types, apart = np.zeros(len(layout.parts), dtype=np.intp), [], set()
    for elements in _pools(turns.rows, layout, seed):
        cycles = np.maximum(cycles, _prime_cycles(elements))
        large = layout.sizes > max(LARGE - 1, *layout.sizes[(cycles == 0) | ~turns.transitive], 0)
        types.append(elements.cycle_types())
        needed = {(i, p) for i in np.flatnonzero(large) for p in _prime_divisors(layout.parts[i].twist)}
        apart |= {(i, p) for i, p in needed - apart if _twists_apart(elements, i, p)}
        proved = needed <= apart and _told_apart(np.concatenate(types), layout, large)
        if proved and (large == able).all():
            break
    return np.where(large, cycles, 0) if proved else None


def _pools(rows: np.ndarray, layout: SectorRows, seed: int) -> Iterator[Assemblies]:
    """Random elements, `TRIES` times a pool of them, by product replacement as in a stabiliser chain."""
    rng = np.random.default_rng(seed)
    pool, rounds = identities(POOL, rows), ROUNDS_AT_FIRST
    for _ in range(TRIES):
        pool = mix(products(pool, random_subproducts(rows, rng), np.arange(POOL)), rng, rounds)
        rounds = ROUNDS_AGAIN
        yield Assemblies(layout, pool)


def _prime_cycles(elements: Assemblies) -> np.ndarray:
    """For each sector the greatest length as in (1) of a cycle of these elements, or 0."""
    sizes = elements.layout.sizes[elements.layout.sector]
    lengths = elements.lengths
    fits = (2 * lengths > sizes) & (lengths < sizes - 2) & _primes(lengths.max(initial=0))[lengths]
    longest = np.where(fits, lengths, 0).max(axis=0, initial=0)
    return np.maximum.reduceat(longest, elements.layout.starts)


def _primes(top: int) -> np.ndarray:
    """Whether each number from 0 to ``top`` is a prime."""
    return np.array([k > 1 and all(k % d for d in range(2, isqrt(k) + 1)) for k in range(top + 1)])


def _prime_divisors(number: int) -> list[int]:
    return [p for p in np.flatnonzero(_primes(number)).tolist() if number % p == 0]


def _told_apart(types: np.ndarray, layout: SectorRows, large: np.ndarray) -> bool:
    """Whether any two large sectors of equally many slots have different cycle types in some row; as in (2)."""
    seen = [types[:, layout.span(i)].tobytes() for i in np.flatnonzero(large)]
    return len(set(seen)) == len(seen)


def _twists_apart(elements: Assemblies, i: int, prime: int) -> bool:
    """Whether a power of some element keeps all slots of sector i and twists them unequally modulo a prime; as in (3)."""
    span = elements.layout.span(i)
    for lengths, rounds in zip(elements.lengths[:, span].tolist(), elements.rounds[:, span].tolist(), strict=True):
        power = lcm(*lengths)
        if len({power // length * once % prime for length, once in zip(lengths, rounds, strict=True)}) > 1:
            return True
    return False
