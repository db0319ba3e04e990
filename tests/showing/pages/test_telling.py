"""A way out as it is told: phases and alternatives by the schema, and in words."""

import json
from importlib.resources import files

import jsonschema

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.showing.pages.report import answer_data
from oddswap.showing.pages.telling import taught_parts, way_data, way_phases

SCHEMA = json.loads((files("oddswap.showing.pages") / "schemas" / "answer.json").read_text("utf-8"))


def test_three_corners_are_told_as_a_teacher_would():
    cube = load("cube:3")
    found = answer(cube, cube.appearance(changed(cube, ["cycle UFR UFL UBL"])))
    data = answer_data(found)
    jsonschema.validate(data, SCHEMA)
    first = data["way_out"]["alternatives"][0]
    assert first["chosen_for"][0] == "easiest to follow"
    assert [phase["name"] for phase in first["phases"]] == ["set up", "exchange", "undo"]
    assert first["turns_to_remember"] < data["way_out"]["length"] == 9
    text = "\n\n".join(taught_parts(found))
    assert text.startswith("### Easiest to follow") and "cycles three corners" in text and "comes home" in text
    assert "Proved shortest" in text and "fingers rest on two faces" in text


def test_a_short_way_has_its_phases_and_one_stretch_has_none():
    cube = load("cube:3")
    told = answer(cube, cube.appearance(cube.follow("U R U' R'")))
    assert [phase["name"] for phase in way_phases(told)] == ["set up", "exchange", "undo", "finish"]
    flat = answer(cube, cube.appearance(cube.follow("R U")))
    assert way_phases(flat) == [] and taught_parts(flat) == []
    data = answer_data(flat)["way_out"]
    assert data["phases"] is None and [way["moves"] for way in data["alternatives"]] == [data["moves"]]


def test_solved_has_nothing_to_tell():
    cube = load("cube:3")
    assert answer_data(answer(cube, cube.appearance(cube.solved)))["way_out"]["alternatives"] == []


def test_a_false_parity_can_be_mended_through_the_stage_where_the_culprit_was_placed():
    """The layer method carried out from the position as it was brought; it leads home and says where it differs."""
    prism = load("shape-mod:prism8")
    found = answer(prism, prism.appearance(changed(prism, ["flip UF"])))
    told = way_data(found)["alternatives"]
    assert told[-1]["chosen_for"] == ["through the stage where the culprit was placed"]
    assert "the other way round this time" in told[-1]["phases"][0]["words"]
    home = prism.follow(told[-1]["moves"], found.diagnosis.explanation)
    assert prism.appearance(home) == prism.appearance(prism.solved)
    cube = load("cube:3")
    plain = answer(cube, cube.appearance(cube.follow("R U F2")))
    assert all("stage" not in sort for way in way_data(plain)["alternatives"] for sort in way["chosen_for"])
