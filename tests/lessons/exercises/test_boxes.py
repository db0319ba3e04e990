"""Exercises on boxes accept every right answer; hints name the law or the move that was overlooked."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oddswap.lessons.exercises.boxes import check_home, check_return
from oddswap.puzzles.catalogue import load

KEPT = ("odd", "odd")
BOX = load("cuboid:2x3x4,turns=all")


@pytest.mark.parametrize("moves", ["U U", "U' U'", "D D", "U 2F2 RR2 LL2 2F2 U'", "U U L2 B2", "[D 2F2: LL2 RR2]"])
def test_every_way_out_and_back_that_keeps_the_law_is_accepted(moves):
    assert check_return(moves, KEPT).text.startswith("Yes")


@pytest.mark.parametrize(
    ("moves", "hint"),
    [
        ("U2 L2 F2", "never leave the outline"),
        ("U", "4 pieces stand out"),
        ("U D U' D'", "changes both fours."),
        ("U 2F2 RR2 2F2 U'", "such as RR"),
        ("R", "three layers one way and four the other"),
        ("RR2", "nothing stands out so far"),
    ],
)
def test_the_hint_names_what_was_overlooked(moves, hint):
    assert hint in check_return(moves, KEPT).text and not check_return(moves, KEPT).text.startswith("Yes")


@pytest.mark.parametrize("moves", ["D 2F2 RR2 2F2 D'", "D' 2F2 LL2 2F2 D", "[D 2F2: RR2]", "[D 2B2: LL2]", "[D' 2B2: RR2]"])
@pytest.mark.parametrize("change", ["swap DFR DBL", "swap DFL DBR"])
def test_home_is_accepted_where_the_turns_exchange_the_two_that_are_over(moves, change):
    """What the turns exchange is read from the box itself, piece by piece."""
    moved = {BOX.slots[slot] for slot in BOX.follow(moves).displaced() if BOX.slots[slot] in ("DFR", "DBL", "DFL", "DBR")}
    assert check_home(moves, [change]).text.startswith("Yes") == (moved == set(change.split()[1:]))


def test_home_in_another_holding_is_home():
    assert check_home("D 2F2 RR2 2F2 D' y2", ["swap DFR DBL"]).text.startswith("Yes")


@pytest.mark.parametrize("moves", ["B2 U 2F2 RR2 2F2 U' B2", "F2 D 2F2 LL2 2F2 D' F2", "[B2 U 2F2: RR2]"])
def test_go_there_act_come_back(moves):
    assert check_home(moves, ["swap UFR DBR"]).text.startswith("Yes")


def test_the_hint_names_the_law_or_to_go_there_first():
    assert "no half turn of a whole slab will change that" in check_home("U2", ["swap UFR DBR"]).text
    assert "Go there, act, come back" in check_home("U 2F2 RR2 2F2 U'", ["swap UFR DBR"]).text
    assert "still out of its outline" in check_home("U", ["swap UFR DBR"]).text


ANYTHING = st.one_of(st.none(), st.integers(), st.text(max_size=30), st.lists(st.text(max_size=3), max_size=2))


@settings(max_examples=40)
@given(ANYTHING)
def test_nonsense_gets_a_kind_sentence(answer):
    for told in (check_return(answer, KEPT).text, check_home(answer, ["swap UFR DBR"]).text):
        assert told and not told.startswith("Yes") and "\n" not in told


def test_an_empty_answer_is_neutral():
    assert check_return(" ", KEPT).text.startswith("Nothing written yet")
    assert check_home("", ["swap UFR DBR"]).text.startswith("Nothing written yet")
