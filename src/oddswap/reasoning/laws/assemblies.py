"""Elements of the assembly group, many at once: what they do to the slots and twists of all sectors, as whole arrays.

The slots of all sectors stand in one row, sector after sector; so do their labels, slot after slot in the order of twist.
All numbers are whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from oddswap.errors import BadPermutation
from oddswap.reasoning.laws.sectors import Sector
from oddswap.values.orbits import checked, orbit_labels


@dataclass(frozen=True, eq=False)
class SectorRows:
    """Where the slots and labels of these sectors stand in their rows."""

    parts: tuple[Sector, ...]

    @cached_property
    def labels(self) -> np.ndarray:
        """The puzzle's label at each place of the row of labels."""
        return np.concatenate([np.empty(0, dtype=np.intp), *(sector.labels.ravel() for sector in self.parts)])

    @cached_property
    def sizes(self) -> np.ndarray:
        """How many slots each sector has."""
        return np.array([len(sector.slots) for sector in self.parts], dtype=np.intp)

    @cached_property
    def starts(self) -> np.ndarray:
        """The place of each sector's first slot."""
        return np.cumsum(self.sizes) - self.sizes

    @cached_property
    def sector(self) -> np.ndarray:
        """For each slot the number of its sector."""
        return np.repeat(np.arange(len(self.parts)), self.sizes)

    @cached_property
    def ways(self) -> np.ndarray:
        """For each slot how many ways round its sector uses."""
        return np.array([sector.twist for sector in self.parts], dtype=np.intp)[self.sector]

    @cached_property
    def first(self) -> np.ndarray:
        """For each slot the place of its label of twist 0."""
        return np.cumsum(self.ways) - self.ways

    @cached_property
    def slot(self) -> np.ndarray:
        """For each label its slot."""
        return np.repeat(np.arange(len(self.ways)), self.ways)

    @cached_property
    def column(self) -> np.ndarray:
        """For each label its twist."""
        return np.arange(len(self.slot)) - self.first[self.slot]

    def span(self, i: int) -> slice:
        """The slots of sector i."""
        return slice(self.starts[i], self.starts[i] + self.sizes[i])

    def span_of_labels(self, i: int) -> slice:
        """The labels of sector i."""
        start = int(self.first[self.starts[i]])
        return slice(start, start + self.parts[i].labels.size)

    def read(self, permutations: Sequence[np.ndarray]) -> Assemblies:
        """Label permutations of the puzzle; `BadPermutation` unless each keeps every sector, slot by slot, twists in step."""
        images = np.array([p[self.labels] for p in permutations], dtype=np.intp).reshape(len(permutations), len(self.labels))
        place = np.full(1 + max(self.labels.max(initial=-1), images.max(initial=-1)), -1)
        place[self.labels] = np.arange(len(self.labels))
        rows = place[images]
        if (rows >= 0).all():
            found = Assemblies(self, checked(rows, len(self.labels)))
            turned = (self.column + found.twists[:, self.slot]) % self.ways[self.slot]
            in_step = found.rows == self.first[found.slots][:, self.slot] + turned
            if in_step.all() and (self.sector[found.slots] == self.sector).all():
                return found
        raise BadPermutation("a generator does not keep these sectors: take the sectors of the generators themselves")


@dataclass(frozen=True, eq=False)
class Assemblies:
    """Elements of the assembly group, as the rows of an array of shape (k, labels)."""

    layout: SectorRows
    rows: np.ndarray

    @cached_property
    def slots(self) -> np.ndarray:
        """Where each slot's piece goes, shape (k, slots)."""
        return self.layout.slot[self.rows[:, self.layout.first]]

    @cached_property
    def twists(self) -> np.ndarray:
        """By how much it is twisted on the way, shape (k, slots)."""
        return self.layout.column[self.rows[:, self.layout.first]]

    @cached_property
    def _cycle(self) -> np.ndarray:
        """A number for the cycle that each slot lies on, shape (k, slots): the place of its least slot in the flattened array."""
        count, width = self.slots.shape
        step = (self.slots + width * np.arange(count)[:, None]).ravel()
        least = np.arange(step.size)
        reach = 1
        while reach < max(self.layout.sizes, default=0):
            least = np.minimum(least, least[step])
            step, reach = step[step], 2 * reach
        return least.reshape(count, width)

    @cached_property
    def lengths(self) -> np.ndarray:
        """The length of the cycle that each slot lies on, shape (k, slots)."""
        return np.bincount(self._cycle.ravel(), minlength=self._cycle.size)[self._cycle]

    @cached_property
    def rounds(self) -> np.ndarray:
        """The twist, not reduced, of a piece that has gone once round its cycle, shape (k, slots)."""
        total = np.zeros(self._cycle.size, dtype=np.int64)
        np.add.at(total, self._cycle.ravel(), self.twists.ravel())
        return total[self._cycle]

    @cached_property
    def signs(self) -> np.ndarray:
        """How each sector's pieces are rearranged, shape (k, sectors): 0 even, 1 odd."""
        heads = self._cycle == np.arange(self._cycle.size).reshape(self._cycle.shape)
        return (self.layout.sizes - self._by_sector(heads)) % 2

    @cached_property
    def twist_sums(self) -> np.ndarray:
        """The sum of each sector's twists, shape (k, sectors), modulo its number of ways."""
        return self._by_sector(self.twists) % [sector.twist for sector in self.layout.parts]

    def cycle_types(self) -> np.ndarray:
        """The lengths of the cycles of each slot, in order of size within every sector, shape (k, slots)."""
        base = self._cycle.shape[1] + 1
        return np.sort(self.layout.sector * base + self.lengths, axis=1) % base

    @cached_property
    def transitive(self) -> np.ndarray:
        """Whether these elements bring every slot of a sector to every other, for each sector."""
        least = orbit_labels(self.slots, self.slots.shape[1])
        return np.array([(least[self.layout.span(i)] == start).all() for i, start in enumerate(self.layout.starts)], dtype=bool)

    def _by_sector(self, values: np.ndarray) -> np.ndarray:
        return np.add.reduceat(values, self.layout.starts, axis=1, dtype=np.int64)
