"""Generators of groups whose orders are known, as rows of images on 0 … n - 1."""

from itertools import accumulate

import numpy as np


def cycles(degree: int, *cycles_from_1: tuple[int, ...]) -> list[int]:
    """A product of disjoint cycles, written with the points 1 … n as in the literature."""
    images = list(range(degree))
    for cycle in cycles_from_1:
        for x, y in zip(cycle, cycle[1:] + cycle[:1], strict=True):
            images[x - 1] = y - 1
    return images


def symmetric(n: int) -> list[list[int]]:
    return [[*range(1, n), 0], [1, 0, *range(2, n)]]


def alternating(n: int) -> list[list[int]]:
    """The 3-cycles (1 2 k)."""
    return [cycles(n, (1, 2, k)) for k in range(3, n + 1)]


def dihedral(n: int) -> list[list[int]]:
    return [[*range(1, n), 0], [-x % n for x in range(n)]]


def wreath(m: int, n: int) -> list[list[int]]:
    """C_m ≀ S_n on n slots with m labels each: one twist in the first slot, and the slots permuted."""
    twist = [*range(1, m), 0, *range(m, m * n)]
    return [twist, *([m * s[x // m] + x % m for x in range(m * n)] for s in (symmetric(n) if n > 1 else []))]


def side_by_side(*groups: list[list[int]]) -> list[list[int]]:
    """The direct product, each factor on points of its own."""
    degrees = [len(gens[0]) for gens in groups]
    starts = [0, *accumulate(degrees)]
    return [
        [*range(start), *(start + x for x in p), *range(start + len(p), starts[-1])]
        for start, gens in zip(starts, groups, strict=False)
        for p in gens
    ]


# Carmichael, Introduction to the Theory of Groups of Finite Order (1937), sections 106 and 118; written down from
# memory, and compared with the groups of those names in GAP's library by a test.
MATHIEU_11 = [cycles(11, tuple(range(1, 12))), cycles(11, (3, 7, 11, 8), (4, 10, 5, 6))]
MATHIEU_12 = [*([*p, 11] for p in MATHIEU_11), cycles(12, (1, 12), (2, 11), (3, 6), (4, 8), (5, 9), (7, 10))]
MATHIEU_23 = [
    cycles(23, tuple(range(1, 24))),
    cycles(23, (3, 17, 10, 7, 9), (4, 13, 14, 19, 5), (8, 18, 11, 12, 23), (15, 20, 22, 21, 16)),
]
MATHIEU_24 = [
    *([*p, 23] for p in MATHIEU_23),
    cycles(
        24, *[(1, 24), (2, 23), (3, 12), (4, 16), (5, 18), (6, 10)], *[(7, 20), (8, 14), (9, 21), (11, 17), (13, 22), (15, 19)]
    ),
]


def random_generators(rng: np.random.Generator, degree: int) -> np.ndarray:
    """One to three generators of one of three makes, so that small, large and imprimitive groups all occur."""
    count = rng.integers(1, 4)
    make = rng.integers(3)
    if make == 0:
        return np.array([rng.permutation(degree) for _ in range(count)])
    if make == 1:
        return np.array([_on_some_points(rng, degree, rng.integers(2, 7)) for _ in range(count + 1)])
    size = int(rng.integers(2, 5))
    slots = -(-degree // size)
    blocks = rng.permutation(slots * size).reshape(slots, size)
    gens = []
    for _ in range(count):
        target = blocks[rng.permutation(slots)]
        turned = np.array([np.roll(row, rng.integers(size)) for row in target])
        images = np.empty(slots * size, dtype=int)
        images[blocks] = turned
        gens.append(images)
    return np.array(gens)


def _on_some_points(rng: np.random.Generator, degree: int, size: int) -> np.ndarray:
    images = np.arange(degree)
    chosen = rng.choice(degree, min(size, degree), replace=False)
    images[chosen] = rng.permutation(chosen)
    return images
