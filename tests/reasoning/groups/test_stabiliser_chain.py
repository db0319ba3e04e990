import dataclasses
from collections import Counter
from itertools import permutations
from math import factorial

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.errors import BadPermutation, OddswapError
from oddswap.reasoning.groups.chain import identities, products, sift
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.values.orbits import checked, orbits
from tests.common import gap
from tests.reasoning.groups.cells import cube_moves
from tests.reasoning.known_groups import (
    MATHIEU_11,
    MATHIEU_12,
    MATHIEU_23,
    MATHIEU_24,
    alternating,
    dihedral,
    random_generators,
    side_by_side,
    symmetric,
    wreath,
)

KNOWN = {
    "no generator": ([], 5, 1),
    "the identity alone": ([[0, 1, 2]], 3, 1),
    "no point": ([], 0, 1),
    "one swap": ([[0, 2, 1]], 3, 2),
    **{f"S_{n}": (symmetric(n), n, factorial(n)) for n in (3, 8, 25)},
    "S_10 by all its swaps": (
        [[b if x == a else a if x == b else x for x in range(10)] for a in range(10) for b in range(a)],
        10,
        factorial(10),
    ),
    **{f"A_{n}": (alternating(n), n, factorial(n) // 2) for n in (3, 9, 24)},
    **{f"D_{n}": (dihedral(n), n, 2 * n) for n in (5, 12, 300)},
    **{f"C_{m} wr S_{n}": (wreath(m, n), m * n, m**n * factorial(n)) for m, n in [(3, 8), (2, 12), (4, 6), (2, 40)]},
    "60 swaps apart": (side_by_side(*[[[1, 0]]] * 60), 120, 2**60),
    "S_6 × A_5 × D_7": (side_by_side(symmetric(6), alternating(5), dihedral(7)), 18, 720 * 60 * 14),
    # Orders: Conway et al., Atlas of Finite Groups (1985).
    "M_11": (MATHIEU_11, 11, 7920),
    "M_12": (MATHIEU_12, 12, 95040),
    "M_23": (MATHIEU_23, 23, 10200960),
    "M_24": (MATHIEU_24, 24, 244823040),
}


def random_elements(chain: StabiliserChain, rng: np.random.Generator, count: int) -> np.ndarray:
    """Elements drawn evenly and independently, shape (count, n): one of each transversal, multiplied."""
    rows = identities(count, checked([], chain.degree))
    for level in chain.levels:
        rows = products(rows, level.back, rng.integers(len(level.orbit), size=count))
    return rows.astype(np.intp)


@pytest.mark.parametrize("gens, degree, order", KNOWN.values(), ids=KNOWN)
def test_orders_of_known_groups(gens, degree, order):
    for seed in range(3):
        chain = StabiliserChain.from_generators(gens, degree, seed)
        assert chain.order == order
        assert chain.contains_many(gens).all()
    bounded = StabiliserChain.from_generators(gens, degree, order_bound=order)
    assert bounded.proved and bounded.order == order


@pytest.mark.parametrize("gens, degree, order", KNOWN.values(), ids=KNOWN)
def test_verification_proves_the_order(gens, degree, order):
    proved = StabiliserChain.from_generators(gens, degree).verify()
    assert proved.proved and proved.order == order


def cube_order(n: int) -> int:
    """Kinds, twist sums and the sign laws of the cubes: one free sign for each depth of slab.

    The sign laws: computed independently for n = 2 … 8. A fixed centre's quarter turns count as a sign too.
    """
    odd, orbits_of_24 = n % 2, (n - 2) ** 2 // 4 + (n - 2) // 2 if n > 2 else 0
    pieces = factorial(8) * 3**7 * (factorial(12) * 2**11 * 4**6) ** odd * factorial(24) ** orbits_of_24
    signs = 1 + 2 * odd + orbits_of_24
    return pieces // 2 ** (signs - n // 2)


@pytest.mark.parametrize("n", range(2, 8))
def test_orders_of_cubes_with_every_piece_told_apart(n):
    moves = cube_moves(n)
    assert StabiliserChain.from_generators(moves, moves.shape[1]).order == cube_order(n)


def test_orders_of_cubes_in_published_tables():
    assert cube_order(2) == 24 * 3674160  # OEIS A075152, times the 24 holdings
    assert cube_order(3) == 88580102706155225088000  # OEIS A080661
    assert cube_order(4) == 24 * 707195371192426622240452051915172831683411968000000000  # OEIS A080656


def action(moves: np.ndarray, points: list[int]) -> list[list[int]]:
    """What the moves do to some points that they keep together, counted from 0."""
    place = {x: i for i, x in enumerate(points)}
    return [[place[int(p[x])] for x in points] for p in moves]


def test_the_worked_example_of_the_cube():
    """M. Schönert's worked example (GAP web pages, 1993): corner action, edge action, and half their product."""
    moves = cube_moves(3)
    one, other = ([*orbit] for orbit in orbits(moves, 72) if len(orbit) == 24)
    actions = [action(moves, points) for points in (one, other, one + other)]
    sizes = [StabiliserChain.from_generators(gens, len(gens[0])).order for gens in actions]
    assert sorted(sizes) == [88179840, 980995276800, 88179840 * 980995276800 // 2]


def random_groups(count: int, largest: int, seed: int) -> list[np.ndarray]:
    rng = np.random.default_rng(seed)
    return [random_generators(rng, int(rng.integers(2, largest + 1))) for _ in range(count)]


def trials(gens: np.ndarray, chain: StabiliserChain, rng: np.random.Generator) -> np.ndarray:
    """Elements, elements with two points exchanged, and arrangements at random."""
    degree = gens.shape[1]
    inside = random_elements(chain, rng, 4)
    exchanged = inside.copy()
    exchanged[:, [0, 1]] = exchanged[:, [1, 0]]
    return np.concatenate([gens, inside, exchanged, [rng.permutation(degree) for _ in range(4)]])


def test_order_and_membership_agree_with_sympy():
    rng = np.random.default_rng(1)
    seen = Counter()
    for gens in random_groups(40, largest=14, seed=11):
        chain = StabiliserChain.from_generators(gens, gens.shape[1])
        other = PermutationGroup([Permutation(p.tolist()) for p in gens])
        assert chain.order == other.order()
        perms = trials(gens, chain, rng)
        expected = [other.contains(Permutation(p.tolist())) for p in perms]
        assert chain.contains_many(perms).tolist() == expected
        seen.update(expected)
    assert min(seen[True], seen[False]) > 50


@gap.needs_gap
def test_order_and_membership_agree_with_gap():
    rng = np.random.default_rng(2)
    program, found = [], []
    for gens in random_groups(150, largest=40, seed=12):
        chain = StabiliserChain.from_generators(gens, gens.shape[1])
        perms = trials(gens, chain, rng)
        inside = chain.contains_many(perms).tolist()
        found.append(f"{chain.order} {' '.join(str(answer).lower() for answer in inside)}")
        program.append(f"""G := {gap.group(gens)};; Print(Size(G));
            for p in {gap.permutations(perms)} do Print(" ", p in G); od; Print("\\n");""")
    assert gap.gap("\n".join(program)) == found
    answers = Counter(" ".join(found).split())
    assert min(answers["true"], answers["false"]) > 200


@gap.needs_gap
def test_the_mathieu_groups_are_what_their_names_say():
    """Simple, as often transitive as they should be, and of the order of GAP's library group."""
    groups = {11: MATHIEU_11, 12: MATHIEU_12, 23: MATHIEU_23, 24: MATHIEU_24}
    program = [
        f"""G := {gap.group(gens)};;
        Print([IsSimpleGroup(G), Transitivity(G, [1..{n}]), Size(G) = Size(MathieuGroup({n}))], "\\n");"""
        for n, gens in groups.items()
    ]
    assert gap.gap("\n".join(program)) == [f"[ true, {times}, true ]" for times in (4, 5, 4, 5)]


def test_membership_of_every_permutation_of_six_points():
    """The group of the six-point block system {02 | 13 | 45} with even slot permutations, against its definition."""
    chain = StabiliserChain.from_generators([[2, 3, 4, 5, 0, 1], [1, 0, 3, 2, 4, 5]], 6)

    def belongs(p):
        slots = [p[2 * s] // 2 for s in range(3)]
        whole = all(p[2 * s + 1] // 2 == slots[s] for s in range(3))
        cyclic = (slots[1] - slots[0]) % 3 == 1 and (slots[2] - slots[1]) % 3 == 1
        return whole and cyclic and sum(p[2 * s] % 2 for s in range(3)) % 2 == 0

    every = np.array(list(permutations(range(6))))
    expected = [belongs(p) for p in every]
    assert sum(expected) == 12 == chain.order
    assert chain.contains_many(every).tolist() == expected


def test_a_bound_that_is_too_small_is_reported():
    with pytest.raises(OddswapError, match="at least 120 elements, more than the bound 60"):
        StabiliserChain.from_generators(symmetric(5), 5, order_bound=60)


def test_a_bound_that_is_not_reached_proves_nothing():
    chain = StabiliserChain.from_generators(alternating(7), 7, order_bound=factorial(7))
    assert chain.order == factorial(7) // 2 and not chain.proved


def test_sifting_fixes_the_base_points_that_were_passed():
    chain = StabiliserChain.from_generators(MATHIEU_12, 12)
    drawn = random_elements(chain, np.random.default_rng(3), 1)
    assert sift(chain.levels, drawn)[1] == [5]
    rng = np.random.default_rng(3)
    depths = set()
    for _ in range(40):
        (left,), (depth,) = sift(chain.levels, rng.permutation(12)[None])
        assert all(left[x] == x for x in chain.base[:depth])
        depths.add(depth)
        assert (depth == len(chain.base) and (left == np.arange(12)).all()) == chain.contains(left)
    assert depths == {5}  # sharply 5-transitive: five images always fit, and leave nothing else free


def test_random_elements_are_spread_evenly():
    """24 elements drawn 2400 times; 49.7 is the 0.1 % point of chi-square with 23 degrees of freedom (memory)."""
    chain = StabiliserChain.from_generators(symmetric(4), 4)
    drawn = Counter(map(tuple, random_elements(chain, np.random.default_rng(4), 2400).tolist()))
    assert len(drawn) == 24
    assert sum((count - 100) ** 2 / 100 for count in drawn.values()) < 49.7


def test_the_same_seed_gives_the_same_chain():
    one, two = (StabiliserChain.from_generators(MATHIEU_24, 24, seed=5) for _ in range(2))
    assert one.base == two.base
    assert all((a.back == b.back).all() for a, b in zip(one.levels, two.levels, strict=True))


def test_the_base_can_be_told_where_to_begin():
    chain = StabiliserChain.from_generators(symmetric(6), 6, first=[4, 2])
    assert chain.base[:2] == (4, 2)
    assert StabiliserChain.from_generators([[1, 0, 2, 3]], 4, first=[3, 1]).base == (1,)


def test_the_chain_is_frozen():
    chain = StabiliserChain.from_generators(symmetric(4), 4)
    with pytest.raises(dataclasses.FrozenInstanceError):
        chain.proved = True
    with pytest.raises(ValueError, match="read-only"):
        chain.levels[0].back[0, 0] = 1


@pytest.mark.parametrize(
    "gens, message",
    [
        ([[0, 1]], "needs 3 whole numbers"),
        ([[0, 1, 2], [0, 1]], "needs 3 whole numbers"),
        ([[0.0, 1.0, 2.0]], "needs 3 whole numbers"),
        ([[]], "needs 3 whole numbers"),
        ([[0, 1, 2], [0, 0, 2]], "row 1 is no permutation"),
        ([[0, 1, 3]], "row 0 is no permutation"),
        ([[0, 1, -1]], "row 0 is no permutation"),
    ],
)
def test_rows_that_are_no_permutations_are_refused(gens, message):
    with pytest.raises(BadPermutation, match=message):
        StabiliserChain.from_generators(gens, 3)
    with pytest.raises(BadPermutation, match=message):
        StabiliserChain.from_generators(symmetric(3), 3).contains_many(gens)
