"""Which turn breaks which law, against the orbits of the smaller set of turns by SymPy."""

import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.first_looks import broken_by_turns, smallest_turn
from oddswap.words import say


@pytest.mark.parametrize("name", ["cuboid:2x2x4,turns=half", "cube:2,turns=half", "cube:3,turns=R+L+U+D+F2"])
def test_as_many_pieces_leave_their_orbits_as_sympy_finds(name):
    few, whole = load(name), load(name.partition(",")[0])
    orbits = PermutationGroup([Permutation(turn.permutation.tolist()) for turn in few.turns.values()]).orbits()
    orbit_of = {label: i for i, orbit in enumerate(orbits) for label in orbit}
    others = [turn for turn in whole.turns if turn not in few.turns]
    broken = {turn: finding for finding in broken_by_turns(few, whole, others) for turn in finding.turns}
    for turn in others:
        image = whole.turns[turn].permutation
        leaving = 0
        for piece, kind in enumerate(whole.kind_of):
            labels = range(whole.base_label[piece], whole.base_label[piece] + kind.twist)
            shows = len({int(look) for look in whole.looks[list(kind.labels)]}) > 1
            leaving += shows and any(orbit_of.get(label, -1 - label) != orbit_of.get(int(image[label]), -1) for label in labels)
        found = broken[turn].leaving if turn in broken else ()
        assert sum(count for _, count in found) == leaving
        assert not leaving or broken[turn].laws == () and "breaks the orbit law" in say(broken[turn])


def test_turns_that_break_the_same_are_told_together_and_a_half_turn_breaks_nothing():
    few, whole = load("cuboid:2x2x3,turns=half"), load("cuboid:2x2x3")
    found = broken_by_turns(few, whole, ["F", "B'", "R2"])
    assert list(map(say, found)) == ["each of the turns F B' breaks the orbit law (4 corners leave their orbits)"]


@pytest.mark.parametrize(
    ("name", "turns", "shape", "small"),
    [
        ("2x3x4", "U 2F2 RR2 2F2 U'", "U 2F2", "RR2"),
        ("2x3x4", "D 2F2 LL2 2F2 D'", "D 2F2", "LL2"),
        ("2x4x4", "2U 2F2 LL2 2F2 2U'", "2U 2F2", "LL2"),
    ],
)
def test_the_turn_that_moves_two_pieces_is_one_exchange_by_sympy(name, turns, shape, small):
    """One exchange is odd (SymPy); half turns of the box make an even number in all orbits of its pieces together, or none."""
    inside, box = load(f"cuboid:{name},turns=half"), load(f"cuboid:{name},turns=all")
    found = smallest_turn(inside, box, box.solved, tuple(turns.split()))
    assert found.turn == small and sum(count for _, count in found.moved) == 2
    assert say(found).startswith(f"in the shape that {shape} gives, {small} moves only 2 ")
    before, after = (box.follow(moves) for moves in (shape, f"{shape} {small}"))
    coloured = [p for p in range(len(box.slots)) if box.filled[p] and not box.blank_inside[p]]
    places = [{piece: slot for slot, piece in enumerate(state.pieces)} for state in (before, after)]
    moved = {places[0][p]: places[1][p] for p in coloured}
    slots = sorted(moved)
    assert Permutation([slots.index(moved[slot]) for slot in slots]).parity() == 1


def test_where_every_turn_moves_as_many_nothing_is_said():
    inside, box = load("cuboid:2x3x4,turns=half"), load("cuboid:2x3x4,turns=all")
    assert smallest_turn(inside, box, box.solved, ("U", "U'")) is None
