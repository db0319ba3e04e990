import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.reasoning.groups import chain
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.values.orbits import checked
from tests.reasoning.known_groups import MATHIEU_12, MATHIEU_24, alternating, dihedral, symmetric, wreath

CASES = {
    "A_9": (alternating(9), 181440),
    "D_12": (dihedral(12), 24),
    "C_3 wr S_5": (wreath(3, 5), 3**5 * 120),
    "C_2 wr S_8": (wreath(2, 8), 2**8 * 40320),
    "M_12": (MATHIEU_12, 95040),
    "M_24": (MATHIEU_24, 244823040),
}


def rows(gens):
    return checked(gens, len(gens[0]))


@pytest.mark.parametrize("gens, order", CASES.values(), ids=CASES)
def test_completing_a_chain_that_is_only_its_top_level(gens, order):
    gens = rows(gens)
    top = chain.Transversal.at(0, gens).grown(gens, shortcuts=gens)
    assert StabiliserChain(gens.shape[1], (top,), proved=False).verify().order == order


@pytest.mark.parametrize("gens, order", CASES.values(), ids=CASES)
def test_completing_a_chain_that_was_cut_off_at_any_depth(gens, order):
    whole = StabiliserChain.from_generators(gens, len(gens[0]))
    for depth in range(1, len(whole.levels)):
        part = StabiliserChain(whole.degree, whole.levels[:depth], proved=False)
        assert part.order < order
        assert part.verify().order == order


@pytest.mark.parametrize("gens, order", CASES.values(), ids=CASES)
def test_every_way_back_leads_to_the_base_point_and_keeps_those_before(gens, order):
    before = []
    for level in StabiliserChain.from_generators(gens, len(gens[0])).levels:
        point = level.orbit[0]
        assert (level.back[np.arange(len(level.orbit)), level.orbit] == point).all()
        assert (level.back[:, before] == before).all() and (level.gens[:, before] == before).all()
        assert (level.row[level.orbit] == np.arange(len(level.orbit))).all()
        assert (level.row >= 0).sum() == len(level.orbit)
        before.append(point)


@pytest.mark.parametrize("gens, order", CASES.values(), ids=CASES)
def test_the_group_of_each_level_contains_those_below(gens, order):
    """What the completeness test relies on; by SymPy's own chains."""
    groups = [
        PermutationGroup([Permutation(p.tolist()) for p in level.gens])
        for level in StabiliserChain.from_generators(gens, len(gens[0])).levels
    ]
    sizes = [group.order() for group in groups]
    assert sizes[0] == order
    for above, below in zip(groups, groups[1:], strict=False):
        assert all(above.contains(p) for p in below.generators)


def test_products_do_the_first_permutation_first():
    first, then = rows([[1, 2, 0], [1, 0, 2]]), rows([[0, 2, 1], [2, 0, 1]])
    other_way_round = [[1, 0, 2], [2, 1, 0]]
    assert chain.products(first, then, np.array([0, 1])).tolist() == [[2, 1, 0], [0, 2, 1]]
    assert chain.products(then, first, np.array([0, 1])).tolist() == other_way_round


@pytest.mark.parametrize("degree", [2, 256, 257, 70000])
def test_inverses_undo_in_every_width(degree):
    perms = checked(np.array([np.random.default_rng(i).permutation(degree) for i in range(3)]), degree)
    undone = chain.products(perms, chain.inverses(perms), np.arange(3))
    assert (undone == np.arange(degree)).all()
    assert undone.dtype == np.min_scalar_type(degree - 1)


def test_mixing_goes_on_generating_the_same_group():
    gens = rows(MATHIEU_12)
    pool = np.resize(gens, (chain.POOL, 12))
    mixed = chain.mix(pool, np.random.default_rng(0), 24)
    assert len(np.unique(mixed, axis=0)) > len(gens)
    group = PermutationGroup([Permutation(p.tolist()) for p in mixed])
    assert group.order() == 95040


def test_random_subproducts_leave_a_subgroup_half_of_the_time():
    """Seress 2003, lemma 2.3.3 (number from memory): at least half lie outside a given proper subgroup."""
    gens = rows(symmetric(6) + alternating(6))
    rng = np.random.default_rng(1)
    pools = np.concatenate([chain.random_subproducts(gens, rng) for _ in range(40)])
    even = [Permutation(p.tolist()).is_even for p in pools]
    assert 0.4 < np.mean(even) < 0.6


def test_sifting_tells_where_each_row_was_stuck():
    levels = StabiliserChain.from_generators(alternating(5), 5).levels
    perms = rows([[0, 1, 2, 3, 4], [1, 2, 0, 3, 4], [1, 0, 2, 3, 4]])
    left, depth = chain.sift(levels, perms)
    assert depth.tolist() == [3, 3, 3]
    assert (left[:2] == np.arange(5)).all() and (left[2] != np.arange(5)).sum() == 2
    assert len(chain.outside(levels, perms)) == 1
    rotations = StabiliserChain.from_generators([[1, 2, 0, 3, 4]], 5).levels
    moved = rows([[0, 1, 2, 4, 3], [3, 1, 2, 0, 4], [2, 0, 1, 3, 4]])
    left, depth = chain.sift(rotations, moved)
    assert depth.tolist() == [1, 0, 1]
    assert left.tolist() == [[0, 1, 2, 4, 3], [3, 1, 2, 0, 4], [0, 1, 2, 3, 4]]
