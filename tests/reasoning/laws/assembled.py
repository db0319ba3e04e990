"""Sectors made by hand, and elements of their assembly group put together slot by slot."""

from collections.abc import Iterable, Sequence

import numpy as np

from oddswap.puzzles.base.puzzle import Kind
from oddswap.reasoning.laws.sectors import Sector

Action = tuple[Sequence[int], Sequence[int]]
"""Where each slot's piece goes, and by how much it is twisted on the way."""


def sectors_of(*shapes: tuple[int, int]) -> tuple[Sector, ...]:
    """A sector that is a whole kind for each (slots, ways round)."""
    parts, first, start = [], 0, 0
    for number, (n, m) in enumerate(shapes):
        kind = Kind(f"pieces {number}", "pieces", tuple(f"{number}.{i}" for i in range(n)), m, first, start)
        parts.append(Sector(kind, tuple(kind.places), np.array(kind.labels).reshape(n, m), whole=True))
        first, start = first + n * m, start + n
    return tuple(parts)


def element(parts: Iterable[Sector], *actions: Action) -> np.ndarray:
    """The label permutation that acts like this on each sector."""
    images = []
    for sector, (slots, twists) in zip(parts, actions, strict=True):
        for target, twist in zip(slots, twists, strict=True):
            images.extend(np.roll(sector.labels[target], -int(twist)).tolist())
    return np.array(images)


def plain(slots: Sequence[int]) -> Action:
    """Without a twist."""
    return slots, [0] * len(slots)


def any_action(rng: np.random.Generator, n: int, m: int) -> Action:
    return rng.permutation(n), rng.integers(m, size=n)
