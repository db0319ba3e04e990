"""How fast states are generated, how much is kept, and how long proofs take, in seconds of one processor core.

Run with ``pytest tests/benchmarks/test_search_speed.py --benchmark-only --benchmark-json=FILE``; the rates and sizes are
in the file, as ``extra_info``.
"""

import time

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.search.middle import word_ends
from oddswap.reasoning.search.shortest import find_way, levels_around
from oddswap.reasoning.search.word_kernels import HashSet

FAR = "R U F2 D B' L U2 R B D2 L' U F D' R".split()


pytestmark = pytest.mark.benchmark(timer=time.process_time)


def rate(benchmark, states):
    benchmark.extra_info["million states a second"] = round(states / benchmark.stats["mean"] / 1e6, 1)


@pytest.mark.parametrize("name", ["cube:3", "cube:3,centres=marked"])
def test_exact_levels_to_depth_six(benchmark, name):
    grown = benchmark.pedantic(levels_around, (load(name), 6), rounds=1, iterations=1)
    rate(benchmark, grown.made)
    benchmark.extra_info["bytes a stored state"] = grown.nbytes / sum(map(len, grown.levels))


@pytest.mark.parametrize("beyond", [6, 7])
@pytest.mark.parametrize("step", ["keep", "look up"])
def test_all_words_of_six_turns_against_hashes(benchmark, beyond, step):
    puzzle = load("cube:3,centres=marked")
    far, near = (levels_around(puzzle, 4, puzzle.appearance(puzzle.follow(" ".join(FAR)))), levels_around(puzzle, 4))
    kept = HashSet(near.words(beyond - 4))

    def keep():
        for hashes in word_ends(near.moves, near.edge, beyond - 4, lambda: None):
            kept.add(hashes)

    def look_up():
        return sum(len(kept.places_of(part)) for part in word_ends(far.moves, far.edge, 2, lambda: None))

    if step == "keep":
        benchmark.pedantic(keep, rounds=1, iterations=1)
        rate(benchmark, near.words(beyond - 4))
    else:
        keep()
        benchmark.pedantic(look_up, rounds=3, iterations=1, warmup_rounds=1)
        rate(benchmark, far.words(2))
    benchmark.extra_info["bytes a stored hash"] = HashSet.bytes_for(10**8) / 10**8


@pytest.mark.parametrize("length", [10, 11, 12, 13, 14])
def test_proved_shortest_on_the_marked_cube(benchmark, length):
    puzzle = load("cube:3,centres=marked")
    position = puzzle.appearance(puzzle.follow(" ".join(FAR[:length])))
    find_way(puzzle, puzzle.appearance(puzzle.follow(" ".join(FAR[:9]))))
    way = benchmark.pedantic(find_way, (puzzle, position), {"budget": Budget(300)}, rounds=1, iterations=1)
    assert way.shortest and len(way.turns) == length
    rate(benchmark, way.states)
