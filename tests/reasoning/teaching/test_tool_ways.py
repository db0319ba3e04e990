"""Ways made of tools: each is replayed, easier to follow, and not much longer."""

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.effects import grip_changes
from oddswap.reasoning.teaching.tool_ways import EASIEST, GRIPS, MORE, SHORTEST, by_tools, told_ways
from oddswap.reasoning.ways.way_out import looks_solved
from tests.common.clocks import PLENTY

FOUND = "L2 F2 L B L' F2 L B' L"


def three_corners():
    cube = load("cube:3")
    start = cube.follow(cube.undone(FOUND))
    assert start == changed(cube, ["cycle UFR UFL UBL"])
    return cube, start


def test_the_easiest_is_a_tool_with_a_set_up_and_comes_first():
    cube, start = three_corners()
    ways = told_ways(cube, start, FOUND, PLENTY)
    assert ways[0].sorts[0] == EASIEST and {sort for way in ways for sort in way.sorts} == {EASIEST, SHORTEST, GRIPS}
    shortest = next(way for way in ways if SHORTEST in way.sorts)
    assert shortest.turns == FOUND and ways[0].remember < shortest.remember and ways[0].phases
    for way in ways:
        assert looks_solved(cube, cube.appearance(cube.follow(way.moves, start)))
        assert way.length == len(way.turns.split()) <= shortest.length + MORE
        assert way.grip_changes == grip_changes(cube, way.turns)
    assert min(way.grip_changes for way in ways) == next(way.grip_changes for way in ways if GRIPS in way.sorts)


def test_ways_by_tools_lead_out_within_the_length():
    cube, start = three_corners()
    found = list(by_tools(cube, start, 10, PLENTY))
    assert found and all(len(word) <= 10 for word in found)
    assert all(looks_solved(cube, cube.appearance(cube.follow(" ".join(word), start))) for word in found)


@pytest.mark.parametrize("moves", ["R U", "[R, U]"])
def test_a_short_way_is_told_as_it_is(moves):
    cube = load("cube:3")
    (way,) = told_ways(cube, cube.follow(cube.undone(moves)), moves, PLENTY)
    assert way.sorts == (EASIEST, SHORTEST, GRIPS) and way.moves == moves
