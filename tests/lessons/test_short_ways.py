"""The two ripples: every position is drawn once, where circles cross, and the ripples meet just when a way is found.

Exercises about ways out: every right answer is accepted, hints say what was overlooked, nonsense is answered kindly.
"""

from collections import Counter
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.patches import Circle
from sympy.combinatorics import Permutation

from oddswap.describing.changes import changed
from oddswap.lessons.machinery.exercises import slot_names
from oddswap.lessons.short_ways import check_carried, check_shortest, distances, draw_overlap, draw_two_ripples, ripple_counts
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search.shortest import depth_counts, find_way

SCENES = [("rings:4+4", "a b a b a b", 120), ("cube:2,turns=half", "R2 U2 F2 R2", 24)]
"""120: Wilson, J. Combin. Theory B 16 (1974) 86-96. 24: counted here, no source outside."""


@pytest.mark.parametrize(("name", "moves", "every"), SCENES)
def test_distances_obey_the_law_of_triangles_and_count_every_position(name, moves, every):
    puzzle = load(name)
    found = distances(puzzle, moves)
    between = len(find_way(puzzle, puzzle.appearance(puzzle.follow(moves))).turns)
    assert found.total() == every and found[0, between] == found[between, 0] == 1
    assert all(abs(a - b) <= between <= a + b for a, b in found)
    swapped = distances(puzzle, puzzle.undone(moves))
    assert Counter({(b, a): n for (a, b), n in found.items()}) == swapped


@pytest.mark.parametrize(("name", "moves", "every"), SCENES)
def test_ripples_meet_just_when_their_turns_together_make_a_way(name, moves, every):
    found = distances(load(name), moves)
    between = next(b for a, b in found if a == 0)
    for out in range(between + 1):
        for back in range(between + 1):
            assert (ripple_counts(found, out, back)[2] > 0) == (out + back >= between)


def test_every_position_is_drawn_once_and_each_ring_is_a_turn():
    figure = draw_two_ripples(load("rings:4+4"), "a b a b a b", 2, 1)
    (ax,) = figure.axes
    numbers = [int(text.get_text()) for text in ax.texts if text.get_text().isdecimal()]
    dots = sum(len(collection.get_offsets()) for collection in ax.collections)
    assert sum(numbers) + dots - len(numbers) == 120
    assert sorted(patch.radius for patch in ax.patches if isinstance(patch, Circle)) == [1, 1, 2]
    assert ax.get_title().startswith("They have not met: no way has 3 turns or fewer.")
    begun = draw_two_ripples(load("rings:4+4"), "a b a b a b", 1, 0).axes[0].get_title()
    assert begun == "They have not met: no way has 1 turn or fewer. 6 of 120 positions were looked at."
    alone = sum(depth_counts(load("rings:4+4"), 4))
    met = draw_two_ripples(load("rings:4+4"), "a b a b a b", 2, 2).axes[0].get_title()
    assert met == f"The ripples meet after 2 and 2 turns, with 29 of 120 positions looked at; from the start alone, {alone}."


CUBE = load("cube:3")
TOOL = "[L2, [U: R2]]"
TICKET = ["cycle UFR UBL UBR"]
TURNS = {name: Permutation(turn.permutation.tolist()) for name, turn in CUBE.turns.items()}
SHOWN = [int(CUBE.base_label[s]) for s, kind in enumerate(CUBE.kind_of) if kind.family != "centres"]


def right(note) -> bool:
    return note.text.startswith("Yes")


def product_of(*words: str) -> Permutation:
    """SymPy: turns one after the other, left to right."""
    total = Permutation(CUBE.degree - 1)
    for name in " ".join(words).split():
        total = total * TURNS[name]
    return total


def test_what_a_commutator_leaves_to_move_is_few_where_its_parts_share_one_slot_by_sympy():
    a, b = product_of("L2"), product_of("U R2 U'")
    moved = [{label for label in SHOWN if turns(label) != label} for turns in (a, b, a * b * a**-1 * b**-1)]
    texts = [text.get_text() for text in draw_overlap(CUBE, "L2", "U R2 U'").axes[0].texts]
    told = [" ".join(text.split()) for text in texts if len(text) > 1]
    shared, left = ([slot for slot in range(20) if CUBE.base_label[slot] in some] for some in (moved[0] & moved[1], moved[2]))
    assert told == [
        *("L2", f"moves {len(moved[0])} pieces"),
        *("U R2 U'", f"moves {len(moved[1])} pieces; shared: {slot_names(CUBE, shared)}"),
        *("[L2, U R2 U']", f"moves {len(moved[2])} pieces: {slot_names(CUBE, left)}"),
    ]
    assert [len(shared), len(left)] == [1, 3]


def test_of_all_set_ups_of_two_turns_just_those_are_right_that_undo_the_ticket_by_sympy():
    ticket = Permutation(CUBE.permutation(changed(CUBE, TICKET)).tolist())
    tool, found = product_of("L2 U R2 U' L2 U R2 U'"), []
    for turns in product(CUBE.turns, repeat=2):
        a = product_of(*turns)
        end = ticket * a * tool * a**-1
        solved = all(end(label) == label for label in SHOWN)
        assert right(check_carried(" ".join(turns), TOOL, TICKET)) == solved
        found += [" ".join(turns)] * solved
    assert "R2 D'" in found and len(found) < 10


def test_hints_on_carrying_name_the_slots_or_the_order():
    told = check_carried("F2", TOOL, TICKET).text
    assert "changes the pieces in UFL, UFR and UBL; the ticket is about UFR, UBL and UBR" in told
    assert "By itself it works on UBL, DFL and DFR" in told
    assert "in another order" in check_carried("F2 R2", TOOL, TICKET).text


def test_of_all_short_ways_on_two_rings_just_the_shortest_are_right():
    """Turns of the beads done by hand on rows of them, with no part of the puzzle's own."""
    order = {"a": (3, 0, 1, 2, 4, 5), "b": (1, 5, 2, 3, 0, 4)}
    order |= {f"{name}'": tuple(to.index(i) for i in range(6)) for name, to in order.items()}

    def after(word, beads="123456"):
        for name in word:
            beads = [beads[i] for i in order[name]]
        return "".join(beads)

    start = after("aabaab")
    homing = [word for n in range(1, 7) for word in product(order, repeat=n) if after(word, start) == "123456"]
    shortest = min(map(len, homing))
    assert {len(word) for word in homing} == {4, 6}, "each turn is odd"
    for word in homing:
        told = check_shortest(" ".join(word), "a a b a a b").text
        assert told.startswith("Yes" if len(word) == shortest else "It is a way out")
    for word in product(order, repeat=4):
        assert right(check_shortest(" ".join(word), "a a b a a b")) == (word in homing)


def test_hints_on_shortest_ways():
    assert "pieces in 1, 2, 3 and 4 do not belong there" in check_shortest("b'", "a b").text
    assert "Your turn 1, a, leads no nearer" in check_shortest("a a' b' a'", "a b").text
    assert right(check_shortest("R' U2", "U2 R", name="cube:3"))
    assert right(check_shortest("x R' U'", "F R", name="cube:2")) and right(check_shortest("L'", "R", name="cube:2"))


CHECKS = [lambda answer: check_carried(answer, TOOL, TICKET), lambda answer: check_shortest(answer, "a a b a a b")]


@pytest.mark.parametrize("check", CHECKS)
def test_an_empty_answer_is_neutral(check):
    assert check(" ").text.startswith("Nothing written yet")


@pytest.mark.parametrize("check", CHECKS)
@given(st.one_of(st.none(), st.integers(), st.text("URFDLBMxyzab2'[]:,() w", max_size=12), st.text(max_size=12)))
def test_nonsense_gets_a_kind_sentence(check, answer):
    told = check(answer).text
    assert told and "\n" not in told and "Traceback" not in told
