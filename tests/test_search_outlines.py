"""Searches through outlines: shortest ways against a plain walk over arrangements."""

from itertools import islice

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search import find_way


def walked(box, depth: int) -> list[dict]:
    """All arrangements by distance from solved, by what the puzzle itself allows turn by turn."""
    levels, seen = [{box.solved: None}], {box.appearance(box.solved).sights}
    for _ in range(depth):
        following = {}
        for state in levels[-1]:
            for turn in box.legal(state):
                after = box.arrangement(turn.permutation[box.permutation(state)])
                if box.appearance(after).sights not in seen:
                    seen.add(box.appearance(after).sights)
                    following[after] = turn
        levels.append(following)
    return levels


@pytest.mark.parametrize("name", ["cuboid:1x3x3,turns=all", "cuboid:1x3x5,turns=all"])
def test_ways_back_are_as_short_as_a_plain_walk_found_and_can_be_turned(name):
    box = load(name)
    assert not box.rotations
    for depth, level in enumerate(walked(box, 2)):
        for state in islice(level, 0, None, 1 + len(level) // 12):
            way = find_way(box, box.appearance(state))
            assert way.shortest and len(way.turns) == way.lower_bound == depth
            end = box.follow(" ".join(way.turns), state)
            assert box.appearance(end) == box.appearance(box.solved)
