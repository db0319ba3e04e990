"""Arrangements: immutable, hashable, checked, and exact about what is displaced."""

import dataclasses
from itertools import permutations, product

import pytest

from oddswap.values.position import Arrangement

EVERY = [Arrangement("three", p, t) for p in permutations(range(3)) for t in product(range(2), repeat=3)]


def test_equal_arrangements_are_one_in_a_set():
    again = [Arrangement(a.puzzle, tuple(a.pieces), tuple(a.twists)) for a in EVERY]
    assert len(set(EVERY + again)) == len(EVERY) == 48


def test_the_puzzle_belongs_to_it():
    assert Arrangement("one", (0,), (0,)) != Arrangement("other", (0,), (0,))


def test_displaced_slots_are_those_that_differ_from_solved():
    for a in EVERY:
        solved = [(a.pieces[b], a.twists[b]) == (b, 0) for b in range(3)]
        assert a.displaced() == {b for b in range(3) if not solved[b]}


def test_it_cannot_be_changed():
    with pytest.raises(dataclasses.FrozenInstanceError):
        EVERY[0].pieces = (1, 0, 2)


def test_its_repr_can_be_pasted_back():
    assert all(eval(repr(a)) == a for a in EVERY)


@pytest.mark.parametrize("pieces, twists", [((0, 0), (0, 0)), ((0, 2), (0, 0)), ((0, 1), (0,)), ((0,), (0, 0))])
def test_every_slot_holds_one_piece(pieces, twists):
    with pytest.raises(ValueError, match="every slot exactly once"):
        Arrangement("two", pieces, twists)
