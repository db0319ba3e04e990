"""All elements of a small group, and whether they only turn a ring.

Permutations are rows p of whole numbers, and point j goes to ``p[j]``; *p then q* is ``q[p]``.
"""

import numpy as np
from numpy.typing import ArrayLike

from oddswap.errors import OddswapError
from oddswap.reasoning.groups.chain import identities
from oddswap.values.orbits import checked


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
