"""Exercises about worlds: every right answer is accepted, a hint names the law, nonsense is answered kindly."""

from itertools import combinations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oddswap.lessons.exercises.worlds import check_made_up, check_repair, check_same_world
from oddswap.puzzles.catalogue import load

CUBE = load("cube:3")
CORNERS, EDGES = (kind.slots for kind in CUBE.kinds[:2])
GIVEN = ["flip UF", "twist UFR cw"]
BROKEN = ["swap UF UR", "twist UFL cw", "flip DB"]


def right(note) -> bool:
    return note.text.startswith("Yes")


def test_any_other_edge_with_any_other_corner_makes_up_for_one_of_each():
    """Common practice: a flip needs a second one, a twist needs its opposite."""
    for edge, corner, way in product(EDGES[2:5], CORNERS, ("cw", "ccw")):
        told = check_made_up(f"flip {edge}, twist {corner} {way}", GIVEN)
        assert right(told) == (way == "ccw" and corner != "UFR"), told
    assert right(check_made_up("flip DB, twist UFL cw, twist DFR cw", GIVEN)), "three thirds are a whole turn"


@pytest.mark.parametrize(
    ("changes", "hint"),
    [
        ("flip DB", "twists of the corners"),
        ("twist DBL ccw", "number of flipped edges"),
        ("flip DB, twist DBL ccw, swap UB UL", "both evenly or both oddly"),
        ("flip UF, twist UFR ccw", "Leave UFR and UF alone"),
        ("flip DB, flip DB", "undo each other"),
    ],
)
def test_hints_on_making_up(changes, hint):
    assert hint in check_made_up(changes, GIVEN).text


def test_any_swap_of_two_corners_is_in_the_world_of_a_swap_of_two_edges():
    for one, other in combinations(CORNERS, 2):
        assert right(check_same_world(f"swap {one} {other}", ["swap UF UR"]))


@pytest.mark.parametrize(
    ("changes", "hint"),
    [
        ("cycle UFR UFL UBL", "both evenly or both oddly"),
        ("swap UFR UFL, twist DBL cw", "twists of the corners"),
        ("swap UB UL", "Change the corners only: you have also changed UB and UL"),
    ],
)
def test_hints_on_the_same_world(changes, hint):
    assert hint in check_same_world(changes, ["swap UF UR"]).text


def test_a_cycle_of_four_corners_does_as_well():
    assert right(check_same_world("cycle UFR UFL UBL UBR", ["swap UF UR"]))


def test_a_repair_with_the_fewest_pieces_is_right_and_others_are_told_the_number():
    assert right(check_repair("swap UF UR, flip UR, twist UFL ccw", BROKEN))
    assert right(check_repair("swap UFR UFL, twist UFR ccw, flip DR", BROKEN))
    assert "4 pieces in hand, and 3 would do" in check_repair("swap UF UR, flip DB, twist UFL ccw", BROKEN).text
    assert "twists of the corners" in check_repair("swap UF UR, flip UR", BROKEN).text


def test_no_repair_of_two_pieces_would_do():
    """Two edges leave the twists broken, two corners the flips, one of each the signs: some of every sort are tried."""
    twos = [f"flip {e}, twist {c} {w}" for e in EDGES[:4] for c in CORNERS[:3] for w in ("cw", "ccw")]
    twos += [f"swap {a} {b}" for a, b in combinations(EDGES[:4], 2)] + [f"swap {a} {b}" for a, b in combinations(CORNERS, 2)]
    assert not any(right(check_repair(two, BROKEN)) for two in twos)


CHECKS = [
    lambda answer: check_made_up(answer, GIVEN),
    lambda answer: check_same_world(answer, ["swap UF UR"]),
    lambda answer: check_repair(answer, BROKEN),
]


@pytest.mark.parametrize("check", CHECKS)
def test_an_empty_answer_is_neutral(check):
    assert check(" , ").text.startswith("Nothing written yet")


@pytest.mark.parametrize("check", CHECKS)
@given(st.one_of(st.none(), st.integers(), st.text("flipswatUFRDBLcyx ,", max_size=24), st.text(max_size=12)))
def test_nonsense_gets_a_kind_sentence(check, answer):
    told = check(answer).text
    assert told and "\n" not in told and not told.startswith("Yes")
