"""The page of the ways: data by the schema, every family in the text, and its files."""

import json
from importlib.resources import files

import jsonschema
import pytest

from oddswap.__main__ import main
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.opening.ways_map import ways_map
from oddswap.reasoning.search import kept_files
from oddswap.showing.pages.ways_page import ways_data, ways_markdown

SCHEMA = json.loads((files("oddswap.showing.pages") / "schemas" / "ways.json").read_text("utf-8"))


@pytest.fixture(autouse=True)
def place(monkeypatch, tmp_path):
    monkeypatch.setenv(kept_files.VARIABLE, str(tmp_path / "kept"))


@pytest.mark.parametrize(("name", "depth"), [("cuboid:2x3x4", 9), ("cuboid:2x3x4", 12), ("cuboid:2x2x4", 3), ("cuboid:3x4x5", 2)])
def test_data_follow_the_schema_and_the_text_has_every_family(name, depth):
    found = ways_map(load(name), depth)
    data, text = ways_data(found), ways_markdown(found)
    jsonschema.validate(data, SCHEMA, cls=jsonschema.Draft202012Validator)
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
    jsonschema.validate(data, SCHEMA)
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
