"""Small finite abelian groups, element by element: what linear algebra must agree with."""

from collections.abc import Iterable, Sequence
from itertools import product
from math import prod

import numpy as np


def span(vectors: Iterable[Sequence[int]], moduli: Sequence[int]) -> np.ndarray:
    """Every sum of the vectors, coordinate i counted modulo ``moduli[i]``; one row each."""
    elements = np.zeros((1, len(moduli)), dtype=np.int64)
    for vector in vectors:
        multiples = [(elements + k * np.array(vector)) % moduli for k in range(int(np.lcm.reduce(moduli, initial=1)))]
        elements = np.unique(np.concatenate(multiples), axis=0)
    return elements


def everything(moduli: Sequence[int]) -> np.ndarray:
    """Every element of the whole group; one row each."""
    return np.array(list(product(*map(range, moduli)))).reshape(prod(moduli), len(moduli))
