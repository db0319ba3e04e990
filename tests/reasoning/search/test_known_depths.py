"""Lengths of ways against an independent walk, arrangement by arrangement, from solved outwards."""

import json
from pathlib import Path
from random import Random

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search.shortest import find_way

REFERENCE = json.loads((Path(__file__).parents[2] / "reference" / "depth_counts.json").read_text("utf-8"))

PUZZLES = {
    "tiles:2x2": (12, 12),
    "tiles:2x3": (360, 40),
    "tiles:2x3,letters=AABBC": (180, 30),
    "loop:6,window=3": (None, 30),
    "rings:4+4,cross=1": (None, 30),
    "cube:3,turns=R2+U2+F2": (None, 40),
    "tetrahedron,tips=no": (3000, 40),
    "shape-mod:prism8,turns=R2+F2": (None, 12),
    "cube:3,centres=marked": (600, 30),
    "tiles:3x3": (1500, 30),
    "cube:3,turns=half": (800, 30),
    "corner-cube": (500, 30),
}
"""How many appearances there are (or at most so many are walked), and how many of them are drawn."""


def walked(puzzle, limit):
    """The depth of each appearance, by following every legal turn on arrangements; no packed states, no hashes of ours."""
    depths = {puzzle.appearance(puzzle.solved): 0}
    queue = [puzzle.solved]
    for arrangement in queue:
        depth = depths[puzzle.appearance(arrangement)]
        legal = puzzle.turns if puzzle.blank is None else [turn.name for turn in puzzle.legal(arrangement)]
        for name in legal:
            following = puzzle.follow(name, arrangement)
            seen = puzzle.appearance(following)
            if seen not in depths and (limit is None or len(depths) < limit):
                depths[seen] = depth + 1
                queue.append(following)
    return depths


@pytest.mark.parametrize("name", PUZZLES)
def test_the_way_found_is_as_long_as_the_position_is_deep(name):
    puzzle, (limit, drawn) = load(name), PUZZLES[name]
    depths = walked(puzzle, limit or 3000)
    if limit is not None and limit < 600:
        assert len(depths) == limit
    for row in REFERENCE:
        if f"{row['puzzle']},turns={row['turns']}" not in (name, f"{name},turns=all"):
            continue
        whole = [sum(depth == d for depth in depths.values()) for d in range(max(depths.values()))]
        assert whole == row["counts"][: len(whole)] and len(whole) > 3
    chosen = Random(5).sample(sorted(depths, key=repr), min(drawn, len(depths)))
    for appearance in chosen:
        way = find_way(puzzle, appearance)
        assert (len(way.turns), way.lower_bound, way.shortest) == (depths[appearance],) * 2 + (True,)
