"""The proof by structure: it agrees with orders known from elsewhere, and never comes where something is tied.

Planted ties are the heart of it: where the group is smaller than signs and twist sums allow, nothing more may be certified.
"""

import json
from functools import lru_cache
from itertools import combinations
from math import factorial, prod

import numpy as np
import pytest
from sympy.combinatorics import Permutation

from oddswap.errors import BadPermutation, OddswapError
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.sectors import sectors
from oddswap.reasoning.laws.structure import certify
from oddswap.values.orbits import orbits
from tests.common import gap
from tests.common.published import cases
from tests.reasoning.known_groups import MATHIEU_11, MATHIEU_12, MATHIEU_23, MATHIEU_24, alternating, side_by_side, symmetric
from tests.reasoning.laws.assembled import any_action, element, plain, sectors_of


def certified(parts, gens, allowed):
    return certify(parts, [np.array(g) for g in gens], allowed)


def accepted(parts, gens, order):
    """The order is certified, and no greater one."""
    certificate = certified(parts, gens, order)
    assert certificate is not None and certificate.order == order
    assert {*certificate.large, *certificate.small} == set(parts)
    for factor in (2, 3, 4, 6):
        assert certified(parts, gens, factor * order) is None
    return certificate


def refused(parts, gens, order, indices=(1, 2, 3, 4, 6, 8, 12, 24)):
    """The order is that, and none of the greater ones is certified that signs and twist sums could leave over."""
    whole = prod(sector.assembly_order for sector in parts)
    claims = [whole // index for index in indices if whole // index > order]
    assert claims and StabiliserChain.from_generators(gens, len(gens[0])).order == order
    for claim in claims:
        assert certified(parts, gens, claim) is None


def tied(*images):
    """Generators that act on several sectors at once, on the i-th as in the i-th list."""
    starts = np.cumsum([0, *(len(gens[0]) for gens in images[:-1])])
    return [np.concatenate([np.add(g, s) for g, s in zip(each, starts, strict=True)]) for each in zip(*images, strict=True)]


def renumbered(gens, by):
    """The same generators when the points have changed their numbers."""
    undone = np.argsort(by)
    return [np.array(by)[np.array(g)[undone]] for g in gens]


def moved(thing, g):
    """Where a point goes, or a frozenset of points, or of such sets."""
    return frozenset(moved(x, g) for x in thing) if isinstance(thing, frozenset) else g[thing]


def orbit(gens, thing):
    found = [thing]
    for each in found:
        found.extend({moved(each, g) for g in gens}.difference(found))
    return found


def induced(gens, things):
    """The action on things made of points."""
    return [[things.index(moved(thing, g)) for thing in things] for g in gens]


def sets(*members):
    return [frozenset(each) for each in members]


# One sector: what a group of rearrangements may be

DEGREES = [*range(8, 25), 28, 31, 32, 33]


@lru_cache
def primitive_groups() -> dict[int, list[tuple[int, list[list[int]]]]]:
    """Order and generators of every primitive group of these degrees, from GAP's library."""
    lines = gap.gap(
        f"""for n in {DEGREES} do for i in [1..NrPrimitiveGroups(n)] do G := PrimitiveGroup(n, i);
        Print([n, Size(G), List(GeneratorsOfGroup(G), g -> List([1..n], x -> x^g))], "\\n"); od; od;"""
    )
    found: dict[int, list] = {}
    for n, order, gens in map(json.loads, lines):
        found.setdefault(n, []).append((order, [[x - 1 for x in g] for g in gens]))
    return found


@gap.needs_gap
@pytest.mark.parametrize("n", DEGREES)
def test_of_all_primitive_groups_only_alternating_and_symmetric_ones_are_taken_for_such(n):
    """Some of the others hold a cycle of prime length on all slots but two (n = 9, 33), but one (8, 14, 24 …), or none."""
    parts, large = sectors_of((n, 1)), 0
    for order, gens in primitive_groups()[n]:
        if order >= factorial(n) // 2:
            assert accepted(parts, gens, order).large == parts
            large += 1
        else:
            refused(parts, gens, order, indices=(1, 2))
    assert large == 2


@pytest.mark.parametrize("n, size", [(8, 4), (8, 2), (9, 3), (10, 5), (14, 7), (22, 11), (24, 12), (26, 13), (24, 2), (34, 17)])
def test_slots_that_stay_together_in_blocks(n, size):
    """S_size ≀ S_(n/size). Where n/2 is prime it holds a cycle of that length, just too short."""
    inside = [[*g, *range(size, n)] for g in symmetric(size)]
    across = [[size * g[x // size] + x % size for x in range(n)] for g in symmetric(n // size)]
    refused(sectors_of((n, 1)), inside + across, factorial(size) ** (n // size) * factorial(n // size))


@pytest.mark.parametrize("fixed", [1, 2])
def test_slots_that_some_others_never_reach(fixed):
    """Even a cycle of prime length on more than half of all slots is not enough then."""
    refused(sectors_of((8 + fixed, 1)), [[*g, *range(8, 8 + fixed)] for g in symmetric(8)], factorial(8))


@pytest.mark.parametrize(
    "gens, order", [(MATHIEU_11, 7920), (MATHIEU_12, 95040), (MATHIEU_23, 10200960), (MATHIEU_24, 244823040)]
)
def test_a_sporadic_group_beside_one_that_is_whole(gens, order):
    """Orders: Conway et al., Atlas of Finite Groups (1985)."""
    parts = sectors_of((len(gens[0]), 1), (len(gens[0]) + 1, 1))
    refused(parts, side_by_side(gens, symmetric(len(gens[0]) + 1)), order * factorial(len(gens[0]) + 1))


# Several sectors that are tied to each other


@pytest.mark.parametrize("n", [8, 9, 12, 24])
@pytest.mark.parametrize("group", [alternating, symmetric])
def test_two_sectors_that_move_alike(n, group):
    gens, by = group(n), np.random.default_rng(n).permutation(n)
    order = factorial(n) // (2 if group is alternating else 1)
    refused(sectors_of((n, 1), (n, 1)), tied(gens, renumbered(gens, by)), order)


def test_two_of_four_sectors_that_move_alike():
    rng = np.random.default_rng(4)
    free = [[rng.permutation(12) for _ in range(6)] for _ in range(3)]
    alike = tied(free[0], free[1], renumbered(free[0], rng.permutation(12)), free[2])
    refused(sectors_of(*[(12, 1)] * 4), alike, factorial(12) ** 3)
    accepted(sectors_of(*[(12, 1)] * 3), tied(*free), factorial(12) ** 3)


def test_two_sectors_that_move_alike_with_twists_of_their_own():
    rng = np.random.default_rng(5)
    parts = sectors_of((9, 3), (9, 3))
    slots = [rng.permutation(9) for _ in range(6)]
    gens = [element(parts, *((each, rng.integers(3, size=9)) for _ in parts)) for each in slots]
    refused(parts, gens, factorial(9) * 3**18)


def six_totals():
    """The six ways to share out the fifteen duads among five synthemes (Sylvester 1844)."""
    duads = sets(*combinations(range(6), 2))
    synthemes = [s for s in sets(*combinations(duads, 3)) if len(frozenset().union(*s)) == 6]
    totals = [t for t in sets(*combinations(synthemes, 5)) if len(frozenset().union(*t)) == 15]
    assert (len(synthemes), len(totals)) == (15, 6)
    return totals


@pytest.mark.parametrize("group, order", [(symmetric, 720), (alternating, 360)])
def test_the_outer_automorphism_of_six_points(group, order):
    gens = tied(group(6), induced(group(6), six_totals()))
    refused(sectors_of((6, 1), (6, 1)), gens, order)
    refused(sectors_of((6, 1), (6, 1), (9, 1)), side_by_side(gens, symmetric(9)), order * factorial(9))


def test_five_slots_and_six_that_move_as_one():
    """A_5 on six totals, beside eight slots that are free."""
    five = [[*g, 5] for g in alternating(5)]
    gens = tied(alternating(5), induced(five, six_totals()))
    assert orbits(gens, 11) == (tuple(range(5)), tuple(range(5, 11)))
    refused(sectors_of((5, 1), (6, 1), (8, 1)), side_by_side(gens, symmetric(8)), 60 * factorial(8))


@pytest.mark.parametrize("n, order", [(8, 20160), (7, 2520)])
def test_the_same_group_on_points_and_on_fifteen_spaces(n, order):
    """A_8 acts on the 15 affine spaces that 8 points can form, as GL(4, 2) on its vectors; and A_7 does, still transitively."""
    space = frozenset(sets(*(p for p in combinations(range(8), 4) if p[0] ^ p[1] ^ p[2] ^ p[3] == 0)))
    spaces = orbit(alternating(8), space)
    assert len(spaces) == 15
    eight = [[*g, *range(n, 8)] for g in alternating(n)]
    gens = tied(alternating(n), induced(eight, spaces))
    assert orbits(gens, n + 15) == (tuple(range(n)), tuple(range(n, n + 15)))
    parts = sectors_of((n, 1), (15, 1))
    refused(parts, gens, order)
    assert certified(parts, gens, order**2) is None


@pytest.mark.parametrize("n", [8, 9])
def test_the_same_group_on_slots_and_on_pairs_of_slots(n):
    pairs = sets(*combinations(range(n), 2))
    refused(sectors_of((n, 1), (len(pairs), 1)), tied(symmetric(n), induced(symmetric(n), pairs)), factorial(n))


# Twists


def twisted(n, m, *twists, group=symmetric, seed=0):
    """Rearrangements without a twist, and twists without a rearrangement; all seen from slots turned at random."""
    rng = np.random.default_rng(seed)
    parts = sectors_of((n, m))
    gens = [element(parts, plain(g)) for g in group(n)] + [element(parts, (range(n), t)) for t in twists]
    turned = element(parts, (range(n), rng.integers(m, size=n)))
    return parts, renumbered(gens, turned)


def at(n, **values):
    """Twists in a few slots: at(8, s0=1, s1=-1)."""
    twists = np.zeros(n, dtype=int)
    for name, value in values.items():
        twists[int(name[1:])] = value
    return twists


@pytest.mark.parametrize("n, m", [(8, 2), (12, 2), (9, 3), (8, 3), (8, 4), (10, 5), (12, 6)])
def test_twists_that_are_all_alike(n, m):
    """Where m divides n they have sum 0."""
    refused(*twisted(n, m, [1] * n), factorial(n) * m)
    refused(*twisted(n, m, [1] * n, group=alternating), factorial(n) // 2 * m)


@pytest.mark.parametrize("n", [8, 9])
def test_no_twist_at_all(n):
    refused(*twisted(n, 3), factorial(n))


@pytest.mark.parametrize("n", [8, 9, 12])
def test_twists_that_are_free_for_some_primes_only(n):
    refused(*twisted(n, 6, at(n, s0=3), [1] * n), factorial(n) * 2**n * 3)
    refused(*twisted(n, 6, at(n, s0=2), [1] * n), factorial(n) * 3**n * 2)
    refused(*twisted(n, 6, at(n, s0=2)), factorial(n) * 3**n)
    refused(*twisted(n, 4, at(n, s0=2), [1] * n), factorial(n) * 2**n * 2)
    refused(*twisted(n, 9, at(n, s0=3), [1] * n), factorial(n) * 3**n * 3)


@pytest.mark.parametrize("n, m", [(8, 2), (12, 2), (9, 3), (8, 3), (8, 4), (12, 4), (9, 9), (12, 6), (12, 12)])
@pytest.mark.parametrize("group", [symmetric, alternating])
def test_twists_bound_by_their_sum_alone(n, m, group):
    """Also where a prime divides both n and m, so that twists that are all alike may have sum 0."""
    rearranged = factorial(n) // (2 if group is alternating else 1)
    accepted(*twisted(n, m, at(n, s0=1, s1=-1), group=group), rearranged * m ** (n - 1))
    accepted(*twisted(n, m, at(n, s0=1), group=group), rearranged * m**n)


def test_twist_sums_tied_to_signs_to_each_other_and_to_small_sectors():
    """A swap goes with a flip; two twist sums agree; an odd rearrangement turns a single slot and swaps two."""
    rng = np.random.default_rng(1)
    shapes = [(12, 2), (8, 3), (8, 3), (1, 4), (2, 1)]
    parts, gens = sectors_of(*shapes), []
    for _ in range(8):
        actions = [list(any_action(rng, n, m)) for n, m in shapes]
        odd = [Permutation(slots.tolist()).is_odd for slots, _ in actions]
        actions[0][1][0] += odd[0] + sum(actions[0][1])
        actions[2][1][0] += sum(actions[1][1]) - sum(actions[2][1])
        actions[3:] = [([0], [2 * odd[1]]), plain([1, 0] if odd[1] else [0, 1])]
        gens.append(element(parts, *actions))
    order = factorial(12) * 2**11 * factorial(8) ** 2 * 3**15
    assert len(accepted(parts, gens, order).large) == 3


# Against GAP, and on real puzzles


def drawn(seed: int):
    """A few random elements of a random assembly group, tied in some way or in none."""
    rng = np.random.default_rng(seed)
    shapes = [(int(rng.integers(8, 12)), int(rng.integers(1, 5))) for _ in range(rng.integers(1, 4))]
    shapes.append((int(rng.integers(1, 8)), int(rng.integers(1, 4))))
    if rng.random() < 0.5:
        shapes[0] = (shapes[-2][0], shapes[0][1])
    tie = rng.choice(["none", "none", "alike", "even", "twists alike", "no twists", "blocks"])
    parts, gens = sectors_of(*shapes), []
    for _ in range(6):
        actions = [any_action(rng, n, m) for n, m in shapes]
        if tie == "alike" and shapes[0][0] == shapes[-2][0]:
            actions[-2] = (actions[0][0], actions[-2][1])
        if tie == "even":
            actions = [(slots[slots], twists) for slots, twists in actions]
        if tie == "twists alike":
            actions = [(slots, np.full_like(twists, twists[0])) for slots, twists in actions]
        if tie == "no twists":
            actions = [(slots, np.zeros_like(twists)) for slots, twists in actions]
        if tie == "blocks" and shapes[0][0] % 2 == 0:
            half = rng.permutation(shapes[0][0] // 2)
            actions[0] = (np.stack([2 * half, 2 * half + 1], axis=1).ravel(), actions[0][1])
        gens.append(element(parts, *actions))
    return parts, gens


@gap.needs_gap
def test_random_groups_against_gap():
    """What is certified is GAP's order; what signs and twist sums explain is certified."""
    groups = [drawn(seed) for seed in range(120)]
    orders = gap.gap("\n".join(f'Print(Size({gap.group(gens)}), "\\n");' for _, gens in groups))
    explained = 0
    for (parts, gens), order in zip(groups, map(int, orders), strict=True):
        index = prod(s.assembly_order for s in parts) // order
        quotient = prod(2 * s.twist for s in parts)
        for factor in (2, 3, 4, 6, 12):
            assert certified(parts, gens, factor * order) is None
        if certified(parts, gens, order) is None:
            assert quotient % index
        else:
            explained += index <= quotient
    assert 40 < explained < 110


def of(name, turns=None):
    puzzle = load(name)
    gens = [puzzle.turns[t].permutation for t in turns.split()] if turns else list(puzzle.generators)
    return sectors(puzzle, gens), gens


@pytest.mark.parametrize("name, order", cases("cube_orders", "puzzle", "order"))
def test_published_orders(name, order):
    accepted(*of(name), int(order))


def test_more_published_orders():
    """OEIS A080656 (4 × 4 × 4, every centre told apart, up to 24 rotations) and A309113 (here with twelve turning centres)."""
    accepted(*of("cube:4"), 24 * 707195371192426622240452051915172831683411968000000000)
    dodecahedron = 100669616553523347122516032313645505168688116411019768627200000000000
    assert accepted(*of("dodecahedron"), dodecahedron * 5**12).kernel_order == dodecahedron


@pytest.mark.parametrize(
    "name",
    [
        "cube:5",
        "cube:5,centres=marked",
        "cube:6",
        "cube:7,centres=marked",
        "octahedron",
        "tetrahedron",
        "corner-cube",
        "shape-mod:prism8",
        "cuboid:5x5x7",
        "cuboid:3x4x5",
        "cube:4,turns=half",
    ],
)
def test_the_order_is_that_of_the_chain(name):
    parts, gens = of(name)
    accepted(parts, gens, StabiliserChain.from_generators(gens, len(gens[0])).order)


def test_a_cube_of_thirteen_slabs():
    """Kinds, twist sums and the sign laws: one free sign for each of six depths (computed for n = 2 … 8), four centres' turns."""
    orbits_of_24 = 11**2 // 4 + 11 // 2
    order = factorial(8) * 3**7 * factorial(12) * 2**11 * 4**6 * factorial(24) ** orbits_of_24 // 2 ** (3 + orbits_of_24 - 6)
    parts, gens = of("cube:13")
    certificate = certified(parts, gens, order)
    assert certificate.order == order and len(certificate.large) == orbits_of_24 + 2


@pytest.mark.parametrize("name, turns", [("cube:4", "R U"), ("cube:5", "R U"), ("cuboid:3x4x4", None), ("cuboid:5x6x6", None)])
def test_puzzles_that_signs_and_twist_sums_do_not_explain(name, turns):
    """Two slabs alone tie kinds together; some wings of these boxes go about in two rings of four."""
    parts, gens = of(name, turns)
    refused(parts, gens, StabiliserChain.from_generators(gens, len(gens[0])).order)


@pytest.mark.parametrize("seed", range(12))
def test_any_seed_will_do(seed):
    parts, gens = of("cube:5")
    order = factorial(8) * 3**7 * factorial(12) * 2**11 * 4**6 * factorial(24) ** 3 // 2**4
    assert certify(parts, gens, order, seed).order == order


def test_no_turn_at_all():
    parts = sectors_of((9, 2), (1, 3))
    assert certify(parts, [], 1).order == 1
    assert certify(parts, [np.arange(21)], 1).order == 1
    assert certify(parts, [], 2) is None


def test_a_bound_that_is_too_small_is_an_error():
    parts, gens = of("cube:2")
    with pytest.raises(OddswapError, match="more than the bound"):
        certify(parts, gens, 40320 * 3**7 // 2)


def test_generators_of_other_sectors_are_refused():
    parts, _ = of("cube:3", "R U")
    with pytest.raises(BadPermutation, match="does not keep these sectors"):
        certify(parts, list(load("cube:3").generators), 1)
