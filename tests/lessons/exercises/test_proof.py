"""Exercises about proofs: every right answer is accepted, a hint names the law, nonsense is answered kindly."""

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oddswap.lessons.exercises.proof import check_beyond, check_count, check_placed

RINGS = "rings:4+4"


def right(note) -> bool:
    return note.text.startswith("Yes")


@pytest.mark.parametrize("answer", [20160, "20160", "20,160", "8*7*6*5*4*3", "8 × 7 × 6 × 5 × 4 × 3"])
def test_half_of_all_ways_to_lay_the_board_of_two_by_four(answer):
    """8! / 2 (Johnson and Story, Amer. J. Math. 2 (1879) 397-404)."""
    assert right(check_count(answer, "tiles:2x4"))


@pytest.mark.parametrize(
    ("answer", "name", "hint"),
    [
        (40320, "tiles:2x4", "rearranged evenly"),
        (20159, "tiles:2x4", "too few"),
        (40321, "tiles:2x4", "not even hands"),
        (2 * 88580102706155225088000, "cube:3", "evenly"),
        (3 * 88580102706155225088000, "cube:3", "multiple of 3"),
        (720, RINGS, "where the lower wall stops"),
    ],
)
def test_hints_on_a_count(answer, name, hint):
    assert hint in check_count(answer, name).text


def test_beads_brought_to_places():
    """`a` takes the beads 1, 2, 3, 4 round by one place: the fourth time all are at home."""
    assert right(check_placed("a a a a", {"1": "1", "2": "2"}, RINGS))
    assert check_placed("a", {"1": "2", "2": "1"}, RINGS).text == "Not yet: 2 is at 3 and should be at 1."


def test_the_ways_to_exchange_by_hand_what_turns_can_undo():
    """Of 720 ways to put six beads, 120 are reached, and any that leaves three beads alone is not (PGL(2, 5); Wilson 1974)."""
    found = 0
    for way in permutations(range(6)):
        rest, changes = list(way), []
        for i in range(6):
            while rest[i] != i:
                j = rest[i]
                rest[i], rest[j] = rest[j], rest[i]
                changes.append(f"swap {i + 1} {j + 1}")
        note = check_beyond(", ".join(changes), RINGS, reached=True)
        found += right(note)
        if changes:
            assert right(note) != right(check_beyond(", ".join(changes), RINGS, reached=False))
            assert ("settles where all others are" in note.text) == (sum(a == b for a, b in enumerate(way)) >= 3)
    assert found == 119


def test_a_known_law_is_named():
    assert "rearranged evenly" in check_beyond("swap r1c1 r1c2", "tiles:2x3", reached=True).text


CHECKS = [
    lambda answer: check_count(answer, "tiles:2x4"),
    lambda answer: check_placed(answer, {"1": "2"}, RINGS),
    lambda answer: check_beyond(answer, RINGS, reached=True),
]


@pytest.mark.parametrize("check", CHECKS)
def test_an_empty_answer_is_neutral(check):
    assert check("  ").text.startswith("Nothing written yet")


@pytest.mark.parametrize("check", CHECKS)
@given(st.one_of(st.none(), st.integers(max_value=999), st.text("swapcyle 123456*'", max_size=24), st.text(max_size=12)))
def test_nonsense_gets_a_kind_sentence(check, answer):
    assert check(answer).text
