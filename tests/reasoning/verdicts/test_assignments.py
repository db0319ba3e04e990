"""Assignments counted by sign and twist against going through every permutation, and against formulas."""

from __future__ import annotations

from itertools import permutations, product
from math import comb, factorial
from random import Random

import numpy as np
import pytest
from sympy.combinatorics import Permutation

from oddswap.reasoning.verdicts import assignments
from oddswap.reasoning.verdicts.assignments import TooManyToCount, count_assignments, perfect_matching


def one_by_one(allowed: list[list[frozenset[int]]], twist: int) -> np.ndarray:
    """Every permutation and every choice of twists; the sign by SymPy."""
    found = np.zeros((2, twist), dtype=object)
    for images in permutations(range(len(allowed))):
        odd = int(Permutation(list(images)).is_odd)
        for twists in product(*(allowed[i][b] for i, b in enumerate(images))):
            found[odd, sum(twists) % twist] += 1
    return found


@pytest.mark.parametrize("seed", range(120))
def test_every_count_is_that_of_going_through_all(seed):
    """Rows that repeat make classes of pieces, columns that repeat classes of slots, gaps make components."""
    rng = Random(seed)
    count, twist = rng.randint(1, 5), rng.randint(1, 3)
    density = rng.choice((0.3, 0.6, 0.9))
    ways = lambda: frozenset(t for t in range(twist) if rng.random() < density)  # noqa: E731
    rows = [[ways() if rng.random() < density else frozenset() for _ in range(count)] for _ in range(rng.randint(1, count))]
    allowed = [rows[i % len(rows)] for i in range(count)]
    if rng.random() < 0.5:
        allowed = [list(column) for column in zip(*allowed, strict=True)]
    assert (count_assignments(allowed, twist) == one_by_one(allowed, twist)).all()


@pytest.mark.parametrize(("count", "twist"), [(12, 2), (8, 3), (24, 1), (60, 1)])
def test_a_kind_that_nobody_sees_has_every_class_equally_often(count, twist):
    """n! m^n ways in 2 m classes: exact, far beyond what 64 bits hold."""
    free = [[frozenset(range(twist))] * count] * count
    assert set(count_assignments(free, twist).ravel()) == {factorial(count) * twist**count // (2 * twist)}


@pytest.mark.parametrize("count", range(2, 9))
def test_derangements(count):
    """No piece in its own slot: D(n) = sum (-1)^k n!/k! of them, and even ones less odd ones are (-1)^(n-1) (n-1)
    (Chapman, Discrete Math. 238 (2001) 207-213; from memory)."""
    allowed = [[frozenset() if i == b else frozenset((0,)) for b in range(count)] for i in range(count)]
    even, odd = count_assignments(allowed, 1).ravel()
    assert even + odd == sum((-1) ** k * comb(count, k) * factorial(count - k) for k in range(count + 1))
    assert even - odd == (-1) ** (count - 1) * (count - 1)


def test_too_many_states_are_refused(monkeypatch):
    rng = Random(1)
    allowed = [[frozenset(t for t in (0, 1) if rng.random() < 0.7) for _ in range(8)] for _ in range(8)]
    monkeypatch.setattr(assignments, "MOST_STATES", 100)
    with pytest.raises(TooManyToCount, match=r"TooManyStates\(states=256\)"):
        count_assignments(allowed, 2)


def test_a_matching_takes_the_first_slots_where_it_can():
    assert perfect_matching([[0, 1], [0], [2]]) == [1, 0, 2]
    assert perfect_matching([[0], [0]]) is None
