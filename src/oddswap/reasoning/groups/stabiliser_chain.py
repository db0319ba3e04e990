"""Permutation groups on the points 0 … n - 1: order, membership and random elements; small ones listed in full.

A permutation is an array p of whole numbers, and point j goes to ``p[j]``; generators are the rows of an
array of shape (k, n). Composition is *first this, then that*: *p then q* is ``q[p]``.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import prod

import numpy as np
from numpy.typing import ArrayLike

from oddswap.errors import OddswapError
from oddswap.reasoning.groups import chain
from oddswap.reasoning.groups.chain import Transversal, complete, descend, identities, mix, moving, outside, products, sift
from oddswap.values.orbits import checked, orbit_labels


@dataclass(frozen=True, eq=False, repr=False)
class StabiliserChain:
    """A permutation group, level by level: each level is the stabiliser of the base points before it.

    The chain never holds an element that is not in the group, so its order can only be too small; where
    `proved` is true it is right. Sims 1970; Seress 2003, chapter 4.

    >>> chain = StabiliserChain.from_generators([[1, 2, 3, 4, 0], [1, 0, 2, 3, 4]], degree=5)
    >>> chain.order, chain.orbit_sizes, chain.proved
    (120, (5, 4, 3, 2), False)
    >>> chain.verify().proved
    True
    """

    degree: int
    levels: tuple[Transversal, ...]
    proved: bool

    @classmethod
    def from_generators(
        cls, gens: ArrayLike, degree: int, seed: int = 0, order_bound: int | None = None, first: Iterable[int] = ()
    ) -> StabiliserChain:
        """The group of the generators, shape (k, degree), at random from a fixed seed.

        The chain is accepted when its order reaches `order_bound`, a number that is proved to be no less than
        the order (then the chain is proved), or when a pool of 32 more random elements sifts. Were those
        independent and evenly spread, a chain that is too small would pass once in 2³² times. The base takes
        the points `first` before all others, and long orbits before short ones.

        `BadPermutation` if a row is no permutation; `OddswapError` if the order is greater than its bound.
        """
        rows = chain.nontrivial(checked(gens, degree))
        if not len(rows):
            return cls(degree, (), proved=True)
        rng = np.random.default_rng(seed)
        preference = _long_orbits_first(rows, degree, first)
        pool = mix(chain.random_subproducts(rows, rng), rng, chain.ROUNDS_AT_FIRST)
        top = Transversal.at(preference[0], rows).grown(rows, shortcuts=mix(pool, rng, chain.ROUNDS_BETWEEN))
        levels, missing = [top], pool
        while len(missing):
            levels = descend(levels, 1, mix(top.divided(pool), rng, chain.ROUNDS_BETWEEN), preference, rng)
            order = prod(len(level.orbit) for level in levels)
            if order_bound is not None and order >= order_bound:
                break
            fresh = products(pool, chain.random_subproducts(rows, rng), np.arange(chain.POOL))
            pool = mix(fresh, rng, chain.ROUNDS_AGAIN)
            missing = outside(levels, pool)
        if order_bound is not None and order > order_bound:
            raise OddswapError(f"the group has at least {order} elements, more than the bound {order_bound}")
        return cls(degree, tuple(levels), proved=order == order_bound)

    def verify(self) -> StabiliserChain:
        """The same group with its order proved: every Schreier generator is sifted and what is missing added.

        Much slower than a bound that is reached (see the benchmarks). Sims 1970.
        """
        if self.proved:
            return self
        levels = complete(self.levels, np.arange(self.degree), np.random.default_rng(0))
        return StabiliserChain(self.degree, tuple(levels), proved=True)

    @cached_property
    def order(self) -> int:
        """The number of elements: the product of the orbit sizes."""
        return prod(self.orbit_sizes)

    @property
    def base(self) -> tuple[int, ...]:
        """The points that are fixed one after the other; only the identity fixes them all."""
        return tuple(int(level.orbit[0]) for level in self.levels)

    @property
    def orbit_sizes(self) -> tuple[int, ...]:
        """For each base point, how many points it reaches while those before it stay."""
        return tuple(len(level.orbit) for level in self.levels)

    def contains(self, p: ArrayLike) -> bool:
        """Whether p is in the chain; if the chain is proved, whether it is in the group."""
        return bool(self.contains_many([p])[0])

    def contains_many(self, perms: ArrayLike) -> np.ndarray:
        """The same for each row of an array of shape (k, n): k truth values."""
        rows = checked(perms, self.degree)
        inside = np.empty(len(rows), dtype=bool)
        for start in range(0, len(rows), chain.ROWS_AT_ONCE):
            part = slice(start, start + chain.ROWS_AT_ONCE)
            inside[part] = ~moving(sift(self.levels, rows[part])[0]).any(axis=1)
        return inside

    def __repr__(self) -> str:
        proof = "proved" if self.proved else "not proved"
        return f"<StabiliserChain: degree {self.degree}, order {self.order}, {proof}>"


def _long_orbits_first(rows: np.ndarray, degree: int, first: Iterable[int]) -> np.ndarray:
    """The points that move: those of `first`, then orbit after orbit, the longest before the shorter."""
    labels = orbit_labels(rows, degree)
    sizes = np.bincount(labels)[labels]
    wanted = [x for x in first if sizes[x] > 1]
    others = np.lexsort((labels, -sizes))
    return np.array([*wanted, *others[sizes[others] > 1]])


def enumerate_group(gens: ArrayLike, degree: int, limit: int = 100_000) -> np.ndarray:
    """Every element, shape (order, n), breadth first from the identity; `OddswapError` beyond the limit.

    >>> enumerate_group([[1, 2, 0]], degree=3).tolist()
    [[0, 1, 2], [1, 2, 0], [2, 0, 1]]
    """
    rows = checked(gens, degree)
    frontier = identities(1, rows)
    found = {frontier.tobytes(): frontier[0]}
    while len(frontier):
        before = len(found)
        for p in rows:
            for element in p[frontier]:
                found.setdefault(element.tobytes(), element)
        if len(found) > limit:
            raise OddswapError(f"the group has more than {limit} elements, too many to list one by one")
        frontier = np.array(list(found.values())[before:])
    return np.array(list(found.values())).astype(np.intp)


def ring_of(gens: ArrayLike, degree: int) -> tuple[int, ...] | None:
    """All points in the order of a ring that the group turns round, and at most over; ``None`` where it does anything else.

    >>> ring_of([[2, 3, 4, 0, 1], [0, 4, 3, 2, 1]], degree=5), ring_of([[1, 0, 2], [0, 2, 1]], degree=3)
    ((0, 2, 4, 1, 3), (0, 1, 2))
    """
    rows = checked(gens, degree)
    try:
        elements = enumerate_group(rows, degree, limit=2 * degree).tolist()
    except OddswapError:
        return None
    for element in elements:
        ring = [0]
        while (following := element[ring[-1]]) != 0:
            ring.append(following)
        beside = {frozenset(pair) for pair in zip(ring, (*ring[1:], 0), strict=True)}
        if len(ring) == degree and all(frozenset((row[i], row[j])) in beside for row in rows.tolist() for i, j in beside):
            return tuple(ring)
    return None


def turns_over(ring: tuple[int, ...], p: ArrayLike) -> bool:
    """Whether a permutation that keeps a ring of three points or more turns it over, and not only round."""
    return ring[(ring.index(p[ring[0]]) + 1) % len(ring)] != p[ring[1]]
