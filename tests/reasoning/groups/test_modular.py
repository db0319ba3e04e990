"""Relations among vectors modulo prime powers, against all coefficients tried one by one."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oddswap.reasoning.groups.modular import relations
from tests.reasoning.abelian import everything, span


@st.composite
def problems(draw):
    """Vectors whose coordinate i has an order that divides the modulus, scaled to it."""
    prime, power = draw(st.sampled_from([(2, 1), (2, 2), (2, 3), (3, 1), (3, 2), (5, 1)]))
    modulus = prime**power
    count, width = draw(st.integers(1, 4)), draw(st.integers(1, 3))
    orders = draw(st.lists(st.sampled_from([prime**k for k in range(1, power + 1)]), min_size=count, max_size=count))
    entries = draw(st.lists(st.integers(0, modulus - 1), min_size=count * width, max_size=count * width))
    vectors = np.array(entries).reshape(count, width) * (modulus // np.array(orders))[:, None] % modulus
    return vectors, orders, prime, power


def check(vectors, orders, prime, power):
    modulus = prime**power
    coefficients = everything(orders)
    wanted = coefficients[~(coefficients @ vectors % modulus).any(axis=1)]
    found = relations(vectors, orders, prime, power)
    assert {tuple(c) for c in span(found, orders)} == {tuple(c) for c in wanted}
    leads = [int(np.flatnonzero(row)[0]) for row in found]
    assert leads == sorted(set(leads))
    sizes = [orders[lead] // int(row[lead]) for lead, row in zip(leads, found, strict=True)]
    assert np.prod(sizes, initial=1) == len(wanted)


@settings(max_examples=400)
@given(problems())
def test_all_relations_are_combinations_of_those_found_and_their_leads_count_them(problem):
    check(*problem)


@pytest.mark.parametrize(
    "vectors, orders, prime, power",
    [
        ([[1]], [2], 2, 1),
        ([[0]], [2], 2, 1),
        ([[2], [1]], [4, 4], 2, 2),
        ([[1], [2]], [4, 4], 2, 2),
        ([[2], [2]], [2, 2], 2, 2),
        ([[3, 0], [0, 3], [3, 3]], [3, 3, 3], 3, 2),
        ([[2, 1], [0, 2]], [4, 4], 2, 2),
        ([[1, 2], [2, 0], [3, 2]], [4, 4, 4], 2, 2),
        ([[4, 2], [2, 4], [1, 1]], [8, 8, 8], 2, 3),
    ],
)
def test_by_hand_and_where_leads_hide_zero_divisors(vectors, orders, prime, power):
    check(np.array(vectors), orders, prime, power)


def test_each_relation_leads_with_its_own_vector_and_the_last_stay_free():
    assert [r.tolist() for r in relations(np.array([[1], [2], [1]]), [3, 3, 3], 3, 1)] == [[1, 0, 2], [0, 1, 1]]
    assert relations(np.array([[1, 0], [0, 1]]), [2, 2], 2, 1) == []
