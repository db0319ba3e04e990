"""Verdicts on boxes that may leave their outline."""

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.search.shortest import Budget
from oddswap.reasoning.verdicts.diagnosis import CANNOT_TELL, ORDINARY, diagnose
from oddswap.reasoning.verdicts.open_boxes import judged_open


@pytest.mark.parametrize(("name", "moves"), [("cuboid:2x3x4,turns=all", "U 2F2 LL2"), ("cuboid:1x3x5,turns=all", "B U2 F'")])
def test_what_was_turned_is_ordinary_and_its_way_home_is_replayed(name, moves):
    box = load(name)
    seen = box.appearance(box.follow(moves))
    found = answer(box, seen, Budget(20.0))
    assert found.verdict == ORDINARY and found.way_out.length <= 3
    assert box.appearance(found.diagnosis.explanation).sights == seen.sights


def test_an_exchange_that_half_turns_cannot_make_is_ordinary_with_all_turns():
    box = load("cuboid:2x3x4,turns=all")
    assert diagnose(box, box.appearance(changed(box, ["swap UFL UBR"]))).verdict == ORDINARY


def test_no_way_within_the_budget_proves_nothing():
    box = load("cuboid:2x3x4,turns=all")
    found = judged_open(box, box.appearance(changed(box, ["swap UFL UBR"])), Budget(1e-6))
    assert found.verdict == CANNOT_TELL and "is not proved" in found.notes[0]
