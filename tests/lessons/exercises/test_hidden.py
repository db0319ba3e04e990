"""Exercises on lookalikes accept every right answer, and tell what a wrong one overlooked."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oddswap.describing.changes import changed
from oddswap.lessons.exercises.hidden import check_culprits, check_reseating
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.diagnosis import diagnose

PRISM, PAINTED, TURNED = "shape-mod:prism8", "shape-mod:prism8,paint=FR+FL+BR+BL", "shape-mod:cube,axis=U,degrees=45"
INSERT = "U R U' R' U' F' U F"
"""Puts an upper edge into FR, and so takes out the one there: common practice."""


@pytest.mark.parametrize("name", [PRISM, TURNED])
def test_of_all_single_pieces_just_the_middle_edges_explain_a_flip(name):
    """Four middle edges with a hidden half turn: computed independently."""
    right = [slot for slot in load(name).slots if check_culprits(slot, name, ["flip UF"]).text.startswith("Yes")]
    assert right == ["FL", "FR", "BL", "BR"]


def test_of_all_pairs_just_twins_explain_a_swap():
    """Four twins give six pairs, and there are three sets of four."""
    slots = load(PAINTED).slots
    right = [pair for pair in combinations(slots, 2) if check_culprits(" ".join(pair), PAINTED, ["swap UF UR"]).text[:3] == "Yes"]
    twins = [{"FL", "FR", "BL", "BR"}, {"UFL", "UFR", "UBL", "UBR"}, {"DFL", "DFR", "DBL", "DBR"}]
    assert len(right) == 18 and all(any(set(pair) <= four for four in twins) for pair in right)


@pytest.mark.parametrize("changes", [["flip UF"], ["swap UF UR"], ["swap UF UR", "flip UF"], ["swap UFL DFL"]])
def test_the_culprits_of_the_diagnosis_are_all_accepted(changes):
    puzzle = load(PAINTED)
    culprits = diagnose(puzzle, puzzle.appearance(changed(puzzle, changes))).culprits
    assert culprits
    for culprit in culprits:
        assert check_culprits(", ".join(culprit.pieces), PAINTED, changes).text.startswith("Yes")


def test_hints_name_what_was_overlooked():
    assert "UF cannot turn without being seen" in check_culprits("UF", PRISM, ["flip UF"]).text
    assert "flipped edges is always even" in check_culprits("U", PRISM, ["flip UF"]).text
    assert "flipped edges is always even" in check_culprits("UFL UFR", PAINTED, ["swap UF UR", "flip UF"]).text
    assert "both evenly or both oddly" in check_culprits("FL", PAINTED, ["swap UF UR"]).text
    assert "fewer pieces will do" in check_culprits("FL FR", PRISM, ["flip UF"]).text
    assert "fewer pieces will do" in check_culprits("FL FR BL", PAINTED, ["swap UF UR"]).text


@pytest.mark.parametrize(
    "moves", [f"{INSERT} U2 {INSERT}", "R U' R U2 F R2 F' U2 R2", f"{INSERT} U2 {INSERT} U'", f"U U' {INSERT} U2 {INSERT}"]
)
def test_every_way_to_seat_an_edge_the_other_way_round_is_accepted(moves):
    assert check_reseating(moves, PRISM, "FR").text.startswith("Yes")
    assert "BR sits as it did" in check_reseating(moves, PRISM, "BR").text


def test_once_inserted_only_the_piece_in_that_place_has_changed_below():
    puzzle = load(PRISM)
    below = set(range(len(puzzle.slots))) - puzzle.turns["U"].slots
    changed_below = puzzle.follow(INSERT).displaced() & below
    assert {puzzle.slots[slot] for slot in changed_below} - set("FR") == {"FR"}, "centres turn unseen"


def test_the_hint_on_turns_names_the_piece_or_the_law():
    other = INSERT.translate(str.maketrans("RF", "BR"))
    twice = f"{INSERT} U2 {INSERT} {other} U2 {other}"
    assert "DFR does not look as before" in check_reseating("R", PRISM, "FR").text
    assert "sits as it did" in check_reseating("U2", PRISM, "FR").text
    assert "FR and BR have turned, which is an even number" in check_reseating(twice, PRISM, "BR").text
    assert check_reseating(f"{other} U2 {other}", PRISM, "BR").text.startswith("Yes")


ANYTHING = st.one_of(st.none(), st.integers(), st.text(max_size=30), st.lists(st.text(max_size=3), max_size=2))


@given(ANYTHING)
def test_nonsense_gets_a_kind_sentence(answer):
    for told in (check_culprits(answer, PRISM, ["flip UF"]).text, check_reseating(answer, PRISM, "FR").text):
        assert told and not told.startswith("Yes") and "\n" not in told


def test_an_empty_answer_is_neutral():
    assert check_culprits(" , ", PRISM, ["flip UF"]).text.startswith("Nothing written yet")
    assert check_reseating(" ", PRISM, "FR").text.startswith("Nothing written yet")
