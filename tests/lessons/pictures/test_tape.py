"""Tape makes a hidden turn show, on the piece that it is on and on no other, and changes nothing else."""

from itertools import combinations

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, UnknownSlot
from oddswap.lessons.pictures.tape import draw_tape, facing, strip, taped
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.diagnosis import diagnose

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
