import json

import numpy as np
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.values.orbits import block_system, orbits
from tests.common import gap
from tests.reasoning.known_groups import MATHIEU_11, alternating, dihedral, random_generators, wreath


def random_groups(count: int, seed: int) -> list[np.ndarray]:
    rng = np.random.default_rng(seed)
    return [random_generators(rng, int(rng.integers(2, 31))) for _ in range(count)]


def is_transitive(gens, degree: int) -> bool:
    return len(orbits(gens, degree)) == 1


def minimal_blocks(gens, degree: int) -> list[tuple[tuple[int, ...], ...]]:
    """The smallest of the block systems that two points in one block force, without the trivial one."""
    systems = {block_system(gens, degree, together=(0, other)) for other in range(1, degree)}
    proper = sorted((s for s in systems if len(s) > 1), key=lambda s: (len(s[0]), s))
    return [s for s in proper if not any(set(other[0]) < set(s[0]) for other in proper)]


def test_orbits_agree_with_sympy():
    lengths = set()
    for gens in random_groups(60, seed=21):
        degree = gens.shape[1]
        group = PermutationGroup([Permutation(p.tolist()) for p in gens])
        expected = {frozenset(orbit) for orbit in group.orbits()}
        found = orbits(gens, degree)
        assert {frozenset(orbit) for orbit in found if len(orbit) > 1} == {o for o in expected if len(o) > 1}
        assert sorted(x for orbit in found for x in orbit) == list(range(degree))
        assert group.is_transitive() == (len(found) == 1)
        lengths.update(map(len, found))
    assert len(lengths) > 10


def test_a_single_long_cycle_is_one_orbit():
    cycle = np.roll(np.random.default_rng(0).permutation(1000), 1)
    order = np.argsort(cycle)
    images = np.empty(1000, dtype=int)
    images[order] = np.roll(order, -1)
    assert is_transitive([images], 1000)


def transitive_groups(count: int) -> list[np.ndarray]:
    groups = [g for g in random_groups(40 * count, seed=22) if is_transitive(g, g.shape[1])]
    named = [dihedral(12), dihedral(30), wreath(3, 4), wreath(2, 6), alternating(7), MATHIEU_11]
    return [np.array(g) for g in named] + groups[:count]


@gap.needs_gap
def test_blocks_agree_with_gap():
    groups = transitive_groups(80)
    program = [
        f"""G := {gap.group(gens)};; d := [1..{gens.shape[1]}];;
        b := Filtered(AllBlocks(G), x -> Size(x) < Size(d));;
        m := Filtered(b, x -> not ForAny(b, y -> Size(y) < Size(x) and IsSubset(x, y)));;
        Print([IsPrimitive(G, d), SortedList(List(m, x -> SortedList(List(x, i -> i - 1))))], "\\n");"""
        for gens in groups
    ]
    smallest = [sorted(list(s[0]) for s in minimal_blocks(g, g.shape[1])) for g in groups]
    found = [[not blocks, blocks] for blocks in smallest]
    answers = [json.loads(line) for line in gap.gap("\n".join(program))]
    assert answers == found
    assert min(sum(p for p, _ in found), sum(not p for p, _ in found)) > 10


def test_the_blocks_of_a_wreath_product_are_its_slots():
    assert minimal_blocks(wreath(3, 4), 12) == [((0, 1, 2), (3, 4, 5), (6, 7, 8), (9, 10, 11))]


def test_every_system_is_kept_by_the_group():
    gens = dihedral(12)
    for other in range(1, 12):
        system = block_system(gens, 12, together=(0, other))
        parts = {frozenset(part) for part in system}
        assert any({0, other} <= part for part in parts)
        assert {frozenset(p[x] for x in part) for p in gens for part in parts} == parts


def test_small_degrees():
    assert orbits([], 0) == () and orbits([], 2) == ((0,), (1,))
    assert block_system([[1, 0]], 2, together=(0, 1)) == ((0, 1),)
