"""No page hangs on the wording of a sentence, and none words one itself: with a random token for each, facts stay the same."""

import re
from dataclasses import asdict

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.checking.check import check, place_lost
from oddswap.reasoning.opening.ways_map import ways_map
from oddswap.reasoning.search import kept_files
from oddswap.reasoning.teaching import toolbox
from oddswap.reasoning.teaching.carried_out import carry_out
from oddswap.reasoning.teaching.plans import read_plan
from oddswap.reasoning.verdicts.alarms import alarms
from oddswap.showing.pages.check_page import check_data, check_markdown
from oddswap.showing.pages.law_page import alarms_data, alarms_markdown, laws_data, laws_markdown
from oddswap.showing.pages.report import answer_data, answer_markdown
from oddswap.showing.pages.ways_page import plan_data, plan_markdown, tools_data, tools_markdown, ways_data, ways_markdown
from oddswap.workshop.worksheets import worksheet
from tests.words.token_runs import PROSE as OF_ANSWERS
from tests.words.tokens import put_tokens_everywhere

PROSE = OF_ANSWERS | {"name", "before", "after", "change", "does", "changes", "mistakes", "stuck", "laws", "choices", "proof"}
PROSE |= {"leaves"}
SENTENCE = re.compile(r"([a-z]{2,} ){4}")
"""Five words in a row that are no names."""


def of_answer(name: str, *changes: str, after: str = ""):
    puzzle = load(name)
    found = answer(puzzle, puzzle.appearance(changed(puzzle, changes, puzzle.follow(after))))
    shown = dict.fromkeys(("seen", "tally", "xray", "strip"), "picture.svg") if found.easiest else {}
    return answer_data(found), answer_markdown(found, shown)


def of_plan(name: str, change: str):
    puzzle = load(name)
    done = carry_out(puzzle, read_plan(), changed(puzzle, [change]))
    return plan_data(puzzle, done), plan_markdown(puzzle, done)


def of_trial(way: str, now: str | None = None):
    cube = load("cube:2")
    start = cube.appearance(cube.follow("R U F"))
    lost = None if now is None else place_lost(cube, start, way, cube.appearance(cube.follow(now)))
    tried = check(cube, start, way)
    return check_data(cube, tried, lost), check_markdown(cube, tried, lost)


def of_map():
    found = ways_map(load("cuboid:1x3x3"), 6)
    return ways_data(found), ways_markdown(found)


def of_tools(name: str):
    puzzle = load(name)
    tools = toolbox.toolbox(puzzle)
    return tools_data(puzzle, tools), tools_markdown(puzzle, tools)


def of_alarms(name: str):
    puzzle = load(name)
    return alarms_data(puzzle, alarms(puzzle)), alarms_markdown(puzzle, alarms(puzzle))


def of_laws(name: str):
    return laws_data(load(name)), laws_markdown(load(name))


CASES = {
    "a way": lambda: of_answer("cube:3", after="F U R U' R' F'"),
    "culprits": lambda: of_answer("shape-mod:prism8", "flip UF"),
    "no way": lambda: of_answer("cube:2", "twist UFR cw"),
    "a plan": lambda: of_plan("shape-mod:prism8", "flip UF"),
    "a plan that is stuck": lambda: of_plan("cube:3", "flip UF"),
    "a way that is tried": lambda: of_trial("F' U' R'"),
    "a sequence": lambda: of_trial("F' U' R"),
    "a place": lambda: of_trial("F' U' R'", "R U2"),
    "a map": of_map,
    "tools": lambda: of_tools("cube:2"),
    "no tools": lambda: of_tools("tiles:2x3"),
    "alarms": lambda: of_alarms("cube:2"),
    "laws": lambda: of_laws("shape-mod:prism8"),
    "laws of what slides": lambda: of_laws("tiles:3x3"),
    "a worksheet": lambda: (asdict(worksheet(load("shape-mod:prism8"), 1, 1)), ""),
}


def split(data, prose: list):
    """The data without what is prose, which is added to a list."""
    if isinstance(data, dict):
        prose += [value for key, value in data.items() if key in PROSE]
        return {key: split(value, prose) for key, value in data.items() if key not in PROSE}
    return [split(item, prose) for item in data] if isinstance(data, list | tuple) else data


def worded(page: str) -> list[str]:
    """The lines of a page with words of its own, except for headings and tables."""
    return [line for line in page.splitlines() if line[:1] not in "#|" and SENTENCE.search(line)]


@pytest.mark.parametrize("case", CASES)
def test_a_random_token_for_each_text_changes_no_fact(case, monkeypatch):
    monkeypatch.setenv(kept_files.VARIABLE, "")
    monkeypatch.setattr(toolbox, "_kept", toolbox._kept.__wrapped__)
    sentences, tokens = [], []
    data, page = CASES[case]()
    put_tokens_everywhere(monkeypatch)
    data_of_tokens, page_of_tokens = CASES[case]()
    facts = split(data, sentences)
    assert split(data_of_tokens, tokens) == facts
    assert sentences != tokens and len(str(facts)) > 30
    assert bool(worded(page)) == bool(page) and worded(page_of_tokens) == []
