"""Characters against every element of small abelian groups, and the sign laws of n × n × n cubes against their table."""

from collections import Counter
from itertools import combinations
from math import prod

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.characters import count_characters, count_values, laws_of
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.laws.sectors import measure, measures
from tests.reasoning.abelian import everything, span
from tests.reasoning.laws.assembled import any_action, element, sectors_of

SHAPES = [
    [(3, 1), (5, 2)],
    [(2, 6)],
    [(4, 4), (2, 2), (1, 8)],
    [(1, 9), (3, 3), (2, 1)],
    [(6, 12)],
    [(1, 5), (2, 10)],
    [(3, 2), (3, 2), (3, 2)],
    [(1, 4), (1, 4), (4, 1), (2, 6)],
]


class Case:
    """Sectors, one to three generators, up to two relabellings, and the laws, with every element that values can be."""

    def __init__(self, seed):
        rng = np.random.default_rng(seed)
        self.parts = sectors_of(*SHAPES[seed % len(SHAPES)])
        anything = [self.any_element(rng) for _ in range(5)]
        self.generators, self.unseen = anything[: rng.integers(1, 4)], anything[3 : 3 + rng.integers(3)]
        self.laws = laws_of(self.parts, self.generators, self.unseen)
        self.every = measures(self.parts)
        self.moduli = [part.modulus for part in self.every]

    def any_element(self, rng):
        return element(self.parts, *(any_action(rng, len(s.slots), s.twist) for s in self.parts))

    def spanned(self, generators):
        return span([measure(self.every, g) for g in generators], self.moduli)

    def kept(self, laws):
        """The elements that satisfy all of these laws."""
        elements = everything(self.moduli)
        return elements[kept(laws, self.every, elements)]


def weights_of(laws, every):
    return [[dict(zip(law.parts, law.weights, strict=True)).get(part, 0) for part in every] for law in laws]


def kept(laws, every, elements):
    """Which rows of coordinate values satisfy all of the laws."""
    inside = np.ones(len(elements), dtype=bool)
    for law, weights in zip(laws, weights_of(laws, every), strict=True):
        inside &= elements @ np.array(weights) % law.modulus == 0
    return inside


@pytest.mark.parametrize("seed", range(48))
def test_laws_are_the_characters_that_vanish_on_the_turns(seed):
    """What they allow is exactly the subgroup that the generators' values span, element by element."""
    case, rng = Case(seed), np.random.default_rng(seed)
    reached = case.spanned(case.generators)
    assert {tuple(row) for row in case.kept(case.laws).tolist()} == {tuple(row) for row in reached.tolist()}
    assert count_characters(case.parts, case.generators) == prod(case.moduli) // len(reached)
    for law in case.laws:
        g = case.any_element(rng)
        (weights,) = weights_of([law], case.every)
        assert law.value(g) == int(np.dot(weights, measure(case.every, g)) % law.modulus)


@pytest.mark.parametrize("seed", range(48))
def test_laws_that_are_seen_come_from_turns_and_lookalikes_together(seed):
    """The seen ones alone allow what generators and relabellings span together; each unseen one is broken by a relabelling."""
    case = Case(seed)
    both = [*case.generators, *case.unseen]
    assert len(case.kept([law for law in case.laws if law.seen])) == len(case.spanned(both))
    assert count_characters(case.parts, both) == prod(case.moduli) // len(case.spanned(both))
    for law in case.laws:
        assert law.seen == (not any(law.value(k) for k in case.unseen))


@pytest.mark.parametrize("seed", range(48))
def test_no_law_is_written_with_a_larger_modulus_than_it_needs(seed):
    for law in Case(seed).laws:
        assert all(0 < w < law.modulus for w in law.weights) and len(set(law.parts)) == len(law.parts)
        assert np.gcd.reduce([*law.weights, law.modulus]) == 1
        assert law.modulus > 1 and len([p for p in range(2, law.modulus + 1) if law.modulus % p == 0 and is_prime(p)]) == 1
        whats = {part.what for part in law.parts}
        assert law.type == ("mixed" if len(whats) == 2 else whats.pop())


@pytest.mark.parametrize("seed", range(48))
def test_laws_come_in_order_of_their_type_and_those_that_are_seen_first(seed):
    order = [(("sign", "twist", "mixed").index(law.type), not law.seen) for law in Case(seed).laws]
    assert order == sorted(order)


@pytest.mark.parametrize("seed", range(24))
def test_the_values_that_laws_take_are_counted_one_by_one(seed):
    """At products of some elements that keep half of the laws: the values of the other half, all listed."""
    case, rng = Case(seed), np.random.default_rng(seed)
    steps = [case.any_element(rng) for _ in range(2)]
    laws = laws_of(case.parts, case.generators[:1], [])
    some, others = laws[::2], laws[1::2]
    reached = case.spanned(steps)
    inside = reached[kept(others, case.every, reached)]
    values = {
        tuple(int(row @ np.array(weights)) % law.modulus for law, weights in zip(some, weights_of(some, case.every), strict=True))
        for row in inside
    }
    assert count_values(some, others, steps) == len(values)


def is_prime(n):
    return all(n % d for d in range(2, n))


def test_without_turns_everything_is_fixed_and_with_all_of_them_nothing():
    parts = sectors_of((3, 2), (2, 4))
    assert count_characters(parts, []) == 2 * 2 * 2 * 4
    swaps = [element(parts, ([1, 0, 2], [0, 0, 0]), ([0, 1], [0, 0])), element(parts, ([0, 1, 2], [1, 0, 0]), ([0, 1], [0, 0]))]
    swaps += [element(parts, ([0, 1, 2], [0, 0, 0]), way) for way in (([1, 0], [0, 0]), ([0, 1], [1, 0]))]
    assert laws_of(parts, swaps, []) == () and count_characters(parts, swaps) == 1


def families(puzzle):
    """The kinds with signs, each with the depths of the layers that its name tells, from the nearer face, counted from 0."""
    found = {}
    for kind in puzzle.kinds:
        if len(kind.slots) > 1:
            _, _, layers = kind.slots[0].partition(".")
            found[kind] = (kind.family, tuple(sorted(int(k) - 1 for k in layers[1::2])))
    return found


def signs_by_table(family, depths, depth):
    """1 where a quarter turn of the slab at this depth is odd: e₀ of the outer one, e_d of that at depth d.

    Corners, middle edges and diagonal centres e₀; wings at depth d e_d; T-centres e₀e_d; oblique centres e₀e_ce_d. Computed
    independently for n = 2 … 8 for the project's table of check values (for wings and the labelled centres of n = 4:
    Bonzio, Loi, Peruzzi, Math. Slovaca 67 (2017) 561-572).
    """
    outer = depth == 0
    return {
        "corners": outer,
        "edges": outer,
        "diagonal centres": outer,
        "wings": depth in depths,
        "T-centres": outer ^ (depth in depths),
        "oblique centres": outer ^ (depth in depths),
    }[family]


@pytest.mark.parametrize("n", range(2, 9))
def test_signs_of_quarter_turns_are_those_of_the_table(n):
    puzzle = load(f"cube:{n}")
    for kind, (family, depths) in families(puzzle).items():
        (sign,) = (c for c in measures(law_book(puzzle).sectors) if c.sector.kind is kind and c.what == "sign")
        for turn in puzzle.turns.values():
            odd = turn.step.amount != 2 and signs_by_table(family, depths, turn.step.first - 1 if turn.step.first else 0)
            assert measure([sign], turn.permutation) == (int(odd),), (kind.name, turn.name)


@pytest.mark.parametrize("n", range(2, 9))
def test_sign_laws_of_cubes_are_all_that_the_table_gives(n):
    """Every sum of signs that the table keeps even at every depth is kept even by the laws, and no other."""
    puzzle = load(f"cube:{n}")
    book, kinds = law_book(puzzle), families(puzzle)
    rows = np.array([[signs_by_table(*about, depth) for about in kinds.values()] for depth in range(n // 2)], dtype=int)
    laws = [law for law in book.laws if law.type == "sign"]
    told = [[int(kind in {part.sector.kind for part in law.parts}) for kind in kinds] for law in laws]
    weights = np.array(told, dtype=int).reshape(-1, len(kinds))
    assert not (weights @ rows.T % 2).any()
    assert rank(weights) == len(laws) == len(kinds) - rank(rows)
    assert rank(rows) == n // 2, "the signs of slabs at different depths are free"
    assert [law.name for law in book.laws if law.type == "mixed"] == (
        ["sign of corners and quarter turns of centres U, D, F, B, L and R"] if n % 2 else []
    )
    assert [law.name for law in book.laws if law.type == "twist"] == (["flips of edges"] if n % 2 else []) + ["twists of corners"]


def rank(rows):
    """Over the field of two elements, by counting all sums of the rows."""
    sums = {(0,) * rows.shape[1]}
    for row in rows % 2:
        sums |= {tuple((np.array(s) + row) % 2) for s in sums}
    return len(sums).bit_length() - 1


def test_no_condition_on_the_wings_of_the_cube_of_four():
    """Bonzio, Loi, Peruzzi, Math. Slovaca 67 (2017) 561-572, arXiv:1611.07437, second-hand, computed."""
    for name in ("cube:4", "cube:4,centres=marked"):
        laws = law_book(load(name)).laws
        assert sorted(law.name for law in laws) == ["sign of corners and diagonal centres", "twists of corners"]
        assert [law.seen for law in laws] == [name != "cube:4", True]


@pytest.mark.parametrize("n", range(4, 8))
def test_equal_centres_hide_every_law_of_theirs_and_marks_hide_none(n):
    hidden = {law.name for law in law_book(load(f"cube:{n}")).laws if not law.seen}
    centres = {law.name for law in law_book(load(f"cube:{n}")).laws if "centres" in law.name}
    assert hidden == centres != set()
    assert all(law.seen for law in law_book(load(f"cube:{n},centres=marked")).laws)
    assert not lookalikes(load(f"cube:{n},centres=marked")).generators()


@pytest.mark.parametrize("n", range(2, 8))
def test_the_pieces_of_a_cube_are_counted(n):
    """8 corners; 12 middle edges if n is odd; 24 wings at each depth; 24 in each kind of centre."""
    inner = (n - 2) // 2
    expected = Counter({"corners": 1, "wings": inner, "diagonal centres": inner})
    expected["oblique centres"] = inner * (inner - 1)
    if n % 2:
        expected.update({"edges": 1, "T-centres": inner, "centres": 6 if n > 2 else 0})
    found = Counter(kind.family for kind in load(f"cube:{n}").kinds)
    assert found == +expected
    sizes = {"corners": 8, "edges": 12, "centres": 1}
    assert all(len(kind.slots) == sizes.get(kind.family, 24) for kind in load(f"cube:{n}").kinds)


def test_depths_of_kinds_are_told_apart():
    kinds = families(load("cube:7"))
    assert Counter(kinds.values()) == {
        **{(family, ()): 1 for family in ("corners", "edges")},
        **{("wings", (d,)): 1 for d in (1, 2)},
        **{("T-centres", (d,)): 1 for d in (1, 2)},
        **{("diagonal centres", (d, d)): 1 for d in (1, 2)},
        **{("oblique centres", pair): 2 for pair in combinations((1, 2), 2)},
    }
