"""Answers to positions that only turns out of the box can mend."""

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.puzzles.changes import changed
from oddswap.reasoning.answers import answer
from oddswap.reasoning.diagnosis import NOT_BY_TURNING, OTHER_TURNS, diagnose
from oddswap.reasoning.search import Budget
from oddswap.reasoning.ways import looks_solved


@pytest.mark.parametrize(("name", "change"), [("cuboid:2x3x4", "swap UFL UBR"), ("cuboid:2x3x4", "swap UL.b2 UR.f2")])
def test_the_answer_names_the_laws_the_turns_and_the_phases(name, change):
    puzzle = load(name)
    seen = puzzle.appearance(changed(puzzle, [change]))
    assert diagnose(puzzle, seen).verdict == NOT_BY_TURNING
    found = answer(puzzle, seen, Budget(20.0))
    assert found.verdict == OTHER_TURNS and found.diagnosis.broken
    box = found.turning
    assert box.name == f"{name},turns=all"
    end = box.follow(found.way_out.moves, found.diagnosis.explanation)
    assert looks_solved(box, box.appearance(end))
    assert " ".join(moves for _, moves in found.way_out.phases) == found.way_out.moves
    assert box.appearance(box.follow(found.set_up)).sights == box.appearance(found.diagnosis.explanation).sights
    told = " ".join(found.diagnosis.notes)
    assert "this copy may not make" in told and "line it up, do not push" in told
    assert all(law.name in told for law in found.diagnosis.broken)
