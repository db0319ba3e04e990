"""A quarter turn undone by swaps: the swaps really undo it, as many as SymPy says, and the labels follow their pieces.

Exercises about turns: every right answer is accepted, hints say what was overlooked, nonsense is answered kindly.
"""

from itertools import permutations, product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sympy.combinatorics import Permutation

from oddswap.describing.changes import changed
from oddswap.lessons.single_turns import above, carried_round, check_cycles, check_swaps, check_there, draw_quarter_turn, way_home
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.made_up import puzzle

CUBE, SMALL = load("cube:3"), load("cube:2")
QUARTERS = [name for name, turn in CUBE.turns.items() if abs(turn.step.amount) == 1]


def kinds(puzzle):
    return [kind for kind in puzzle.kinds if kind.family in ("corners", "edges")]


@pytest.mark.parametrize("turn", QUARTERS)
@pytest.mark.parametrize("puzzle", [CUBE, SMALL], ids=lambda puzzle: puzzle.name)
def test_swaps_undo_the_turn_and_none_is_wasted(puzzle, turn):
    """SymPy's transpositions of a permutation are as few as can be."""
    for kind in kinds(puzzle):
        after = puzzle.follow(turn)
        states, swaps = way_home(puzzle, kind, after)
        fewest = Permutation([after.pieces[slot] - kind.start for slot in kind.places]).transpositions()
        assert len(swaps) == len(fewest) == 3 and len(states) == 4
        assert [states[-1].pieces[slot] for slot in kind.places] == list(kind.places)
        assert not any(states[-1].twists[slot] for slot in kind.places)
        for before, then, (one, other) in zip(states, states[1:], swaps, strict=False):
            differ = {slot for slot in range(len(puzzle.slots)) if before.pieces[slot] != then.pieces[slot]}
            assert differ == {one, other}


@pytest.mark.parametrize("turn", ["U", "D'"])
def test_on_the_upper_and_lower_side_they_are_swaps_as_a_hand_makes_them(turn):
    for kind in kinds(CUBE):
        states, swaps = way_home(CUBE, kind, CUBE.follow(turn))
        by_hand = [f"swap {CUBE.slots[one]} {CUBE.slots[other]}" for one, other in swaps]
        assert changed(CUBE, by_hand, states[0]) == states[-1]


@pytest.mark.parametrize("turn", QUARTERS)
def test_pieces_are_numbered_in_the_order_of_the_turn(turn):
    """A piece goes on to the slot with the next number."""
    for kind in kinds(CUBE):
        numbered = carried_round(CUBE, kind, CUBE.turns[turn])
        after = CUBE.follow(turn)
        assert sorted(numbered.values()) == [1, 2, 3, 4]
        assert all(numbered[slot] == numbered[after.pieces[slot]] % 4 + 1 for slot in numbered)


def written(figure) -> list[str]:
    return [text.get_text() for text in figure.axes[0].texts]


def test_rows_labels_and_words():
    """Corner 4 comes where 1 was, and so on: what each picture shows, in the order 1 to 4 of the places."""
    words = written(draw_quarter_turn(CUBE))
    assert words[0] == "4 corners, 3 swaps" and "4 edges, 3 swaps" in words
    steps = [word for word in words if not word.isdigit() and "," not in word]
    swaps = ["U turns", "1st swap", "2nd swap", "3rd swap"]
    assert steps == [*swaps, "corners at home", *swaps, "edges at home"]
    labels = ["".join(words[i : i + 4]) for i in range(1, 26, 5)]
    assert labels[0] == labels[-1] and all(sorted(label) == list("1234") for label in labels)
    assert [sum(a != b for a, b in zip(label, labels[0], strict=True)) for label in labels] == [0, 4, 3, 2, 0]


def test_a_puzzle_without_edges_has_one_row():
    assert written(draw_quarter_turn(SMALL, "R"))[0] == "4 corners, 3 swaps"
    assert not any("edges" in word for word in written(draw_quarter_turn(SMALL, "R")))


@pytest.mark.parametrize("turn", QUARTERS)
def test_the_eye_is_above_the_side_that_turns(turn):
    camera = above(CUBE, CUBE.turns[turn])
    assert camera.direction @ CUBE.turns[turn].axis > 0.85
    assert np.linalg.norm(camera.direction) == pytest.approx(1)


@pytest.mark.parametrize("turn", ["U", "D", "L"])
def test_everything_stays_on_the_sheet(turn):
    figure = draw_quarter_turn(CUBE, turn)
    ax = figure.axes[0]
    figure.canvas.draw()
    sheet = ax.get_window_extent()
    assert all(sheet.contains(*corner) for patch in ax.patches for corner in patch.get_window_extent().corners())
    points = np.concatenate([path.vertices for c in ax.collections for path in c.get_paths()])
    assert (points > 0).all() and (points < (ax.get_xlim()[1], ax.get_ylim()[1])).all()


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


def test_cycles_of_other_families_are_judged_too():
    """Made up in Python: x goes round five, y swaps two and two; x y leaves one at rest and sends the others round."""
    puzzle("five for cycles", moves={"x": "(1 2 3 4 5)", "y": "(1 2)(3 4)"})
    for wanted, right in [((3,), True), ((5,), False), ((2, 2), False), ((3, 2), False)]:
        said = str(check_cycles("x y", {"pieces": wanted}, name="made-up:five for cycles"))
        assert said.startswith("Yes: pieces in a cycle of 3." if right else "Not yet. Your turns give:"), said
        assert "quarter" not in said
