"""How long ways home take and how long they are, with GAP's words for the same elements beside them.

Run with ``pytest tests/benchmarks/test_home_speed.py``; the numbers are in ``extra_info`` of the report.
"""

import random
import re
import resource
from statistics import median
from time import process_time

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.as_seen import wrong
from oddswap.reasoning.teaching.toolbox import toolbox
from oddswap.reasoning.ways.short_words import short_words
from oddswap.reasoning.ways.three_cycles import mined, three_cycles, three_cycles_in_order
from oddswap.reasoning.ways.way_out import looks_solved, way_home
from tests.common.clocks import PLENTY
from tests.common.gap import gap, group, needs_gap, permutation


def scrambled(puzzle, seed, count=100):
    rng, names = random.Random(seed), list(puzzle.turns)
    return puzzle.follow(" ".join(rng.choice(names) for _ in range(count)))


@pytest.mark.parametrize("name", ["cube:3", "cube:3,centres=marked", "shape-mod:cube,axis=U,degrees=45", "shape-mod:prism8"])
def test_twenty_random_cubes_of_three_slabs(benchmark, name):
    puzzle, seconds, lengths = load(name), [], []

    def all_home():
        for seed in range(20):
            start, began = scrambled(puzzle, seed), process_time()
            stages = way_home(puzzle, start, Budget(seconds=60))
            seconds.append(process_time() - began)
            moves = [turn for _, word in stages for turn in word]
            assert looks_solved(puzzle, puzzle.appearance(puzzle.follow(" ".join(moves), start)))
            lengths.append(len(moves))

    benchmark.pedantic(all_home, rounds=1)
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3
    benchmark.extra_info |= {"median s": median(seconds), "worst s": max(seconds), "most turns": max(lengths), "MB": used}
    assert max(lengths) <= 30


BIG = ["cube:4", "cube:5", "cube:6", "cube:7", "dodecahedron", "octahedron", "tetrahedron", "cuboid:3x4x5"]


@pytest.mark.parametrize("name", BIG)
def test_big_puzzles_with_their_tables(benchmark, name):
    puzzle, start = load(name), scrambled(load(name), 0)

    def home():
        return way_home(puzzle, start, Budget(seconds=60))

    mined.cache_clear()
    stages = benchmark.pedantic(home, rounds=1)
    moves = [turn for _, word in stages for turn in word]
    pieces = int(wrong(puzzle, puzzle.permutation(start)))
    assert looks_solved(puzzle, puzzle.appearance(puzzle.follow(" ".join(moves), start))) and len(moves) <= 20 * pieces
    tables = [
        cycles for table in (three_cycles(puzzle, PLENTY), three_cycles_in_order(puzzle, PLENTY)) for cycles in table.values()
    ]
    size = sum(array.nbytes for c in tables for array in (c.length, c.tool, c.turn, c.before)) / 1e6
    benchmark.extra_info |= {"turns": len(moves), "pieces": pieces, "turns a piece": len(moves) / pieces, "tables MB": size}


@needs_gap
@pytest.mark.parametrize("name", ["cube:2", "corner-cube", "cuboid:2x3x4", "tetrahedron,tips=no"])
def test_words_beside_those_of_gap(benchmark, name):
    """GAP: ``PreImagesRepresentative`` of the homomorphism from the free group on the same generators, its letters counted."""
    puzzle = load(name)
    images = [puzzle.permutation(scrambled(puzzle, seed)) for seed in range(5)]
    table = short_words(puzzle, PLENTY)
    words = benchmark.pedantic(lambda: [table.home(image) for image in images], rounds=1)
    generators = [turn.permutation for turn in puzzle.turns.values()]
    asked = "".join(f'Print(Length(PreImagesRepresentative(hom,{permutation(image)})),"\\n");' for image in images)
    lines = gap(f"g:={group(generators)};hom:=EpimorphismFromFreeGroup(g);{asked}")
    theirs = [int(line) for line in lines if re.fullmatch(r"\d+", line)]
    assert len(theirs) == len(words) and all(word is not None for word in words)
    ours = sum(map(len, words))
    benchmark.extra_info |= {"turns": ours, "GAP": sum(theirs), "ratio": ours / sum(theirs)}


def test_mining_the_toolbox_of_the_cube(benchmark):
    toolbox.cache_clear()
    assert len(benchmark.pedantic(lambda: toolbox(load("cube:3"), PLENTY), rounds=1)) == 50
