"""The way through the stage where the culprit was placed: replayed, and refused where there is none."""

from __future__ import annotations

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.aims import PlaceInStage
from oddswap.reasoning.teaching.every_way import through_the_plan
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.reasoning.ways.way_out import looks_solved
from tests.common.clocks import PLENTY

CASES = [
    ("shape-mod:prism8", ["flip UF"]),
    ("shape-mod:prism8,paint=FR+FL+BR+BL", ["flip UF"]),
    ("shape-mod:cube,axis=U,degrees=45", ["flip UB"]),
]


@pytest.mark.parametrize(("name", "changes"), CASES)
def test_it_leads_home_and_says_where_the_culprit_was_placed(name, changes):
    puzzle = load(name)
    start = diagnose(puzzle, puzzle.appearance(changed(puzzle, changes))).explanation
    told = through_the_plan(puzzle, start, PLENTY)
    assert looks_solved(puzzle, puzzle.appearance(puzzle.follow(told.turns, start)))
    assert " ".join(phase.moves for phase in told.phases) == told.turns
    assert any(isinstance(phase.aim, PlaceInStage) and phase.aim.again for phase in told.phases)
    assert told.length == len(told.turns.split())


@pytest.mark.parametrize(("name", "moves"), [("cube:3", "R U"), ("cube:2", "R U"), ("cube:4", "R U"), ("tiles:3x3", "r3c2")])
def test_without_trouble_or_a_plan_there_is_none(name, moves):
    """No trouble on a cube; the layer method does not fit two slabs, four slabs or tiles."""
    puzzle = load(name)
    assert through_the_plan(puzzle, puzzle.follow(moves), PLENTY) is None
