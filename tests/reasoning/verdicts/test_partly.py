"""Verdicts on what is half seen never contradict the whole view, and both readings are said."""

from __future__ import annotations

from random import Random

import pytest

from oddswap.describing.changes import changed
from oddswap.describing.sights import every_look, own_look
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.diagnosis import diagnose, judged
from oddswap.reasoning.verdicts.partly import NotYetPlaced
from oddswap.showing.pages.report import reply_text
from oddswap.values.position import Appearance

NAMES = ["cube:3", "cube:2", "cube:3,centres=marked", "cube:3,centres=none", "shape-mod:prism8", "tiles:3x3", "cuboid:2x3x4"]
NAMES += ["cube:3,turns=half", "cuboid:2x2x3,turns=half", "corner-cube", "tiles:3x3,letters=AABCDEFG", "rings:5+5,cross=2"]
NAMES += ["cuboid:2x2x3,turns=R2+F", "cuboid:2x2x3,turns=R2+U2", "cuboid:2x4x4,turns=2U2+F2"]


@pytest.mark.parametrize("name", NAMES)
def test_a_verdict_on_a_part_is_that_on_the_whole(name):
    puzzle, rng, settled = load(name), Random(name), 0
    for trial in range(16):
        arrangement = _somewhere(puzzle, rng, by_hand=trial % 2 == 1)
        whole = puzzle.appearance(arrangement)
        sights = list(whole.sights)
        unseen = rng.sample(range(len(puzzle.slots)), min(len(puzzle.slots), rng.choice((1, 2, 3, 5))))
        for slot in unseen:
            sights[slot] = every_look(puzzle, slot)
        found = judged(puzzle, Appearance(name, tuple(sights)))
        if found.verdict != "cannot tell yet":
            settled += 1
            by_hand = any(isinstance(assumed, NotYetPlaced) for assumed in found.assumed)
            verdicts = {found.verdict, "not by turning"} if by_hand else {found.verdict}
            assert judged(puzzle, whole).verdict in verdicts, [puzzle.slots[slot] for slot in unseen]
        else:
            assert found.ask_next and found.notes
    assert settled or name == "cube:2", "on the cube of two slabs any corner that nobody sees may be twisted"


def _somewhere(puzzle, rng: Random, by_hand: bool):
    if puzzle.blank is None:
        held = rng.choices(list(puzzle.rotations), k=2) if puzzle.chosen and puzzle.rotations else []
        arrangement = puzzle.follow(" ".join([*rng.choices(list(puzzle.turns), k=6), *held]))
    else:
        arrangement = puzzle.solved
        for _ in range(8):
            arrangement = puzzle.follow(rng.choice(puzzle.legal(arrangement)).name, arrangement)
    if not by_hand:
        return arrangement
    kind = max(puzzle.kinds, key=lambda kind: (kind.twist > 1) * len(kind.slots) or len(kind.slots) / 100)
    one, other = rng.sample([p for p in kind.places if p != puzzle.blank], 2)
    changes = {one: (one, 1)} if kind.twist > 1 else {one: (other, 0), other: (one, 0)}
    return puzzle.arrangement(puzzle.permutation(arrangement)[lookalikes(puzzle).relabelling(changes)])


def last_layer(name: str, *changes: str) -> Appearance:
    """Two layers done and the last one not placed yet, but for what the changes tell of the UF edge."""
    puzzle = load(name)
    top = [slot != "U" and "U" in slot for slot in puzzle.slots]
    sights = [(every_look if unseen else own_look)(puzzle, b) for b, unseen in enumerate(top)]
    uf = puzzle.slot("UF")
    sights[uf] = puzzle.appearance(changed(puzzle, list(changes))).sights[uf]
    return Appearance(name, tuple(sights))


def test_the_commonest_letter_gets_both_readings():
    """Two layers done, one top edge upside down, the rest not placed yet: 4! 3^4 corners and 3! 2^3 edges."""
    found = diagnose(load("cube:3"), last_layer("cube:3", "flip UF"))
    assert found.verdict == "cannot tell yet"
    assert "nothing that is told is impossible so far" in found.notes[0]
    assert "in place: no turning leads to it, because of the law of flips of edges" in found.notes[1]
    ways = 24 * 81 * 6 * 8
    assert f"of {ways:,} ways".replace(",", " ") in found.notes[2] and "one in 12" in found.notes[2]
    assert "says nothing either way" in found.notes[2]
    assert found.ask_next[0].startswith("one photograph from the corner where U, ")


def test_on_the_prism_the_same_letter_names_the_culprit_of_the_first_reading():
    found = diagnose(load("shape-mod:prism8"), last_layer("shape-mod:prism8", "flip UF"))
    assert "false parity" in found.notes[1] and "FL edge" in found.notes[1]


@pytest.mark.parametrize("name", ["shape-mod:cube,axis=U,degrees=45", "shape-mod:prism8"])
@pytest.mark.parametrize("corners", ["UFR", "UFR UBL", "UFR UFL UBR UBL"])
def test_where_only_corners_are_not_placed_yet_a_lone_flip_has_four_culprits(name, corners):
    """No twist or place of a corner makes up for a flipped edge: the hidden flips of four edges do."""
    puzzle = load(name)
    sights = list(puzzle.appearance(changed(puzzle, ["flip UF"])).sights)
    for slot in corners.split():
        sights[puzzle.slot(slot)] = every_look(puzzle, puzzle.slot(slot))
    found = diagnose(puzzle, Appearance(name, tuple(sights)))
    assert found.verdict == "lookalike" and [law.name for law in found.broken] == ["flips of edges"]
    assert [culprit.pieces for culprit in found.culprits] == [("FL",), ("FR",), ("BL",), ("BR",)]
    assert found.assumptions[-1].startswith("what is not placed yet") and not any(
        "make up for it" in note for note in found.notes
    )
    assert found.surprise.share is None
    said = reply_text(answer(puzzle, Appearance(name, tuple(sights))))
    assert "even in number, and you can see one. So" in said and "Place the rest first" in said and "no piece" not in said


def test_what_is_forced_is_judged_as_if_it_were_seen():
    board = load("tiles:3x3")
    sights = list(board.appearance(changed(board, ["swap r1c1 r1c2"])).sights)
    sights[board.slot("r3c1")] = every_look(board, board.slot("r3c1"))
    found = diagnose(board, Appearance(board.name, tuple(sights)))
    assert found.verdict == "not by turning" and [law.type for law in found.broken] == ["sign"]
    assert "can only be one thing" in found.notes[0]


def test_a_broken_law_is_named_whatever_the_rest_is():
    cube = load("cube:3")
    sights = list(cube.appearance(changed(cube, ["flip UF"])).sights)
    for slot in ("UFR", "UFL", "UBR", "UBL"):
        sights[cube.slot(slot)] = every_look(cube, cube.slot(slot))
    found = diagnose(cube, Appearance(cube.name, tuple(sights)))
    assert found.verdict == "not by turning" and [law.name for law in found.broken] == ["flips of edges"]


def test_pieces_that_do_not_exist_are_no_assembly():
    cube = load("cube:3")
    sights = list(cube.appearance(cube.solved).sights)
    sights[cube.slot("UF")] = sights[cube.slot("UR")]
    sights[cube.slot("UFR")] = every_look(cube, cube.slot("UFR"))
    found = diagnose(cube, Appearance(cube.name, tuple(sights)))
    assert found.verdict == "not by turning" and "no way to put this puzzle's pieces together" in found.notes[0]
