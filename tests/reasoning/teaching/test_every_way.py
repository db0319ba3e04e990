"""Ways as they are told: which is called the easiest, that all which goes out shows that one, and the way through the layers."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest

from oddswap.describing.changes import changed
from oddswap.describing.tickets import read_ticket
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import Answer, answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.teaching.phases import PlaceInStage
from oddswap.reasoning.teaching.tool_ways import EASIEST, INSIDE, through_the_plan
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.pages.folders import answer_html
from oddswap.showing.pages.report import reply_text
from oddswap.story.telling.beats import story_of
from tests.common.clocks import PLENTY

TICKETS = sorted(Path("notebooks/tickets").rglob("*.toml"))
PUZZLES = ("cube:3", "shape-mod:prism8", "cube:2", "cube:3,centres=marked", "cuboid:2x2x4")
SHORT = Budget(2.0)


def is_worse(one, other) -> bool:
    """Whether one way is longer, more to remember, and more changes of grip than another."""
    return one.length > other.length and one.remember > other.remember and one.grip_changes > other.grip_changes


def check_ways(found: Answer) -> None:
    assert bool(found.told) == bool(found.way_out and found.way_out.length)
    for way in found.told:
        end = found.turning.follow(way.turns, found.diagnosis.explanation)
        assert looks_solved(found.turning, found.turning.appearance(end)) and way.length == len(way.turns.split())
        assert (EASIEST in way.sorts) == (way is found.easiest) and not is_worse(found.easiest, way)
        assert found.easiest.effort <= way.effort


@pytest.mark.one_in(3)
@pytest.mark.parametrize("path", TICKETS, ids=lambda path: path.stem)
def test_the_easiest_way_out_of_a_ticket_is_not_worse_than_another(path):
    ticket = read_ticket(path)
    check_ways(answer(ticket.puzzle, ticket.appearance, SHORT))


def test_the_easiest_way_out_of_a_changed_puzzle_is_not_worse_than_another(cases):
    """Three corners or edges in a circle, or two that are turned, and perhaps a turn on top: what tools are for."""
    several = 0
    for number in cases[: len(cases) // 5]:
        dice = random.Random(number)
        puzzle = load(dice.choice(PUZZLES))
        kind = dice.choice([kind for kind in puzzle.kinds if len(kind.slots) > 3])
        a, b, c = dice.sample(kind.slots, 3)
        turned = [f"flip {a}", f"flip {b}"] if kind.twist == 2 else [f"cycle {a} {b} {c}"]
        state = changed(puzzle, dice.choice((turned, [f"cycle {a} {b} {c}"])))
        found = answer(puzzle, puzzle.appearance(puzzle.follow(dice.choice(("", *puzzle.turns)), state)), Budget(12.0))
        check_ways(found)
        several += len(found.told) > 1
    assert several


def test_a_way_with_plain_turns_at_its_end_is_not_called_easy_where_it_is_three_times_as_long():
    ticket = read_ticket("notebooks/tickets/boxes/19_box_two_corners_over.toml")
    easy, plain = answer(ticket.puzzle, ticket.appearance, SHORT).told
    assert (easy.length, plain.sorts) == (5, (INSIDE,)) and is_worse(plain, easy)


def test_reply_page_and_story_show_the_easiest_way():
    """Here it is not the shortest: a tool with a set-up, two turns longer and half as much to remember."""
    cube = load("cube:3")
    found = answer(cube, cube.appearance(changed(cube, ["cycle UFR UFL UBL"])))
    shown = found.easiest.turns
    assert found.easiest.length > found.way_out.length and found.way_out.shortest
    reply = reply_text(found)
    assert f"`{shown}`" in reply and "no way is shorter" not in reply
    assert cube.follow(story_of(found).moves) == cube.follow(shown)
    strip = answer_html(found).split('"strip"')[1]
    assert " ".join(re.findall(r'"name": ?"([^"]+)"', strip)).startswith(shown)


CASES = [
    ("shape-mod:prism8", ["flip UF"]),
    ("shape-mod:prism8,paint=FR+FL+BR+BL", ["flip UF"]),
    ("shape-mod:cube,axis=U,degrees=45", ["flip UB"]),
]


@pytest.mark.parametrize(("name", "changes"), CASES)
def test_it_leads_home_and_says_where_the_culprit_was_placed(name, changes):
    puzzle = load(name)
    start = diagnose(puzzle, puzzle.appearance(changed(puzzle, changes))).explanation
    told = through_the_plan(puzzle, start, PLENTY)
    assert looks_solved(puzzle, puzzle.appearance(puzzle.follow(told.turns, start)))
    assert " ".join(phase.moves for phase in told.phases) == told.turns
    assert any(isinstance(phase.aim, PlaceInStage) and phase.aim.again for phase in told.phases)
    assert told.length == len(told.turns.split())


@pytest.mark.parametrize(("name", "moves"), [("cube:3", "R U"), ("cube:2", "R U"), ("cube:4", "R U"), ("tiles:3x3", "r3c2")])
def test_without_trouble_or_a_plan_there_is_none(name, moves):
    """No trouble on a cube; the layer method does not fit two slabs, four slabs or tiles."""
    puzzle = load(name)
    assert through_the_plan(puzzle, puzzle.follow(moves), PLENTY) is None
