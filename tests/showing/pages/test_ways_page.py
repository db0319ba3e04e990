"""The page of the ways: data by the schema, every family in the text, and its files."""

import json
import re
from importlib.resources import files

import jsonschema
import pytest

from oddswap.__main__ import main
from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.opening.ways_map import ways_map
from oddswap.reasoning.search import kept_files
from oddswap.reasoning.teaching.carried_out import carry_out
from oddswap.reasoning.teaching.plans import read_plan
from oddswap.reasoning.teaching.toolbox import toolbox
from oddswap.showing.pages.ways_page import plan_data, plan_markdown, tools_data, tools_markdown, ways_data, ways_markdown
from oddswap.words.ways.ways_out import UNSTEADY
from tests.common.clocks import PLENTY

WAYS = json.loads((files("oddswap.showing.pages") / "schemas" / "ways.json").read_text("utf-8"))


@pytest.fixture(autouse=True)
def place(monkeypatch, tmp_path):
    monkeypatch.setenv(kept_files.VARIABLE, str(tmp_path / "kept"))


@pytest.mark.parametrize(("name", "depth"), [("cuboid:2x3x4", 9), ("cuboid:2x3x4", 12), ("cuboid:2x2x4", 3), ("cuboid:3x4x5", 2)])
def test_data_follow_the_schema_and_the_text_has_every_family(name, depth):
    found = ways_map(load(name), depth)
    data, text = ways_data(found), ways_markdown(found)
    jsonschema.validate(data, WAYS, cls=jsonschema.Draft202012Validator)
    for way in data["families"]:
        assert way["words"] in text and (way["moves"] is None or f"`{way['moves']}`" in text)
        assert (way["moves"] is None) == (way["length"] is None) == (way["status"] != "found")
        assert way["length"] in (None, way["at_least"]) and way["length"] in (None, len((way["moves"] or "").split()))
    assert ("null" in " ".join(data["notes"])) == any(None in way.values() for way in data["families"])
    assert all("null" not in line for line in text.splitlines()) and "do not push" in text


def test_what_was_proved_and_what_is_open_are_told_apart():
    beyond = ways_markdown(ways_map(load("cuboid:2x3x4"), 9))
    opened = ways_markdown(ways_map(load("cuboid:3x4x5"), 9, Budget(60, 10**7)))
    assert "10 or more, proved" in beyond and "open" not in beyond.split("## What was counted")[0].split("##")[1]
    assert "or more, open" in opened and "need more memory than 0.01 GB" in opened


def test_the_command_prints_data_and_text_and_writes_its_files(capsys, tmp_path):
    asked = ["ways", "cuboid:2x3x4", "--depth", "5"]
    assert main([*asked, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    jsonschema.validate(data, WAYS)
    assert main([*asked, "--out", str(tmp_path / "out")]) == 0
    said = capsys.readouterr()
    assert said.err == "" and all(f"`{way['moves']}`" in said.out for way in data["families"] if way["moves"])
    page = (tmp_path / "out" / "ways.md").read_text("utf-8")
    assert "![" in page and (tmp_path / "out" / "ways.svg").exists()
    assert main(["ways", "cuboid:2x2x4", "--out", str(tmp_path / "out")]) == 0
    assert not (tmp_path / "out" / "ways.svg").exists()


@pytest.mark.parametrize(
    ("asked", "words"),
    [(["cube:3"], "such as cuboid:2x3x4"), (["cuboid:2x3x4", "--depth", "0"], "from 1 to 99"), (["cuboid:0x3x4"], "0")],
)
def test_bad_input_is_one_line_and_status_2(capsys, asked, words):
    try:
        status = main(["ways", *asked])
    except SystemExit as end:
        status = end.code
    said = capsys.readouterr()
    assert status == 2 and said.out == "" and words in said.err and said.err.count("\n") == 1


TOOLS = json.loads((files("oddswap.showing.pages") / "schemas" / "tools.json").read_text("utf-8"))


@pytest.mark.parametrize("name", ["cuboid:2x3x4", "rings:4+4,cross=1", "tiles:2x3"])
def test_page_and_data_tell_every_tool(name):
    puzzle = load(name)
    tools = toolbox(puzzle, PLENTY)
    data, text = tools_data(puzzle, tools), tools_markdown(puzzle, tools)
    jsonschema.validate(data, TOOLS)
    assert [tool["moves"] for tool in data["tools"]] == [tool.moves for tool in tools]
    assert all(f"- `{tool.moves}` (" in text for tool in tools)
    heads = [line.removeprefix("## ").lower() for line in text.splitlines() if line.startswith("## ")]
    assert sorted(heads) == sorted({tool.words.lower() for tool in tools})
    assert (data["notes"] == [UNSTEADY]) == (not data["tools"]) == (name == "tiles:2x3")


PLAN = json.loads((files("oddswap.showing.pages") / "schemas" / "plan.json").read_text("utf-8"))


@pytest.mark.parametrize(
    ("name", "changes"),
    [("shape-mod:prism8", ["flip UF"]), ("cube:3", ["flip UF"]), ("cube:3,centres=none", ["swap UF UB"]), ("cube:3", [])],
)
def test_the_data_keep_to_the_schema_and_their_moves_are_those_of_the_parts(name, changes):
    puzzle = load(name)
    data = plan_data(puzzle, carry_out(puzzle, read_plan(), changed(puzzle, changes)))
    jsonschema.validate(data, PLAN)
    moves = [part["moves"] for e in data["events"] for part in e.get("parts", [e])]
    assert " ".join(filter(None, moves)) == data["moves"]
    assert data["finished"] == (data["stuck"] is None)


def test_the_page_says_where_the_trouble_is_and_what_is_done_about_it():
    puzzle = load("shape-mod:prism8")
    page = plan_markdown(puzzle, carry_out(puzzle, read_plan(), changed(puzzle, ["flip UF"])), "U")
    assert "**Scramble:** `U`" in page and "## Trouble at the stage top cross" in page
    assert "the FL edge is flipped, which does not show. It could as well be FR or BL or BR." in page
    assert page.index("## Trouble") < page.rindex("## Middle edges")
    assert "*as if held after*" in page
    shown = re.findall("`([^`]+)`", re.sub("held after `[^`]+`", "", page.split("## ", 1)[1]))
    assert puzzle.appearance(puzzle.follow(" ".join(shown), changed(puzzle, ["flip UF"]))) == puzzle.appearance(puzzle.solved)


def test_names_of_stages_and_sequences_are_no_markup(tmp_path):
    file, cube = tmp_path / "mine.toml", load("cube:3")
    text = '[[stage]]\nname = "<b>*a*"\nslots = ["DF"]\n[stage.sequences]\n"[x](y)" = "D"\n'
    file.write_text(text, "utf-8")
    page = plan_markdown(cube, carry_out(cube, read_plan(file), cube.follow("D'")))
    assert "<b>" not in page and "[x](y)" not in page


def test_the_command_takes_a_puzzle_a_ticket_or_a_scramble_with_trouble(capsys, tmp_path):
    ticket = tmp_path / "one.toml"
    ticket.write_text('puzzle = "shape-mod:prism8"\nchanges = ["flip UF"]\n', "utf-8")
    for arguments in (["cube:3", "--after", "R U"], [str(ticket)], ["shape-mod:prism8", "--trouble", "3", "--length", "9"]):
        assert main(["plan", *arguments, "--json"]) == 0
        data = json.loads(capsys.readouterr().out)
        jsonschema.validate(data, PLAN)
        assert (data["scramble"] is not None) == ("--trouble" in arguments)
    assert main(["plan", str(ticket)]) == 0
    assert "Trouble" in capsys.readouterr().out
    for arguments, said in (
        (["cube:3", "--trouble", "1"], "no lookalikes"),
        ([str(ticket), "--after", "R"], "leave out --after"),
        (["cube:2"], "no slot called"),
    ):
        assert main(["plan", *arguments]) == 2
        assert said in capsys.readouterr().err
