"""How long maps of the ways take, beside levels around the solved box alone, in seconds of one processor core.

Run with ``pytest tests/benchmarks/test_ways_map_speed.py -n 0 --benchmark-enable --benchmark-json=FILE``.
"""

import time

import pytest

from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.opening.box_levels import BoxLevels
from oddswap.reasoning.opening.frames import frame_of
from oddswap.reasoning.opening.ways_map import ways_map
from oddswap.reasoning.search import kept_files

pytestmark = pytest.mark.benchmark(timer=time.process_time)


@pytest.fixture(autouse=True)
def place(monkeypatch):
    monkeypatch.setenv(kept_files.VARIABLE, "")


@pytest.mark.parametrize(("name", "depth"), [("2x3x4", 9), ("2x3x4", 12), ("2x3x5", 14), ("3x4x5", 12)])
def test_a_map(benchmark, name, depth):
    ways_map(load("cuboid:2x3x4"), 6)
    found = benchmark.pedantic(ways_map, (load(f"cuboid:{name}"), depth, Budget(300)), rounds=1, iterations=1)
    assert found.complete == depth
    benchmark.extra_info["states"] = found.states
    benchmark.extra_info["found"] = f"{sum(way.moves is not None for way in found.ways)} of {len(found.ways)}"


def test_levels_alone_as_far_as_the_shortest_map(benchmark):
    puzzle = load("cuboid:2x3x4")
    frame = frame_of(with_turns_out_of_the_box(puzzle), tuple(puzzle.turns))

    def levels():
        levels = BoxLevels(frame, frame.labelled.solved[None])
        for _ in range(9):
            levels.grow()
        return levels

    benchmark.extra_info["states"] = benchmark.pedantic(levels, rounds=1, iterations=1).states
