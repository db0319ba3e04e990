"""Small finite abelian groups, element by element: what linear algebra must agree with."""

from collections.abc import Iterable, Sequence

import numpy as np


def span(vectors: Iterable[Sequence[int]], moduli: Sequence[int]) -> np.ndarray:
    """Every sum of the vectors, coordinate i counted modulo ``moduli[i]``; one row each."""
    elements = np.zeros((1, len(moduli)), dtype=np.int64)
    weights = np.cumprod([1, *moduli[:-1]])
    for vector in map(np.array, vectors):
        multiples, inside = [], set((elements @ weights).tolist())
        while int(vector * len(multiples) % moduli @ weights) not in inside or not multiples:
            multiples.append((elements + vector * len(multiples)) % moduli)
        elements = np.concatenate(multiples)
    return elements


def everything(moduli: Sequence[int]) -> np.ndarray:
    """Every element of the whole group; one row each."""
    return np.indices(moduli).reshape(len(moduli), -1).T
