"""What hands could do: generators of the assembly groups, whose orders SymPy tells, against n! and m to the n."""

from math import factorial, prod

import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.hands import hand_generators, kind_generators, whole_kinds
from oddswap.reasoning.laws.law_book import law_book

NAMES = ["cube:2", "cube:3", "tetrahedron,tips=no", "cuboid:2x2x3", "cuboid:2x3x4,turns=half", "tiles:3x3", "cube:3,turns=R+U"]


def order(generators):
    return int(PermutationGroup([Permutation(g.tolist()) for g in generators]).order())


@pytest.mark.parametrize("name", NAMES)
def test_whole_kinds_are_assembled_in_as_many_ways_as_a_wreath_product_has(name):
    puzzle = load(name)
    wreath = prod(kind.twist ** (n := len([p for p in kind.places if p != puzzle.blank])) * factorial(n) for kind in puzzle.kinds)
    assert prod(s.assembly_order for s in whole_kinds(puzzle)) == wreath
    assert order(kind_generators(puzzle)) == wreath


@pytest.mark.parametrize("name", NAMES)
def test_hands_that_keep_the_sectors_make_each_of_their_wreath_products(name):
    book = law_book(load(name))
    assert order(hand_generators(book.puzzle, book.sectors)) * book.places == book.assembly_order
