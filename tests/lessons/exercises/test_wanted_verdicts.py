"""Exercises check themselves by computing: every right answer is accepted, and a hint names the law that was overlooked."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oddswap.lessons.exercises.wanted_verdicts import check_changes
from oddswap.puzzles.catalogue import load

CUBE, PRISM = "cube:3", "shape-mod:prism8"
EDGES = load(CUBE).kinds[1].slots


def test_every_pair_of_flipped_edges_can_be_turned_right():
    """Common practice: two flips come together, one never does."""
    for one, other in combinations(EDGES, 2):
        assert check_changes(f"flip {one}, flip {other}", {CUBE: "ordinary"}).text.startswith("Yes")
        assert "number of flipped edges" in check_changes(f"flip {one}", {CUBE: "ordinary"}).text


@pytest.mark.parametrize("edge", [edge for edge in EDGES if edge[0] in "UD"])
def test_a_flip_that_is_false_on_the_prism_and_true_on_the_cube(edge):
    wanted = {CUBE: "not by turning", PRISM: "lookalike"}
    assert check_changes(f"flip {edge}", wanted).text.startswith("Yes")


def test_a_flip_that_nobody_can_see_is_no_answer():
    assert "looks solved" in check_changes("flip FL", {PRISM: "lookalike"}).text


def test_a_hint_names_a_law_that_fits_what_is_asked_for():
    assert "both evenly or both oddly" in check_changes("swap UF UR", {CUBE: "ordinary"}).text
    assert "lookalikes can mend it" in check_changes("flip UF, flip UR", {PRISM: "lookalike"}).text
    assert "No law of this puzzle" in check_changes("swap UFR UFL", {"cube:2": "lookalike"}).text


def test_an_empty_answer_is_neutral():
    assert check_changes(" , ", {CUBE: "ordinary"}).text.startswith("Nothing written yet")


@given(st.one_of(st.none(), st.integers(), st.text(max_size=30), st.lists(st.text(max_size=3), max_size=2)))
def test_nonsense_gets_a_kind_sentence(answer):
    told = check_changes(answer, {CUBE: "ordinary"}).text
    assert told and not told.startswith("Yes") and "\n" not in told
