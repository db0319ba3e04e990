"""No way, tool, plan, check or map hangs on the wording of a sentence: with a random token for each, facts stay the same."""

from secrets import token_hex

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.checking.check import check
from oddswap.reasoning.checking.place_lost import place_lost
from oddswap.reasoning.opening.ways_map import ways_map
from oddswap.reasoning.search import kept_files
from oddswap.reasoning.teaching import toolbox
from oddswap.reasoning.teaching.carried_out import carry_out
from oddswap.reasoning.teaching.plans import read_plan
from oddswap.showing.pages.check_page import check_data
from oddswap.showing.pages.plan_page import plan_data
from oddswap.showing.pages.telling import way_data
from oddswap.showing.pages.tools_page import tools_data
from oddswap.showing.pages.ways_page import ways_data
from oddswap.words import table

PROSE = {"words", "notes", "statement", "name", "before", "after", "change", "reason", "does", "counting"}
PROSE |= {"changes", "mistakes", "stuck", "laws"}


def told_way():
    puzzle = load("cube:3")
    return way_data(answer(puzzle, puzzle.appearance(puzzle.follow("F U R U' R' F'"))))


def plan(name: str, change: str):
    puzzle = load(name)
    return plan_data(puzzle, carry_out(puzzle, read_plan(), changed(puzzle, [change])))


def tried():
    cube = load("cube:2")
    start, way = cube.appearance(cube.follow("R U F")), "F' U' R"
    lost = place_lost(cube, start, "F' U' R'", cube.appearance(cube.follow("R U2")))
    return check_data(cube, check(cube, start, way), lost)


CASES = {
    "a way": told_way,
    "a plan": lambda: plan("shape-mod:prism8", "flip UF"),
    "a plan that is stuck": lambda: plan("cube:3", "flip UF"),
    "a sequence": tried,
    "a map": lambda: ways_data(ways_map(load("cuboid:1x3x3"), 6)),
    "tools": lambda: tools_data(load("cube:2"), toolbox.toolbox(load("cube:2"))),
}


def split(data, prose: list):
    """The data without what is prose, which is added to a list."""
    if isinstance(data, dict):
        prose += [value for key, value in data.items() if key in PROSE]
        return {key: split(value, prose) for key, value in data.items() if key not in PROSE}
    return [split(item, prose) for item in data] if isinstance(data, list) else data


@pytest.mark.parametrize("case", CASES)
def test_a_random_token_for_each_text_changes_no_fact(case, monkeypatch):
    monkeypatch.setenv(kept_files.VARIABLE, "")
    monkeypatch.setattr(toolbox, "_kept", toolbox._kept.__wrapped__)
    sentences, tokens = [], []
    facts = split(CASES[case](), sentences)
    monkeypatch.setattr(table, "_words_of", lambda *_: lambda *_: token_hex(8))
    assert split(CASES[case](), tokens) == facts
    assert sentences != tokens and len(str(facts)) > 100
