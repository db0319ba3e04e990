"""The image of the turns in the product Q of what the sectors have, and its cosets.

A sector of at most four slots has all of C_m ≀ S_n in Q, acting on its labels; a larger one has C_2 × C_m, its sign and its
twist sum, acting on two and on m points. The image is computed exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import prod

import numpy as np

from oddswap.reasoning.chain import Level
from oddswap.reasoning.groups import StabiliserChain
from oddswap.reasoning.sectors import Coordinate, Sector, measure

SMALL = 4
"""Sectors of up to so many slots are kept whole."""


@dataclass(frozen=True, eq=False)
class Image:
    """``parts`` and the label permutations ``generators`` that keep them, mapped into Q."""

    parts: tuple[Sector, ...]
    generators: tuple[np.ndarray, ...]

    @cached_property
    def small(self) -> tuple[Sector, ...]:
        return tuple(s for s in self.parts if len(s.slots) <= SMALL and s.labels.size > 1)

    @cached_property
    def rest(self) -> tuple[Coordinate, ...]:
        """The quantities of the larger sectors."""
        large = [s for s in self.parts if len(s.slots) > SMALL]
        signs = [Coordinate(s, "sign", 2) for s in large]
        return (*signs, *(Coordinate(s, "twist", s.twist) for s in large if s.twist > 1))

    @property
    def whole_order(self) -> int:
        """|Q|."""
        return prod(s.assembly_order for s in self.small) * prod(c.modulus for c in self.rest)

    @cached_property
    def degree(self) -> int:
        return sum(s.labels.size for s in self.small) + sum(c.modulus for c in self.rest)

    def of(self, permutation: np.ndarray) -> np.ndarray:
        """The permutation of Q's points that a label permutation makes; shape (degree,)."""
        points, start = [], 0
        for sector in self.small:
            images = [sector.place[label] for label in permutation[sector.labels.ravel()].tolist()]
            points.extend(start + row * sector.twist + column for row, column in images)
            start += sector.labels.size
        for part, value in zip(self.rest, measure(self.rest, permutation), strict=True):
            points.extend(start + (i + value) % part.modulus for i in range(part.modulus))
            start += part.modulus
        return np.array(points, dtype=np.intp)

    @cached_property
    def chain(self) -> StabiliserChain:
        """The image itself, its order proved."""
        rows = np.array([self.of(g) for g in self.generators], dtype=np.intp).reshape(-1, self.degree)
        return StabiliserChain.from_generators(rows, self.degree).verify()

    @property
    def order(self) -> int:
        return self.chain.order

    def coset(self, permutation: np.ndarray) -> bytes:
        """A name for the coset *permutation, then anything in the image*: equal names, equal cosets."""
        return coset_name(self.chain.levels, self.of(permutation))


def coset_name(levels: Sequence[Level], permutation: np.ndarray) -> bytes:
    """The canonical member of the coset *permutation, then anything in the chain*, inverted, as bytes.

    Level by level the least image of the base point is chosen, as for canonical coset representatives (Seress 2003,
    section 4; from memory).
    """
    undone = np.argsort(permutation)
    for level in levels:
        best = int(undone[level.orbit].argmin())
        undone = undone[np.argsort(level.back[best])]
    return undone.astype(np.int32).tobytes()


def walk(start: bytes, first: np.ndarray, name, steps: Sequence[np.ndarray], limit: int):
    """Cosets reached from one by relabellings on the left: yields ``(name, permutation)``, at most ``limit`` of them."""
    reached = {start}
    queue = [first]
    yield start, first
    for current in queue:
        for step in steps:
            following = current[step]
            found = name(following)
            if found not in reached:
                if len(reached) >= limit:
                    return
                reached.add(found)
                queue.append(following)
                yield found, following
