"""Exercises about turns: every right answer is accepted, hints say what was overlooked, nonsense is answered kindly."""

from itertools import permutations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sympy.combinatorics import Permutation

from oddswap.lessons.exercises.turns import check_cycles, check_swaps, check_there
from oddswap.puzzles.catalogue import load

CUBE = load("cube:3")
EDGES = ("UF", "UL", "UB", "UR")
PAIRS = [f"{a} {b}" for a, b in permutations(EDGES, 2) if EDGES.index(a) < EDGES.index(b)]
THREE_CORNERS = "[U R U', L']"


def right(note) -> bool:
    return note.text.startswith("Yes")


def undone(swaps) -> bool:
    """SymPy: the pieces of UF, UL, UB, UR go on by one place, and then the places are exchanged."""
    total = Permutation([1, 2, 3, 0])
    for swap in swaps:
        total = total * Permutation([[EDGES.index(slot) for slot in swap.split()]], size=4)
    return total.is_Identity


@pytest.mark.parametrize("count", [1, 2, 3])
def test_of_all_swaps_just_those_are_right_that_undo_the_turn(count):
    found = 0
    for swaps in product(PAIRS, repeat=count):
        assert right(check_swaps(", ".join(swaps), count)) == undone(swaps)
        found += undone(swaps)
    assert found == (16 if count == 3 else 0), "n^(n-2) ways to write an n-cycle by n - 1 swaps (Denes 1959, from memory)"


def test_hints_on_swaps():
    assert "An even number of swaps can never" in check_swaps("UF UL, UL UB", 3).text
    assert "can never" not in check_swaps("UF UL", 3).text
    assert "An odd number of swaps can never" in check_swaps("UF UL", 2, turn="U2").text
    assert "3 swaps where 5 are asked for" in check_swaps("UF UL, UL UB, UB UR", 5).text
    assert "about the edges alone" in check_swaps("UFR UFL", 3).text
    assert right(check_swaps("UF UB, UL UR", 2, turn="U2"))
    assert right(check_swaps("swap UFL UBL, UBL UBR, UBR UFR", 3, family="corners"))


def test_going_there_is_right_exactly_when_it_brings_the_pieces():
    """Where b takes i to j, a, then b, then a back takes i.a^-1 to j.a^-1 (any textbook): checked on every pair of turns."""
    act = {CUBE.slot(slot) for slot in ("UFL", "UBL", "UBR")}
    wanted = {CUBE.slot(slot) for slot in ("UFR", "UFL", "DFR")}
    answers = []
    for turns in product(CUBE.turns, repeat=2):
        there = " ".join(turns)
        comes_to = {piece: slot for slot, piece in enumerate(CUBE.follow(there).pieces)}
        brings = {comes_to[slot] for slot in wanted} == act
        assert right(check_there(there, THREE_CORNERS, "UFR UFL DFR")) == brings
        answers += [there] * brings
    assert "U R2" in answers and len(answers) > 1


def test_hints_on_going_there_name_the_slots():
    told = check_there("R2", THREE_CORNERS, "UFR UFL DFR").text
    assert "kept the lengths of the cycles" in told and "run through UFL, UBL and DFR" in told
    assert "through no slot at all" in check_there("U", "R R'", "UFR UFL DFR").text


@pytest.mark.parametrize("moves", ["[M', U2]", "[M, F2]", "F2 U M' U2 M U F2", "[D: [M, F2]]", "M' U2 M U2"])
def test_three_edges_by_any_sequence(moves):
    """A middle slab and a half turn that share one edge at a time cycle three edges: common practice."""
    assert right(check_cycles(moves, {"edges": (3,)}))


@pytest.mark.parametrize(
    ("moves", "hint"),
    [
        ("R", "an odd number of quarter turns"),
        ("[R, F]", "Too many corners"),
        ("R2 L2", "Too many corners"),
        ("F R U R' U' F'", "Too many corners"),
        ("R R'", "Something must move"),
    ],
)
def test_hints_on_cycles(moves, hint):
    assert hint in check_cycles(moves, {"edges": (3,)}).text


def test_a_piece_turned_in_its_slot_is_no_piece_at_rest():
    """`(R' D' R D)2` and back round a turn of U twists two corners where they are: common practice."""
    assert "corners in cycles of 1 and 1" in check_cycles("[(R' D' R D)2, U]", {"edges": (3,)}).text
    assert right(check_cycles("[(R' D' R D)2, U]", {"corners": (1, 1)}))
    assert right(check_cycles("R", {"corners": (4,), "edges": (4,)}))
    assert "an odd number is needed" in check_cycles("R2", {"corners": (4,), "edges": (4,)}).text


CHECKS = [
    lambda answer: check_swaps(answer, 5),
    lambda answer: check_there(answer, THREE_CORNERS, "UFR UFL DFR"),
    lambda answer: check_cycles(answer, {"edges": (3,)}),
]


@pytest.mark.parametrize("check", CHECKS)
def test_an_empty_answer_is_neutral(check):
    assert check(" ").text.startswith("Nothing written yet")


@pytest.mark.parametrize("check", CHECKS)
@given(st.one_of(st.none(), st.integers(), st.text("URFDLBMxyz2'[]:,() w", max_size=12), st.text(max_size=12)))
def test_nonsense_gets_a_kind_sentence(check, answer):
    told = check(answer).text
    assert told and "\n" not in told and "Traceback" not in told
