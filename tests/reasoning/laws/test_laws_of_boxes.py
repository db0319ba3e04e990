"""The laws of boxes by half turns and in the box, against GAP: that the list is right, and that it is whole.

A is what hands can do without leaving the turns' orbits: on each orbit of slots a wreath product. G is what the turns do. What
characters tell is A/A'G; what four pieces tell that fall into pairs is seen in the action on all such pairings. GAP
computes both, and knows nothing of this project's sectors, images and stabiliser chains.
"""

import json
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from math import gcd, prod

import numpy as np
import pytest

from oddswap.reasoning.laws.law_book import law_book
from tests.common import gap
from tests.common.box_labels import Model, model
from tests.reasoning.known_groups import side_by_side, wreath

SIDES = [(2, 2, 3), (2, 3, 3), (3, 3, 4), (2, 3, 4), (2, 2, 4)]
COPIES = [(sides, turns) for sides in SIDES for turns in ("half", "box")]
PAIRINGS = (((0, 1), (2, 3)), ((0, 2), (1, 3)), ((0, 3), (1, 2)))

PROGRAM = r"""
A := {hands};; G := {turns};; H := {pairings};;
Print(Size(A), "\n", IsSubgroup(A, G), "\n", Size(G), "\n");
C := ClosureGroup(DerivedSubgroup(A), G);;
Print(AbelianInvariants(FactorGroup(A, C)), "\n");
a := ActionHomomorphism(A, H, OnSetsSets);;
Print(Index(C, G), "\n", Index(Image(a, C), Image(a, G)), "\n");
some := Concatenation(List([1 .. 12], i -> PseudoRandom(A)), List([1 .. 24], i -> PseudoRandom(C)));;
Print(List(some, p -> List(ListPerm(p, {points}), x -> x - 1)), "\n");
Print(List(some, function(p) if p in G then return 2; elif p in C then return 1; fi; return 0; end), "\n");
"""


@dataclass(frozen=True)
class Said:
    """What GAP says of a copy: orders of A and G, the invariants of A/A'G, the indices of G in A'G and of their actions on
    pairings, and random elements, each with 2 if it is in G, 1 if only in A'G, or 0."""

    hands: int
    turns: int
    invariants: list[int]
    index: int
    index_on_pairings: int
    elements: list[list[int]]
    places: list[int]


@cache
def said() -> dict[tuple, Said]:
    programs = []
    for copy in COPIES:
        one = model(*copy)
        turns = [one.narrowed(g) for g in one.puzzle.generators]
        programs.append(
            PROGRAM.format(
                hands=gap.group(hands(one)), turns=gap.group(turns), pairings=json.dumps(pairings(one)), points=len(one.labels)
            )
        )
    lines = gap.gap("\n".join(programs))
    found = {}
    for copy, (order, inside, turns, *rest) in zip(COPIES, np.array(lines).reshape(len(COPIES), -1).tolist(), strict=True):
        assert inside == "true"
        found[copy] = Said(int(order), int(turns), *map(json.loads, rest))
    return found


def hands(one: Model) -> list[list[int]]:
    """Generators of A: of each orbit of slots a twist, and all ways to exchange pieces."""
    return side_by_side(*[wreath(*rows.T.shape) for rows in one.rows])


def pairings(one: Model) -> list:
    """Of each four slots the three ways in which they fall into two pairs, as sets of sets of points counted from 1."""
    found, first = [], 1
    for rows in one.rows:
        points = (first + np.arange(rows.size)).reshape(rows.shape)
        if len(rows) == 4:
            found += [sorted(sorted(points[list(pair)].ravel().tolist()) for pair in two) for two in PAIRINGS]
        first += rows.size
    return found


@gap.needs_gap
@pytest.mark.parametrize("copy", COPIES, ids=str)
def test_the_laws_are_all_that_there_are(copy):
    """Their number, the group of what the characters can be broken by, and the moduli, whose product is the index."""
    one, heard = model(*copy), said()[copy]
    book = law_book(one.puzzle)
    assert [number // len(book.holdings) for number in (book.assembly_order, book.order)] == [heard.hands, heard.turns]
    laws = [law for law in book.laws if law.type in ("sign", "twist", "mixed")]
    broken = reached([[law.value(one.widened(hand)) for law in laws] for hand in hands(one)], [law.modulus for law in laws])
    for k in (1, 2, 3, 4, 6, 12):
        vanish = sum(not any(k * v % law.modulus for v, law in zip(values, laws, strict=True)) for values in broken)
        assert vanish == prod(gcd(k, order) for order in heard.invariants)
    pairs = prod(law.modulus for law in book.laws if law.type == "pairing")
    rest = prod(law.factor for law in book.laws if law.type == "other")
    assert (pairs, pairs * rest) == (heard.index_on_pairings, heard.index)
    assert prod(law.modulus for law in laws) * pairs * rest == heard.hands // heard.turns


def reached(steps: list[list[int]], moduli: list[int]) -> list[tuple[int, ...]]:
    """All sums of some rows, each number by its modulus."""
    found = [(0,) * len(moduli)]
    for here in found:
        sums = {tuple((a + b) % m for a, b, m in zip(here, step, moduli, strict=True)) for step in steps}
        found += sums.difference(found)
    return found


@gap.needs_gap
@pytest.mark.parametrize("copy", COPIES, ids=str)
def test_random_elements_break_no_law_when_they_are_turns_and_no_character_when_they_break_none(copy):
    one, heard = model(*copy), said()[copy]
    book = law_book(one.puzzle)
    elements = [one.widened(points) for points in heard.elements]
    for element, place in zip(elements, heard.places, strict=True):
        broken = {law.type for law in book.broken_at(element)}
        assert (not broken, broken <= {"pairing", "other"}) == (place == 2, place >= 1)
    for first, then in pairwise(elements):
        for law in book.laws:
            one_by_one, both = law.value(first) + law.value(then), law.value(then[first])
            assert law.type in ("orbit", "pairing", "other") or both == one_by_one % law.modulus
    for element, turn in ((element, turn) for element in elements for turn in one.puzzle.generators):
        assert [bool(law.value(turn[element])) for law in book.laws] == [bool(law.value(element)) for law in book.laws]
