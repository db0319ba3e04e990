"""Rotations against facts about the rotation groups of the regular solids (orders of elements: Coxeter 1973, memory)."""

from collections import Counter
from itertools import product

import numpy as np
import pytest

from oddswap.puzzles.base.space import generate, turn_matrix

GOLDEN = (1 + 5**0.5) / 2
GROUPS = {
    "one": ([], 1, {1: 1}),
    "cyclic": ([turn_matrix((1, 2, 3), 2 * np.pi / 5)], 5, {1: 1, 5: 4}),
    "tetrahedron": ([turn_matrix((1, 1, 1), 2 * np.pi / 3), turn_matrix((0, 0, 1), np.pi)], 12, {1: 1, 2: 3, 3: 8}),
    "cube": ([turn_matrix((1, 0, 0), np.pi / 2), turn_matrix((0, 1, 0), np.pi / 2)], 24, {1: 1, 2: 9, 3: 8, 4: 6}),
    "icosahedron": (
        [turn_matrix((0, 1, GOLDEN), 2 * np.pi / 5), turn_matrix((1, 1, 1), 2 * np.pi / 3)],
        60,
        {1: 1, 2: 15, 3: 20, 5: 24},
    ),
}


@pytest.fixture(params=GROUPS, scope="module")
def group(request):
    generators, order, orders = GROUPS[request.param]
    return generate(generators), order, orders


@pytest.mark.parametrize(
    "face, ring",
    [
        ((0, 1, 0), [(0, 0, 1), (-1, 0, 0), (0, 0, -1), (1, 0, 0)]),
        ((1, 0, 0), [(0, 1, 0), (0, 0, -1), (0, -1, 0), (0, 0, 1)]),
        ((0, 0, 1), [(0, 1, 0), (1, 0, 0), (0, -1, 0), (-1, 0, 0)]),
    ],
)
def test_a_quarter_turn_is_clockwise_as_seen_from_outside(face, ring):
    """U takes F to L, R takes U to B, F takes U to R: the sense of clockwise in WCA Regulations 12a1."""
    matrix = turn_matrix(face, np.pi / 2)
    for here, there in zip(ring, ring[1:] + ring[:1], strict=True):
        assert np.allclose(matrix @ here, there)


def test_any_length_of_the_axis_gives_the_same_proper_rotation():
    matrix = turn_matrix((3, -1, 2), 1.1)
    assert np.allclose(matrix, turn_matrix((1.5, -0.5, 1), 1.1))
    assert np.allclose(matrix @ matrix.T, np.eye(3)) and np.isclose(np.linalg.det(matrix), 1)
    assert np.allclose(matrix @ (3, -1, 2), (3, -1, 2))


def test_the_order_and_the_orders_of_the_elements(group):
    table, order, orders = group
    assert len(table) == order

    def order_of(element: int) -> int:
        count, power = 1, element
        while power:
            power, count = table.then[power, element], count + 1
        return count

    assert Counter(map(order_of, range(order))) == orders


def test_the_table_composes_first_this_then_that(group):
    table = group[0]
    for a, b in product(range(len(table)), repeat=2):
        assert np.allclose(table.matrices[b] @ table.matrices[a], table.matrices[table.then[a, b]])
    for a in range(len(table)):
        assert table.then[a, table.inverse[a]] == table.then[table.inverse[a], a] == 0
        assert table.index(table.matrices[a]) == a


def test_a_rotation_outside_the_group_has_no_index(group):
    with pytest.raises(KeyError):
        group[0].index(turn_matrix((1, 2, 4), 0.7))


@pytest.mark.parametrize("generators", [[((1, 0, 0), 1.0)], [((1, 0, 0), np.pi / 2), ((1, 1, 0), np.pi / 2)]])
def test_turns_that_never_come_back_are_refused(generators):
    with pytest.raises(ValueError, match="finite group"):
        generate(turn_matrix(axis, angle) for axis, angle in generators)


def test_the_matrices_cannot_be_written():
    with pytest.raises(ValueError):
        generate([]).matrices[0, 0, 0] = 2
