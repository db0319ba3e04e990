"""Boxes that may leave their outline on the command line: every command answers or says one sentence, and bad input says what."""

import json
from pathlib import Path

import pytest

from oddswap.__main__ import main

BOX, COPY = "cuboid:2x3x4,turns=all", "cuboid:2x3x4,turns=U+U2+U'+F2+2F2+RR2"
TICKETS = sorted((Path(__file__).parents[2] / "notebooks" / "tickets" / "boxes").glob("*.toml"))
CLOSED = {"U": ["U U"] * 4, "D": ["D D"] * 4, "F": ["F F"] * 3, "B": ["B B"] * 3, "L": ["L L L L"] * 3, "R": ["R R R R"] * 3}


def said(capsys, *arguments):
    try:
        status = main([str(argument) for argument in arguments])
    except SystemExit as end:
        status = end.code
    out, err = capsys.readouterr()
    return status, out, err


def ticket(folder, text):
    path = folder / "ticket.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("path", TICKETS, ids=lambda path: path.stem)
def test_every_ticket_on_a_box_is_answered_with_its_pages(capsys, tmp_path, path):
    status, out, err = said(capsys, "answer", path, "--seconds", 20, "--out", tmp_path)
    assert (status, err) == (0, "") and "## A way out" in out and "## To set it up" in out
    assert {"answer.md", "answer.html", "reply.md", "strip.png"} <= {file.name for file in tmp_path.iterdir()}
    opens = "Leave the box" in out or "Return" in out
    assert opens == (tmp_path / "shapes.png").exists() == ("line it up, do not push" in out)
    for name in ("reply.md", "answer.html"):
        assert opens == ("line it up, do not push" in (tmp_path / name).read_text("utf-8"))


@pytest.mark.parametrize("name, index", [(BOX, "1"), (COPY, "6")])
def test_laws_and_alarms_are_those_of_what_comes_home(capsys, name, index):
    """Of 2 by 3 by 4 every exchange comes about by leaving the box, and no T-centre is ever flipped; 4 900 outlines."""
    status, out, err = said(capsys, "laws", name, "--json")
    data = json.loads(out)
    assert (status, err) == (0, "") and data["complete"] and data["index"] == index and data["laws"][0]["type"] == "orbit"
    assert name == COPY or data["shapes"] == 4900
    status, out, err = said(capsys, "alarms", name, "--json")
    verdicts = {entry["verdict"]: entry["changes"] for entry in json.loads(out)["entries"]}
    assert (status, err) == (0, "") and {"not by turning"} < set(verdicts) <= {"ordinary", "not by turning", "other turns"}


@pytest.mark.parametrize("name", [BOX, COPY])
def test_a_plan_that_names_other_slots_is_refused(capsys, name):
    """The method for four layers takes its centres home by quarter turns; this box makes not all of them."""
    status, out, err = said(capsys, "plan", name)
    assert (status, out, err.count("\n")) == (2, "", 1) and f"{name} does not make the turn " in err


def test_a_worksheet_is_made_for_a_copy_of_few_turns(capsys, tmp_path):
    status, out, err = said(capsys, "worksheet", "--puzzles", COPY, "--count", 1, "--tables", 1, "--out", tmp_path)
    assert (status, err) == (0, "") and any(tmp_path.glob("*.pdf"))


def test_there_are_no_tools_where_the_shape_decides(capsys):
    status, out, err = said(capsys, "tools", BOX)
    assert (status, err) == (0, "") and "there are no tools" in out and "`" not in out


TOLD = {
    "turns": 'after = "U 2F2"',
    "hands": 'changes = ["swap UFR UBL"]',
    "slots": '[slots]\nUFR = "UBL"\nUBL = "UFR"',
    "faces": "\n".join(f"[seen.{face}]\nrows = {rows}" for face, rows in CLOSED.items()).replace("'", '"'),
}


@pytest.mark.parametrize("how", TOLD)
def test_a_ticket_told_in_any_way_is_answered(capsys, tmp_path, how):
    for name in (BOX, COPY):
        path = ticket(tmp_path, f'puzzle = "{name}"\n{TOLD[how]}\n')
        status, out, err = said(capsys, "answer", path, "--seconds", 20)
        assert (status, err) == (0, "") and "**ordinary**" in out


def test_a_list_of_turns_in_the_ticket_leaves_only_these(capsys, tmp_path):
    text = 'puzzle = "cuboid:2x3x4"\nturns = ["U", "U\'", "2F2", "RR2"]\nchanges = ["swap UFR UBL"]\n'
    status, out, err = said(capsys, "answer", ticket(tmp_path, text))
    assert (status, err) == (0, "") and "`2F2 RR2 2F2`" in out and "turns U U' 2F2 RR2 only" in out
    text = text.replace(', "RR2"', "")
    status, out, err = said(capsys, "answer", ticket(tmp_path, text), "--seconds", 20)
    assert (status, err) == (0, "") and "**ordinary**" not in out


def test_a_sequence_is_checked_where_its_turns_can_be_made(capsys, tmp_path):
    path = ticket(tmp_path, f'puzzle = "{BOX}"\nchanges = ["swap UFR UBL"]\n')
    status, out, err = said(capsys, "check", path, "U 2F2 RR2 2F2 U'")
    assert (status, err) == (0, "") and out.startswith("# Yes")
    status, out, err = said(capsys, "check", path, "U 2F2 R2 2F2 U'")
    assert (status, err) == (0, "") and out.startswith("# Not yet")


def test_a_story_has_the_parts_of_the_excursion(capsys, tmp_path):
    path = ticket(tmp_path, f'puzzle = "{BOX}"\nchanges = ["swap UFR UBL"]\n')
    status, _, err = said(capsys, "story", path, "--out", tmp_path / "story", "--only", "captions", "--only", "script")
    assert (status, err) == (0, "")
    script = (tmp_path / "story" / "script.md").read_text("utf-8")
    assert "eave the box" in script and "keeps every law" not in script


BAD_NAMES = {
    "cuboid:0x3x4,turns=all": "a side of cuboid is a whole number from 1 to 7, not `0`",
    "cuboid:2x3x8,turns=all": "a side of cuboid is a whole number from 1 to 7, not `8`",
    "cuboid:2x3x4,turns=U+R": "three layers one way and four the other, so a quarter turn does not close",
    "cuboid:3x4x5,turns=R+U2": "four layers one way and five the other, so a quarter turn does not close",
    "cuboid:2x3x4,turns=U+ZZ": "`ZZ` is no turn of box of 2 by 3 by 4",
}


@pytest.mark.parametrize("name", BAD_NAMES)
def test_a_name_that_is_no_box_is_one_line(capsys, name):
    status, out, err = said(capsys, "laws", name)
    assert status == 2 and out == "" and err.count("\n") == 1 and BAD_NAMES[name] in err


BAD_TICKETS = {
    f'puzzle = "{BOX}"\nafter = "U R2 R"\n': "three layers one way and four the other",
    f'puzzle = "{BOX}"\nafter = "U2 RR2"\n': "turn 2, RR2, finds no layer there",
    'puzzle = "cuboid:1x2x5,turns=all"\nafter = "U\' 2B2"\n': "turn 2, 2B2, would leave cells that do not touch by a face",
    f'puzzle = "{BOX}"\nchanges = ["swap FL .b2R1"]\n': "no turning gives the outline that is described, of the 4900",
    'puzzle = "cuboid:3x4x5,turns=all"\nchanges = ["swap UFL UF"]\n': "different kinds",
    'puzzle = "cuboid:2x3x4"\nturns = ["U", "R"]\nchanges = ["swap UFR UBL"]\n': "`R` is no turn of box of 2 by 3 by 4",
    f'puzzle = "{BOX}"\n[seen.RR]\nrows = ["R R"]\n': "has no such face, only U, D, F, B, L, R",
}


@pytest.mark.parametrize("text", BAD_TICKETS)
def test_a_ticket_that_cannot_be_is_one_line(capsys, tmp_path, text):
    status, out, err = said(capsys, "answer", ticket(tmp_path, text), "--seconds", 5)
    assert status == 2 and out == "" and err.count("\n") == 1 and BAD_TICKETS[text] in err


def test_what_no_piece_shows_there_is_a_finding(capsys, tmp_path):
    faces = TOLD["faces"].replace('"F F", "F F"', '"B F", "F F"', 1)
    status, out, err = said(capsys, "answer", ticket(tmp_path, f'puzzle = "{BOX}"\n{faces}\n'), "--seconds", 5)
    assert (status, err) == (0, "") and "**not by turning**" in out and "UFL shows what no piece" in out
