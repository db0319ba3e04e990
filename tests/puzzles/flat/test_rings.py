from math import factorial

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.errors import BadOption, UnknownPuzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from tests.common import gap
from tests.puzzles.flat.projective import is_that_of_the_projective_line

NAMES = [
    "rings:4+4,cross=1",
    "rings:7+7,cross=2",
    "rings:6+9,cross=2/3",
    "rings:20+20,cross=5",
    "rings:5+8,cross=4/1",
    "rings:12+12+12",
    "rings:9+10+11,cross=2,gap=1",
    "rings:18+18+20,cross=3,gap=3",
]


def centre_and_radius(points):
    """The circle through points, by least squares."""
    rows = np.column_stack([2 * points, np.ones(len(points))])
    (x, y, rest), *_ = np.linalg.lstsq(rows, (points**2).sum(axis=1), rcond=None)
    return np.array([x, y]), np.sqrt(rest + x * x + y * y)


def rings_of(puzzle):
    """For each move: the slots on its ring, clockwise, and the circle on which they are drawn."""
    found = {}
    for name in puzzle.alphabet.names:
        images = puzzle.turns[name].permutation
        start = min(puzzle.turns[name].slots)
        ring = [start]
        while images[ring[-1]] != start:
            ring.append(int(images[ring[-1]]))
        found[name] = (ring, *centre_and_radius(puzzle.flat.positions[ring]))
    return found


@pytest.mark.parametrize("name", NAMES)
def test_each_ring_is_a_circle_that_turns_clockwise_by_one_bead(name):
    puzzle = load(name)
    sizes = [int(n) for n in name.partition(":")[2].partition(",")[0].split("+")]
    for size, (ring, centre, radius) in zip(sizes, rings_of(puzzle).values(), strict=True):
        spokes = puzzle.flat.positions[ring] - centre
        assert np.linalg.norm(spokes, axis=1) == pytest.approx(radius)
        angles = np.unwrap(np.arctan2(*spokes.T))
        assert len(ring) == size
        assert (np.diff(angles) > 0).all() and angles[-1] - angles[0] < 2 * np.pi


@pytest.mark.parametrize("name", NAMES)
def test_rings_cross_at_the_beads_that_they_share(name):
    puzzle = load(name)
    rings = rings_of(puzzle)
    assert len(puzzle.slots) == sum(len(r) for r, _, _ in rings.values()) - {2: 2, 3: 6}[len(rings)]
    for one in rings:
        for other in rings:
            if one < other:
                shared = set(rings[one][0]) & set(rings[other][0])
                on_both = [
                    slot
                    for slot, at in enumerate(puzzle.flat.positions)
                    if all(abs(np.linalg.norm(at - rings[r][1]) - rings[r][2]) < 1e-9 for r in (one, other))
                ]
                assert len(shared) == 2 and sorted(shared) == on_both


@pytest.mark.parametrize(
    ("name", "p", "q"), [("rings:7+7,cross=2", 2, 2), ("rings:6+9,cross=2/3", 2, 3), ("rings:5+8,cross=4/1", 4, 1)]
)
def test_cross_counts_the_places_through_the_inside_of_the_other_ring(name, p, q):
    puzzle = load(name)
    (a, a_centre, a_radius), (b, b_centre, b_radius) = rings_of(puzzle).values()
    at = puzzle.flat.positions
    assert sum(np.linalg.norm(at[a] - b_centre, axis=1) < b_radius - 1e-6) == p - 1
    assert sum(np.linalg.norm(at[b] - a_centre, axis=1) < a_radius - 1e-6) == q - 1
    upper, lower = a[0], a[p]
    assert set(a) & set(b) == {upper, lower}
    assert at[upper][1] > at[lower][1] and a_centre[0] < b_centre[0]
    assert puzzle.turns["b"].permutation[lower] == (upper if q == 1 else b[b.index(lower) + 1])


@pytest.mark.parametrize(("name", "p", "g"), [("rings:12+12+12", 2, 1), ("rings:18+18+20,cross=3,gap=3", 3, 3)])
def test_cross_and_gap_of_three_rings_count_the_places_inside_others(name, p, g):
    puzzle = load(name)
    rings = rings_of(puzzle)
    for ring, one, other in (("a", "b", "c"), ("b", "c", "a"), ("c", "a", "b")):
        spots = puzzle.flat.positions[rings[ring][0]]
        inside = [np.linalg.norm(spots - rings[r][1], axis=1) < rings[r][2] + 1e-6 for r in (one, other)]
        assert [int(i.sum()) for i in inside] == [p + g + 1, p + g + 1]
        assert int((inside[0] & inside[1]).sum()) == g + 1
        first = [int((i & ~np.roll(i, 1)).argmax()) for i in inside]
        assert (first[1] - first[0]) % len(spots) == p


def order_in_sympy(puzzle):
    return PermutationGroup([Permutation(g.tolist()) for g in puzzle.generators]).order()


def test_the_only_two_small_rings_whose_group_is_unexpected():
    """Found by trying all pairs of rings of three to six beads that cross: 6 beads and a group of order 120, and two
    pairs whose beads come in blocks (SymPy)."""
    unexpected = {}
    for a in range(3, 7):
        for b in range(a, 7):
            for p in range(1, a):
                for q in range(1, b):
                    puzzle = load(f"rings:{a}+{b},cross={p}/{q}")
                    order, full = order_in_sympy(puzzle), factorial(len(puzzle.slots))
                    if order not in (full, full // 2):
                        unexpected[a, b, p, q] = order
    assert unexpected == {
        **{(4, 4, p, q): 120 for p in (1, 3) for q in (1, 3)},
        (4, 4, 2, 2): 24,
        (4, 6, 2, 3): 384,
        (6, 6, 3, 3): 1920,
    }


@gap.needs_gap
def test_two_rings_of_four_have_the_group_of_the_projective_line_of_six_points():
    assert is_that_of_the_projective_line([g.tolist() for g in load("rings:4+4,cross=1").generators])


def test_two_rings_of_four_reach_one_in_six():
    book = law_book(load("rings:4+4,cross=1"))
    assert (book.complete, book.index, book.order) == (True, 6, 120)


@gap.needs_gap
def test_orders_of_the_groups_of_rings_agree_with_gap():
    puzzles = [load(name) for name in NAMES]
    groups = "\n".join(f'Print(Size({gap.group([g.tolist() for g in puzzle.generators])}), "\\n");' for puzzle in puzzles)
    assert [law_book(puzzle).order for puzzle in puzzles] == [int(line) for line in gap.gap(groups)]


def test_equally_coloured_beads():
    puzzle = load("rings:7+7,cross=2,beads=6+6")
    assert puzzle.looks.tolist() == [0] * 6 + [1] * 6
    assert {token.paint for token in puzzle.flat.tokens} == {"a", "b"}


@pytest.mark.parametrize(
    ("name", "error", "words"),
    [
        ("rings:7", UnknownPuzzle, "two or three sizes"),
        ("rings:7+7+7+7", UnknownPuzzle, "two or three sizes"),
        ("rings:7+2", BadOption, "from 3 to 256"),
        ("rings:7+7,cross=7", BadOption, "cross on ring a is `7`: give a whole number from 1 to 6"),
        ("rings:7+5,cross=2/5", BadOption, "cross on ring b is `5`: give a whole number from 1 to 4"),
        ("rings:7+7,gap=1", BadOption, "leave it out for two"),
        ("rings:9+9+9,cross=4,gap=1", BadOption, "a ring of 9 beads is too small for cross=4 and gap=1"),
        ("rings:200+200", BadOption, "398 beads: at most 256"),
        ("rings:7+7,beads=6+7", BadOption, "describes 13 pieces, but there are 12"),
    ],
)
def test_rings_that_are_not_offered(name, error, words):
    with pytest.raises(error) as caught:
        load(name)
    assert words in str(caught.value)
