"""The page of tools: data by the schema, and every tool in the text."""

import json
from importlib.resources import files

import jsonschema
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.toolbox import toolbox
from oddswap.showing.pages.tools_page import tools_data, tools_markdown
from oddswap.words.ways.ways_out import UNSTEADY
from tests.common.clocks import PLENTY

SCHEMA = json.loads((files("oddswap.showing.pages") / "schemas" / "tools.json").read_text("utf-8"))


@pytest.mark.parametrize("name", ["cuboid:2x3x4", "rings:4+4,cross=1", "tiles:2x3"])
def test_page_and_data_tell_every_tool(name):
    puzzle = load(name)
    tools = toolbox(puzzle, PLENTY)
    data, text = tools_data(puzzle, tools), tools_markdown(puzzle, tools)
    jsonschema.validate(data, SCHEMA)
    assert [tool["moves"] for tool in data["tools"]] == [tool.moves for tool in tools]
    assert all(f"- `{tool.moves}` (" in text for tool in tools)
    heads = [line.removeprefix("## ").lower() for line in text.splitlines() if line.startswith("## ")]
    assert sorted(heads) == sorted({tool.words.lower() for tool in tools})
    assert (data["notes"] == [UNSTEADY]) == (not data["tools"]) == (name == "tiles:2x3")
