"""The image of the turns in the product Q of what the sectors have, and its cosets.

A sector of at most four slots has all of C_m ≀ S_n in Q, acting on its labels; a larger one has C_2 × C_m, its sign and its
twist sum, acting on two and on m points, unless it must be kept whole, too. The image is computed exactly.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import prod

import numpy as np

from oddswap.reasoning.groups.chain import ROWS_AT_ONCE, Transversal, inverses, products
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.sectors import Measure, Sector, measure, measures

SMALL = 4
"""Sectors of up to so many slots are kept whole."""


@dataclass(frozen=True, eq=False)
class LawImage:
    """``parts`` and the label permutations ``generators`` that keep them, mapped into Q.

    Of the sectors of more than four slots those that are ``bound`` are kept whole, too. With a sector of teams' shares its
    teams must be.
    """

    parts: tuple[Sector, ...]
    generators: tuple[np.ndarray, ...]
    bound: tuple[Sector, ...] = ()

    def _whole(self, sector: Sector) -> bool:
        return len(sector.slots) <= SMALL or any(sector is each for each in self.bound)

    @cached_property
    def small(self) -> tuple[Sector, ...]:
        """The sectors that are kept whole."""
        return tuple(sector for sector in self.parts if sector.labels.size > 1 and self._whole(sector))

    @cached_property
    def rest(self) -> tuple[Measure, ...]:
        """The quantities of the others."""
        return measures(sector for sector in self.parts if not self._whole(sector))

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
        return StabiliserChain.from_generators([self.of(g) for g in self.generators], self.degree).verify()

    @property
    def order(self) -> int:
        return self.chain.order

    @property
    def allowed(self) -> int:
        """How many assemblies have an image that the turns reach."""
        return prod(s.assembly_order for s in self.parts) * self.order // self.whole_order


def coset_names(levels: Sequence[Transversal], permutations: np.ndarray) -> list[bytes]:
    """For each row the canonical member of the coset *row, then anything in the chain*, inverted, as bytes.

    Level by level the least image of the base point is chosen, as for canonical coset representatives (Seress 2003,
    section 4; from memory).
    """
    undone = inverses(permutations)
    for level in levels:
        best = undone[:, level.orbit].argmin(axis=1)
        undone = products(inverses(level.back)[best], undone, np.arange(len(undone)))
    return [row.tobytes() for row in undone.astype(np.int32)]


def walk(levels: Sequence[Transversal], start: np.ndarray, steps: Sequence[np.ndarray], limit: int):
    """Cosets reached from that of ``start`` by relabellings on the left: ``(name, permutation)``, at most ``limit`` of them."""
    (name,) = coset_names(levels, start[None])
    reached, queue = {name}, [start]
    yield name, start
    for following in _following(queue, steps):
        for found, permutation in zip(coset_names(levels, following), following, strict=True):
            if found not in reached:
                if len(reached) >= limit:
                    return
                reached.add(found)
                queue.append(permutation)
                yield found, permutation


def _following(queue: list[np.ndarray], steps: Sequence[np.ndarray]) -> Iterator[np.ndarray]:
    """What the steps make of each member of a queue that grows meanwhile, many rows at once."""
    done, table = 0, np.array(steps)
    while done < len(queue) and len(table):
        now = np.array(queue[done : done + ROWS_AT_ONCE])
        done += len(now)
        yield now[:, table].reshape(-1, now.shape[1])
