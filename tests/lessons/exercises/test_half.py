"""Exercises about what is half seen: every right answer is accepted, a hint says what was overlooked, nonsense is told kindly."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oddswap.lessons.exercises.half import check_open, check_photograph, check_ways
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.views import views

EDGES = ["UR", "UB", "UL"]


def right(note) -> bool:
    return note.text.startswith("Yes")


@pytest.mark.parametrize("answer", [48, "48", "3*2*1 * 2*2*2", "6 × 8"])
def test_three_edges_lie_in_any_order_and_either_way_round(answer):
    """3! 2^3, by elementary counting; an even number of swaps and of flips is one in four of them (Bandelow 1982)."""
    note = check_ways(answer, EDGES, "cube:3")
    assert right(note) and "turning leads to 12 of them" in note.text


@pytest.mark.parametrize(
    ("answer", "slots", "hint"),
    [
        (6, EDGES, "another way round"),
        (12, EDGES, "so many does turning lead to"),
        (216, EDGES, "too many"),
        (47, EDGES, "too few"),
        (24, ["UFR", "UFL", "UBR", "UBL"], "another way round"),
    ],
)
def test_hints_on_a_count(answer, slots, hint):
    assert hint in check_ways(answer, slots, "cube:3").text


def test_a_photograph_decides_if_it_shows_of_each_edge_what_it_must():
    """Edges in front above and at the back below: four colours, all different, so one side of each tells all.

    A photograph that shows both sides of one edge shows nothing of the other, which may be flipped.
    """
    cube = load("cube:3")
    found = {"".join(view.facets): check_photograph("".join(view.facets), ["UF", "DB"], "cube:3") for view in views(cube)}
    for corner, note in found.items():
        sides_in_sight = [len(set(edge) & set(corner)) for edge in ("UF", "DB")]
        assert right(note) == (sides_in_sight == [1, 1]), corner
    assert right(check_photograph("lbu", ["UF", "DB"], "cube:3")), "sides in any order, large or small"


def test_the_hint_on_a_photograph_names_what_is_out_of_sight():
    note = check_photograph("UFR", EDGES, "cube:3")
    assert not right(note) and "too little is seen of" in note.text and "UB" in note.text and "UL" in note.text


def test_five_sides_leave_it_open_now_and_then():
    assert right(check_open("R D F", ["UFR", "UBL"], "cube:3")), "DR, BR and DB show one side each, in the colours D, R and B"
    assert not right(check_open("R U", ["UFR", "UBL"], "cube:3"))
    for moves in ("R D F", "R U", "U2 F B"):
        assert not right(check_open(moves, ["UFR", "DBL"], "cube:3")), "all six sides of the plain cube tell all"


CHECKS = [
    lambda answer: check_ways(answer, EDGES, "cube:3"),
    lambda answer: check_photograph(answer, ["UF"], "cube:3"),
    lambda answer: check_open(answer, ["UFR"], "cube:3"),
]


@pytest.mark.parametrize("check", CHECKS)
def test_an_empty_answer_is_neutral(check):
    assert check("  ").text.startswith("Nothing written yet") and check(None).text.startswith("Nothing written yet")


@pytest.mark.parametrize("check", CHECKS)
@settings(max_examples=25)
@given(st.one_of(st.none(), st.text("UDFBLR2'* 19", max_size=12), st.text(max_size=12)))
def test_nonsense_gets_a_kind_sentence(check, answer):
    assert check(answer).text
