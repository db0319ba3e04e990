"""The command line: answers by their schemas, one line for bad input, nothing of the note in what is written."""

import json
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from oddswap.__main__ import main

TICKETS = Path(__file__).parents[1] / "notebooks" / "tickets"


def run(capsys, *arguments):
    """The exit status, what was printed, and what was complained of."""
    try:
        status = main([str(argument) for argument in arguments])
    except SystemExit as stop:
        status = stop.code
    out = capsys.readouterr()
    return status, out.out, out.err


def by_schema(text, name):
    data = json.loads(text)
    jsonschema.validate(data, json.loads((files("oddswap.showing") / "schemas" / f"{name}.json").read_text("utf-8")))
    return data


@pytest.mark.parametrize(
    "name",
    ["02_cube_two_edges_over", "03_painted_octagon_two_edges_over", "09_cube_one_photograph_turned", "11_small_cube_held_anyhow"],
)
def test_answers_are_data_by_their_schema_whatever_the_verdict(capsys, name):
    status, out, err = run(capsys, "answer", TICKETS / f"{name}.toml", "--json", "--seconds", "20")
    data = by_schema(out, "answer")
    assert (status, err) == (0, "")
    assert (data["way_out"]["moves"] is None) == (data["verdict"] == "not by turning")
    assert data["notes"] or data["way_out"]["moves"]


@pytest.mark.parametrize(
    "name", ["cube:2", "cube:3", "shape-mod:prism8", "corner-cube", "cube:3,turns=half", "tiles:3x3", "rings:4+4,cross=1"]
)
def test_laws_are_data_by_their_schema_and_text(capsys, name):
    status, out, err = run(capsys, "laws", name, "--json")
    data = by_schema(out, "laws")
    assert (status, err) == (0, "") and data["puzzle"] == name
    assert int(data["order"]) * int(data["index"]) == int(data["assembly_order"])
    status, text, err = run(capsys, "laws", name)
    assert (status, err) == (0, "") and all(law["statement"] in text for law in data["laws"])


def test_order_of_the_unexpected_rings_is_told_with_the_missing_factor(capsys):
    """Two rings of four beads that share two: PGL(2,5) on six points, of order 120 (GAP; see test_rings)."""
    data = by_schema(run(capsys, "laws", "rings:4+4,cross=1", "--json")[1], "laws")
    assert (data["order"], data["complete"], data["unexplained"]) == ("120", False, "6")


@pytest.mark.parametrize("name", ["cube:2", "cube:3,centres=none"])
def test_alarms_are_data_by_their_schema_and_text(capsys, name):
    status, out, err = run(capsys, "alarms", name, "--json")
    data = by_schema(out, "alarms")
    assert (status, err) == (0, "") and {entry["verdict"] for entry in data["entries"]} == {"ordinary", "not by turning"}
    status, text, err = run(capsys, "alarms", name)
    assert (status, err) == (0, "") and all(entry["words"] in text for entry in data["entries"])


def test_an_answer_is_written_with_its_pictures_and_without_the_note(capsys, tmp_path):
    ticket = TICKETS / "03_painted_octagon_two_edges_over.toml"
    status, out, err = run(capsys, "answer", ticket, "--out", tmp_path / "answer", "--seconds", "20")
    written = {path.name for path in (tmp_path / "answer").iterdir()}
    assert (status, err) == (0, "")
    assert written == {"answer.md", "reply.md", "seen.png", "xray.png", "strip.png", "tally.png"}
    note = next(line for line in ticket.read_text("utf-8").splitlines() if line.startswith("note"))
    for name in ("answer.md", "reply.md"):
        text = (tmp_path / "answer" / name).read_text("utf-8")
        assert note.split('"')[1][:30] not in text
    assert (tmp_path / "answer" / "answer.md").read_text("utf-8").count("![") == 4


BAD = [
    ("laws", "pyramid:3"),
    ("laws", "cube:99"),
    ("laws", "cube:3,centres=gold"),
    ("laws", "cube:3", "--quux"),
    ("alarms", "shape-mod:cube,cut=0.99"),
    ("answer", "no_such_ticket.toml"),
    ("answer",),
    ("answer", TICKETS / "07_picture_cube_half_turn.toml", "--turns", "Q9"),
    ("answer", TICKETS / "07_picture_cube_half_turn.toml", "--seconds", "-1"),
    ("answer", TICKETS / "11_small_cube_held_anyhow.toml", "--out", "/dev/null/answer"),
    (),
]


@pytest.mark.parametrize("arguments", BAD, ids=lambda a: " ".join(map(str, a))[-40:] or "nothing")
def test_bad_input_gets_one_line_and_status_2(capsys, arguments):
    status, out, err = run(capsys, *arguments)
    assert (status, out) == (2, "")
    assert err.startswith("oddswap: ") and err.count("\n") == 1


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(min_size=1, max_size=40))
def test_any_text_for_a_puzzle_is_an_answer_or_one_line(capsys, text):
    status, out, err = run(capsys, "laws", "--", text) if not text.startswith("cube:2") else (0, "", "")
    assert status in (0, 2) and err.count("\n") <= 1 and (status == 0) == (err == "")
