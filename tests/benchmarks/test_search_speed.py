"""How fast states are generated, how much is kept, and how long proofs take. Run with
``pytest tests/benchmarks/test_search_speed.py --benchmark-only``; the figures are in ``extra_info``.
"""

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search import Budget, find_way
from oddswap.reasoning.search_holding import task
from oddswap.reasoning.search_kernels import HashSet
from oddswap.reasoning.search_levels import Ball
from oddswap.reasoning.search_middle import word_ends
from oddswap.reasoning.seen import seen_model

FAR = "R U F2 D B' L U2 R B D2 L' U F D' R".split()


def ball(puzzle, depth):
    model = seen_model(puzzle)
    job = task(model, tuple(puzzle.turns), model.solved, model.solved[None])
    grown = Ball(job.moves, job.goals)
    while grown.depth < depth:
        grown.grow(lambda: None)
    return grown


def rate(benchmark, states):
    benchmark.extra_info["million states a second"] = round(states / benchmark.stats["mean"] / 1e6, 1)


@pytest.mark.parametrize("name", ["cube:3", "cube:3,centres=marked"])
def test_exact_levels_to_depth_six(benchmark, name):
    grown = benchmark.pedantic(ball, (load(name), 6), rounds=1, iterations=1)
    rate(benchmark, grown.made)
    benchmark.extra_info["bytes a stored state"] = grown.nbytes / sum(map(len, grown.levels))


@pytest.mark.parametrize("name", ["cube:3", "cube:3,centres=marked"])
def test_all_words_of_six_turns_against_hashes_of_six(benchmark, name):
    near = ball(load(name), 4)
    kept = HashSet(near.words(2))

    def keep():
        for hashes in word_ends(near.moves, near.edge, 2, lambda: None):
            kept.add(hashes)

    def look_up():
        return sum(len(kept.places_of(part)) for part in word_ends(near.moves, near.edge, 2, lambda: None))

    keep()
    assert benchmark.pedantic(look_up, rounds=3, iterations=1, warmup_rounds=1) == near.words(2)
    rate(benchmark, near.words(2))
    benchmark.extra_info["bytes a stored hash"] = HashSet.bytes_for(near.words(2)) / near.words(2)


@pytest.mark.parametrize("length", [10, 11, 12, 13, 14])
def test_proved_shortest_on_the_marked_cube(benchmark, length):
    puzzle = load("cube:3,centres=marked")
    position = puzzle.appearance(puzzle.follow(" ".join(FAR[:length])))
    find_way(puzzle, puzzle.appearance(puzzle.follow(" ".join(FAR[:9]))))
    way = benchmark.pedantic(find_way, (puzzle, position), {"budget": Budget(300)}, rounds=1, iterations=1)
    assert way.shortest and len(way.turns) == length
    rate(benchmark, way.states)
