"""Exercises on holdings and signs accept every right answer; hints name the law, or a turn that was overlooked."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oddswap.lessons.exercises.holding import check_holding, check_signs
from tests.lessons.pictures.test_holdings import HOLDINGS

BARE, SWAP = "cube:3,centres=none", ["swap UFR UFL"]
ODD = {"corners": "odd", "wings": "odd"}


@pytest.mark.parametrize("turns", [turns for turns in HOLDINGS if turns])
def test_an_odd_number_of_quarter_turns_of_the_whole_cube_mends_a_swap(turns):
    """Computed by hand: a quarter turn of the whole cube is odd on the edges alone."""
    right = sum("2" not in turn for turn in turns.split()) % 2 == 1
    told = check_holding(turns, BARE, SWAP).text
    assert told.startswith("Yes") if right else "both evenly or both oddly" in told


def test_where_centres_tell_the_holding_no_holding_helps():
    assert "still broken" in check_holding("y", "cube:3", SWAP).text


def test_a_turn_of_a_slab_is_no_holding():
    assert "R' turns only a part" in check_holding("y R'", BARE, SWAP).text


@pytest.mark.parametrize("moves", ["U 2U", "Rw", "R 2F", "Uw' Rw Fw", "2L R' U2"])
def test_every_way_to_be_odd_on_both_kinds_is_accepted(moves):
    """Outer quarter turns are odd on corners, inner ones on wings: Bonzio, Loi, Peruzzi, Math. Slovaca 67 (2017) 561-572."""
    assert check_signs(moves, "cube:4", ODD).text.startswith("Yes")


@pytest.mark.parametrize(("moves", "hint"), [("R", "2U changes that of the wings"), ("2R", "U changes that of the corners")])
def test_the_hint_names_a_turn_that_is_missing(moves, hint):
    assert hint in check_signs(moves, "cube:4", ODD).text
    assert "think of two" in check_signs("U2", "cube:4", ODD).text


ANYTHING = st.one_of(st.none(), st.integers(), st.text(max_size=30), st.lists(st.text(max_size=3), max_size=2))


@given(ANYTHING)
def test_nonsense_gets_a_kind_sentence(answer):
    for told in (check_holding(answer, BARE, SWAP).text, check_signs(answer, "cube:4", ODD).text):
        assert told and not told.startswith("Yes") and "\n" not in told


def test_an_empty_answer_is_neutral():
    assert check_holding(" ", BARE, SWAP).text.startswith("Nothing written yet")
    assert check_signs("", "cube:4", ODD).text.startswith("Nothing written yet")
