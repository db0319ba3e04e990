"""Pieces that only measuring tells apart: each reading by the formulas of the books, and against the solid that was meant."""

from collections import Counter

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.describing.sights import every_look
from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.verdicts.alarms import alarms
from oddswap.reasoning.verdicts.diagnosis import diagnose, judged
from oddswap.reasoning.verdicts.findings import ToMeasure
from oddswap.reasoning.verdicts.readings import Reading, to_measure
from oddswap.showing.pages.law_page import alarms_data
from oddswap.showing.pages.report import answer_data, answer_markdown, reply_text
from oddswap.values.position import Appearance
from oddswap.workshop.worksheets import worksheet
from tests.reasoning.judge import Judge, anyhow, tampered

SKEW = "shape-mod:cube,axis=U,degrees=44.5"
MEANT = {
    SKEW: "shape-mod:cube,axis=U,degrees=45",
    "shape-mod:cube,axis=UR,degrees=54.7356": f"shape-mod:cube,axis=UR,degrees={np.degrees(np.arctan(2**0.5)):.12f}",
    "shape-mod:cube,shift=0.01/0/0": "shape-mod:cube,shift=0/0/0",
    "shape-mod:prism8,cut=0.42": "shape-mod:prism8",
    "shape-mod:cube,shift=0.1/0.101/0.1": "shape-mod:cube,shift=0.1/0.1/0.1",
}
"""Puzzles that were made, and those that their makers can have meant: of exactly these, nearly alike is alike."""


def looking_alike(puzzle):
    """For each label the first of its kind that looks the same."""
    return [
        [puzzle.looks[list(kind.labels)].tolist().index(puzzle.looks[label]) for label in kind.labels] for kind in puzzle.kinds
    ]


@pytest.mark.parametrize(("made", "meant"), MEANT.items())
def test_measured_alike_it_is_the_puzzle_that_was_meant(made, meant):
    alike, apart = (load(f"{made},measured={showed}") for showed in ("alike", "apart"))
    assert looking_alike(alike) == looking_alike(load(meant)) != looking_alike(apart) == looking_alike(load(made))
    assert alike.nearly == apart.nearly == () and load(made).nearly


@pytest.fixture(scope="module")
def judges():
    """The books on both readings: edges beside the upright corners of the solid that can be flipped unseen, or cannot."""
    hidden = Judge.of(load(MEANT[SKEW])).hidden
    centres = {slot: ways for slot, ways in hidden.items() if len(load(SKEW).slots[slot]) == 1}
    return Judge(load(SKEW), centres, ()), Judge(load(SKEW), hidden, ())


def test_a_verdict_stands_where_the_books_have_it_in_both_readings(judges, cases):
    puzzle, found, rng = load(SKEW), Counter(), np.random.default_rng(4)
    for number in cases:
        state = anyhow(puzzle, rng) if number % 3 == 0 else tampered(puzzle, rng, 20 * (number % 3 - 1), int(rng.integers(0, 4)))
        verdict = judged(puzzle, puzzle.appearance(state))
        apart, alike = (judge.verdict(state) for judge in judges)
        readings = [(one.measured, one.verdict) for one in verdict.findings if isinstance(one, Reading)]
        assert verdict.verdict == (apart if apart == alike else "cannot tell yet")
        assert readings in ([], [("apart", apart), ("alike", alike)]) and (apart == alike or readings)
        assert verdict.hangs_on_measuring == (apart != alike)
        found[verdict.verdict] += 1
    assert found["cannot tell yet"] and found["ordinary"] and found["not by turning"]


@pytest.mark.parametrize("changes, asked", [(["flip UF"], ["FL", "FR", "BL", "BR"]), (["flip FL"], ["FL"])])
def test_it_is_said_what_to_measure_and_nobody_is_accused(changes, asked):
    puzzle = load(SKEW)
    found = answer(puzzle, puzzle.appearance(changed(puzzle, changes)))
    assert found.diagnosis.asked == tuple(ToMeasure(slot, slot) for slot in asked)
    data = answer_data(found)
    assert [(one["if"], one["verdict"]) for one in data["readings"]][0] == ("apart", "not by turning")
    assert (data["repair"], data["slips"], data["way_out"]["moves"]) == (None, [], None)
    reply = reply_text(found)
    assert "measure" in reply and "Do not open anything" in reply and "Take out" not in answer_markdown(found)


def test_once_measured_the_verdict_stands():
    for showed, verdict in (("alike", "lookalike"), ("apart", "not by turning")):
        puzzle = load(f"{SKEW},measured={showed}")
        assert diagnose(puzzle, puzzle.appearance(changed(puzzle, ["flip UF"]))).verdict == verdict


def test_alarms_are_those_of_both_readings():
    """An edge that shows its flip looks wrong in both readings, and one beside an upright corner only if it was measured."""
    table = {alarm.changes: alarm for alarm in alarms(load(SKEW))}
    assert table["flip UF",].verdict == table["flip FL",].verdict == "cannot tell yet"
    assert table["flip UF",].reason.code == "to measure" and table["twist UFL cw",].verdict == "not by turning"
    reasons = {entry["reason"] for entry in alarms_data(load(SKEW), alarms(load(SKEW)))["entries"]}
    assert any("only measuring tells" in reason for reason in reasons)


def test_a_half_seen_puzzle_is_read_in_both_ways():
    puzzle = load(SKEW)
    sights = list(puzzle.appearance(changed(puzzle, ["flip UF"])).sights)
    sights[puzzle.slot("DFL")] = every_look(puzzle, puzzle.slot("DFL"))
    found = diagnose(puzzle, Appearance(SKEW, tuple(sights)), Budget(5.0))
    readings = [one.verdict for one in found.findings if isinstance(one, Reading)]
    assert (found.verdict, readings) == ("cannot tell yet", ["not by turning", "lookalike"]) and found.hangs_on_measuring


def test_no_worksheet_asks_what_only_measuring_can_answer(judges):
    for number in (1, 2):
        for question in worksheet(load(SKEW), 1, 7, number).questions:
            apart, alike = (judge.verdict(question.position) for judge in judges)
            assert apart == alike


def test_what_every_eye_tells_apart_needs_no_measuring():
    assert to_measure(load("cube:3")) == to_measure(load("shape-mod:prism8")) == ()
    with pytest.raises(BadOption, match="leave measured out"):
        load("shape-mod:prism8,measured=alike")
    with pytest.raises(BadOption, match="write measured=alike or measured=apart"):
        load(f"{SKEW},measured=no")
