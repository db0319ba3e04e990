"""Tape makes a hidden turn show, on the piece that it is on and on no other, and changes nothing else.

Exercises on lookalikes accept every right answer, and tell what a wrong one overlooked.
"""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, UnknownSlot
from oddswap.lessons.stuck_puzzles import check_culprits, check_reseating, draw_tape, facing, taped
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.showing.ink.painting import strip

PRISM, CUBE = load("shape-mod:prism8"), load("cube:3")
PAINTED = load("shape-mod:prism8,paint=FR+FL+BR+BL")
MIDDLE = ("FL", "FR", "BL", "BR")


def hidden(puzzle) -> set[str]:
    return {puzzle.slots[piece] for piece in lookalikes(puzzle).hidden_turns}


def words(figure) -> list[str]:
    return [text.get_text().replace("\n", " ") for text in figure.axes[0].texts]


@pytest.mark.parametrize("slots", [chosen for n in range(5) for chosen in combinations(MIDDLE, n)])
def test_a_taped_piece_hides_nothing_and_the_others_as_much_as_before(slots):
    assert hidden(taped(PRISM, *slots)) == hidden(PRISM) - set(slots)


def test_a_taped_twin_is_told_from_the_others():
    twins = [{PAINTED.slots[p] for p in pieces} for pieces in lookalikes(taped(PAINTED, "FR")).twins]
    assert {"FL", "BL", "BR"} in twins and not any("FR" in pieces for pieces in twins)


def test_the_turns_and_what_they_reach_stay_the_same():
    copy = taped(PRISM, *MIDDLE)
    assert copy.turns is PRISM.turns and law_book(copy).order == law_book(PRISM).order


def test_with_tape_on_all_four_the_law_of_flips_is_seen_as_on_the_cube():
    """On the cube two flips come together and one never does: common practice."""
    copy = taped(PRISM, *MIDDLE)
    for over, verdict in ((["UF"], "not by turning"), (["UF", "FL"], "ordinary"), (["FL"], "not by turning")):
        state = changed(copy, [f"flip {edge}" for edge in over])
        assert diagnose(copy, copy.appearance(state)).verdict == verdict
        assert diagnose(CUBE, CUBE.appearance(changed(CUBE, [f"flip {edge}" for edge in over]))).verdict == verdict


@pytest.mark.parametrize("sides", [3, 4, 6])
def test_the_strip_lies_on_its_face_and_no_turn_of_the_face_keeps_it(sides):
    angles = 2 * np.pi * np.arange(sides) / sides
    outline = np.stack([np.cos(angles), np.sin(angles), np.full(sides, 0.5)], axis=1)
    tape = strip(outline, np.array([0.0, 0.0, 1.0]))
    assert np.allclose(tape[:, 2], 0.5)
    for turn in range(1, sides):
        c, s = np.cos(angles[turn]), np.sin(angles[turn])
        turned = tape @ np.array([[c, s, 0], [-s, c, 0], [0, 0, 1]])
        gaps = np.linalg.norm(tape[:, None] - turned[None], axis=2)
        assert gaps.min(axis=1).max() > 0.1


@pytest.mark.parametrize(
    ("puzzle", "slot", "without"),
    [(PRISM, "FR", "nothing to be seen"), (PRISM, "BL", "nothing to be seen"), (PRISM, "UF", "it shows"),
     (CUBE, "FR", "it shows"), (CUBE, "F", "nothing to be seen")],
)  # fmt: skip
def test_the_picture_says_what_can_be_seen_without_tape_and_with(puzzle, slot, without):
    told = [line for line in words(draw_tape(puzzle, slot)) if line.startswith(f"{slot} after")]
    assert [line.split(": ")[1] for line in told] == [without, "it shows"]


def test_before_and_after_are_drawn_alike_without_tape_and_unlike_with():
    pictures = [
        {(tuple(np.round(path.vertices[:-1], 6).sum(axis=0)), tuple(face))
         for path, face in zip(c.get_paths(), c.get_facecolor(), strict=True)}
        for c in draw_tape(PRISM, "FR").axes[0].collections
    ]  # fmt: skip
    faces = [sorted(face for _, face in picture) for picture in pictures]
    assert len(pictures) == 4 and faces[0] == faces[1]
    assert len(pictures[2]) == len(pictures[0]) + 1


def test_the_eye_is_on_the_side_of_the_piece():
    for slot in ("FR", "BL", "U", "D"):
        number = PRISM.slot(slot)
        outwards = sum(PRISM.geometry.mechanism.directions[face] for face in slot)
        assert facing(PRISM, number).direction @ outwards > 0


def test_what_has_no_solid_or_no_turn_is_refused_kindly():
    with pytest.raises(BadOption, match="solid"):
        taped(load("tiles:3x3"), "r1c1")
    with pytest.raises(UnknownSlot):
        taped(PRISM, "XY")
    with pytest.raises(BadOption, match="one way round"):
        draw_tape(load("cube:4"), "UF.l2")


TURNED = "shape-mod:cube,axis=U,degrees=45"
INSERT = "U R U' R' U' F' U F"
"""Puts an upper edge into FR, and so takes out the one there: common practice."""


@pytest.mark.parametrize("name", [PRISM.name, TURNED])
def test_of_all_single_pieces_just_the_middle_edges_explain_a_flip(name):
    """Four middle edges with a hidden half turn: computed independently."""
    right = [slot for slot in load(name).slots if check_culprits(slot, name, ["flip UF"]).text.startswith("Yes")]
    assert right == ["FL", "FR", "BL", "BR"]


def test_of_all_pairs_just_twins_explain_a_swap():
    """Four twins give six pairs, and there are three sets of four."""
    pairs, swap = combinations(PAINTED.slots, 2), ["swap UF UR"]
    right = [pair for pair in pairs if check_culprits(" ".join(pair), PAINTED.name, swap).text.startswith("Yes")]
    twins = [{"FL", "FR", "BL", "BR"}, {"UFL", "UFR", "UBL", "UBR"}, {"DFL", "DFR", "DBL", "DBR"}]
    assert len(right) == 18 and all(any(set(pair) <= four for four in twins) for pair in right)


@pytest.mark.parametrize("changes", [["flip UF"], ["swap UF UR"], ["swap UF UR", "flip UF"], ["swap UFL DFL"]])
def test_the_culprits_of_the_diagnosis_are_all_accepted(changes):
    puzzle = load(PAINTED.name)
    culprits = diagnose(puzzle, puzzle.appearance(changed(puzzle, changes))).culprits
    assert culprits
    for culprit in culprits:
        assert check_culprits(", ".join(culprit.pieces), PAINTED.name, changes).text.startswith("Yes")


def test_hints_name_what_was_overlooked():
    assert "UF cannot turn without being seen" in check_culprits("UF", PRISM.name, ["flip UF"]).text
    assert "flipped edges is always even" in check_culprits("U", PRISM.name, ["flip UF"]).text
    assert "flipped edges is always even" in check_culprits("UFL UFR", PAINTED.name, ["swap UF UR", "flip UF"]).text
    assert "both evenly or both oddly" in check_culprits("FL", PAINTED.name, ["swap UF UR"]).text
    assert "fewer pieces will do" in check_culprits("FL FR", PRISM.name, ["flip UF"]).text
    assert "fewer pieces will do" in check_culprits("FL FR BL", PAINTED.name, ["swap UF UR"]).text


@pytest.mark.parametrize(
    "moves", [f"{INSERT} U2 {INSERT}", "R U' R U2 F R2 F' U2 R2", f"{INSERT} U2 {INSERT} U'", f"U U' {INSERT} U2 {INSERT}"]
)
def test_every_way_to_seat_an_edge_the_other_way_round_is_accepted(moves):
    assert check_reseating(moves, PRISM.name, "FR").text.startswith("Yes")
    assert "BR sits as it did" in check_reseating(moves, PRISM.name, "BR").text


def test_once_inserted_only_the_piece_in_that_place_has_changed_below():
    puzzle = load(PRISM.name)
    below = set(range(len(puzzle.slots))) - puzzle.turns["U"].slots
    changed_below = puzzle.follow(INSERT).displaced() & below
    assert {puzzle.slots[slot] for slot in changed_below} - set("FR") == {"FR"}, "centres turn unseen"


def test_the_hint_on_turns_names_the_piece_or_the_law():
    other = INSERT.translate(str.maketrans("RF", "BR"))
    twice = f"{INSERT} U2 {INSERT} {other} U2 {other}"
    assert "DFR does not look as before" in check_reseating("R", PRISM.name, "FR").text
    assert "sits as it did" in check_reseating("U2", PRISM.name, "FR").text
    assert "FR and BR have turned, which is an even number" in check_reseating(twice, PRISM.name, "BR").text
    assert check_reseating(f"{other} U2 {other}", PRISM.name, "BR").text.startswith("Yes")


ANYTHING = st.one_of(st.none(), st.integers(), st.text(max_size=30), st.lists(st.text(max_size=3), max_size=2))


@given(ANYTHING)
def test_nonsense_gets_a_kind_sentence(answer):
    for told in (check_culprits(answer, PRISM.name, ["flip UF"]).text, check_reseating(answer, PRISM.name, "FR").text):
        assert told and not told.startswith("Yes") and "\n" not in told


def test_an_empty_answer_is_neutral():
    assert check_culprits(" , ", PRISM.name, ["flip UF"]).text.startswith("Nothing written yet")
    assert check_reseating(" ", PRISM.name, "FR").text.startswith("Nothing written yet")
