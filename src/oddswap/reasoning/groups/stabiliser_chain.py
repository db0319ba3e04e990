"""Permutation groups on the points 0 … n - 1: order, membership and random elements.

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
from oddswap.reasoning.groups.chain import Transversal, complete, descend, mix, moving, outside, products, sift
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
