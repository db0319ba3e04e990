"""Ways out of the box for exchanges that half turns cannot make.

Answers to positions that only turns out of the box can mend.
"""

import json
from importlib.resources import files

import jsonschema
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.boxes.box import lifted
from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.opening.outside import ChangeOutside, CloseBox, LeaveBox, excursion_home
from oddswap.reasoning.verdicts.diagnosis import NOT_BY_TURNING, OTHER_TURNS, diagnose
from oddswap.reasoning.verdicts.mending import is_reachable
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.pages.report import answer_data
from oddswap.words.answers import headline


@pytest.mark.parametrize(
    ("name", "change", "most"), [("cuboid:2x2x4,turns=half", "swap UFL UFR", 7), ("cuboid:1x3x3,turns=half", "swap UFLR UBLR", 8)]
)
def test_an_exchange_that_half_turns_cannot_make_is_made_outside(name, change, most):
    half = load(name)
    box, state = with_turns_out_of_the_box(half), changed(half, [change])
    assert not is_reachable(law_book(half), half.permutation(state))
    way = excursion_home(half, box, lifted(half, box, state))
    assert len(way.excursion) <= most and set(way.inside) <= set(half.turns)
    assert not set(way.excursion) <= set(half.turns)
    end = box.follow(" ".join(way.turns), way.start)
    assert looks_solved(box, box.appearance(end))
    assert [phase.aim for phase in way.phases][:3] == [LeaveBox(), ChangeOutside(), CloseBox()]
    assert " ".join(phase.moves for phase in way.phases) == " ".join(way.turns)


SCHEMA = json.loads((files("oddswap.showing.pages") / "schemas" / "answer.json").read_text("utf-8"))


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
    assert " ".join(phase.moves for phase in found.way_out.phases) == found.way_out.moves
    assert box.appearance(box.follow(found.set_up)).sights == box.appearance(found.diagnosis.explanation).sights
    told = " ".join(found.diagnosis.notes)
    assert "this copy may not make" in told and "line it up, do not push" in told
    assert all(law.name in told for law in found.diagnosis.broken)
    assert "breaks the orbit law" in told
    data = answer_data(found)
    jsonschema.validate(data, SCHEMA)
    for way in data["way_out"]["alternatives"]:
        end = box.follow(way["moves"], found.diagnosis.explanation)
        assert looks_solved(box, box.appearance(end)) and len(way["moves"].split()) == way["length"]


def test_a_longer_way_that_ends_in_plain_turns_stands_beside_the_shortest():
    half = load("cuboid:1x3x5,turns=half")
    found = answer(half, half.appearance(changed(half, ["swap UFLR UBLR"])), Budget(20.0))
    short, easy = answer_data(found)["way_out"]["alternatives"]
    assert (short["chosen_for"], easy["chosen_for"]) == (["easiest to follow", "shortest"], ["most turns inside the box"])
    assert easy["phases"][-1]["words"].startswith("finish") and short["moves"] == found.way_out.moves != easy["moves"]


def test_the_laws_of_the_open_box_decide_though_no_way_was_found():
    """Two corners on 3 by 4 by 5 are exchanged by leaving the box; a wing of 2 by 2 by 4 is twisted by no turns at all."""
    puzzle = load("cuboid:3x4x5")
    found = answer(puzzle, puzzle.appearance(changed(puzzle, ["swap UFL UBR"])), Budget(1e-3))
    assert found.verdict == OTHER_TURNS and found.way_out.moves is None
    assert "proved by the laws" not in " ".join(found.diagnosis.notes) and "other turns" not in headline(found)
    box = load("cuboid:2x2x4,turns=all")
    found = answer(box, box.appearance(changed(box, ["twist UL.b2 cw"])), Budget(1e-3))
    assert found.verdict == NOT_BY_TURNING and [law.modulus for law in found.diagnosis.broken] == [3]
    cube = load("cube:3")
    flat = answer(cube, cube.appearance(changed(cube, ["flip UF"])))
    assert headline(flat) == "As described, no sequence of moves can make this."
