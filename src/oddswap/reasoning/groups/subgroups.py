"""All elements of a small group.

Permutations are rows p of whole numbers, and point j goes to ``p[j]``; *p then q* is ``q[p]``.
"""

from __future__ import annotations

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
