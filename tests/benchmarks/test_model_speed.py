"""From a puzzle's name to a verdict, in seconds of one processor core, and what it costs to import the package.

Run with ``pytest tests/benchmarks/test_model_speed.py --benchmark-only``; ratios are in ``extra_info`` and printed with ``-s``.
"""

import subprocess
import sys
import time

import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.describing.changes import changed
from oddswap.describing.stickers import paints_of, seen_stickers
from oddswap.puzzles.catalogue import _load, load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.diagnosis import diagnose

processor = pytest.mark.benchmark(timer=time.process_time)
MECHANISMS = ["cube:3", "cube:3,centres=marked", "shape-mod:prism8", "shape-mod:cube,axis=U,degrees=45"]


def model(name):
    """Everything that a verdict needs, made afresh: geometry, lookalikes, laws, certificate and counts."""
    puzzle = _load.__wrapped__(name, None)
    book = law_book.__wrapped__(puzzle)
    assert book.complete and lookalikes(puzzle).order and book.appearances
    return puzzle


def sympy_seconds(generators, order):
    """The shortest of three calls for the order of the group alone."""
    spent = []
    for _ in range(3):
        group = PermutationGroup([Permutation(g.tolist()) for g in generators])
        start = time.process_time()
        assert group.order() == order
        spent.append(time.process_time() - start)
    return min(spent)


@processor
@pytest.mark.parametrize("name", MECHANISMS)
def test_model_laws_certificate_and_lookalikes(benchmark, name):
    benchmark.pedantic(model, (name,), rounds=7, warmup_rounds=1)
    puzzle = load(name)
    other = sympy_seconds(puzzle.generators, law_book(puzzle).order)
    report(benchmark, "of SymPy's time for the bare order", benchmark.stats["median"] / other)


def report(benchmark, words, ratio):
    benchmark.extra_info[words] = round(ratio, 2)
    print(f"\n{ratio:.2f} {words}; {1e3 * benchmark.stats['median']:.1f} ms")


CASES = {
    "ordinary": ("cube:3", "R U2 F' L D B2 R", []),
    "lookalike": ("shape-mod:prism8", "", ["flip UF"]),
    "not by turning": ("cube:3", "R U2 F' L D B2 R", ["twist UFR cw", "swap UF UR"]),
}


@processor
@pytest.mark.parametrize("verdict", CASES)
@pytest.mark.parametrize("told", ["by pieces", "by stickers"])
def test_a_first_verdict_once_the_model_is_there(benchmark, verdict, told):
    """With nothing of the verdict's own remembered."""
    name, moves, changes = CASES[verdict]
    if told == "by stickers" and name != "cube:3":
        pytest.skip("its facets are not the faces of the cuts")

    def ready():
        puzzle = model(name)
        law_book(puzzle)
        state = changed(puzzle, changes, puzzle.follow(moves))
        if told == "by pieces":
            return (puzzle, puzzle.appearance(state)), {}
        return (puzzle, seen_stickers(puzzle, tuple(frozenset({paint}) for paint in paints_of(puzzle, state)))), {}

    found = benchmark.pedantic(diagnose, setup=ready, rounds=7)
    assert found.verdict == verdict


@pytest.mark.parametrize("module", ["oddswap"])
def test_import_against_that_of_numpy(benchmark, module):
    """Fresh processes by the wall clock; what Python itself takes to start is taken off both."""

    def started(code):
        subprocess.run([sys.executable, "-c", code], check=True)

    def seconds(code):
        spent = []
        for _ in range(7):
            start = time.perf_counter()
            started(code)
            spent.append(time.perf_counter() - start)
        return min(spent)

    benchmark.pedantic(started, (f"import {module}",), rounds=7, warmup_rounds=1)
    bare, numpy = seconds("pass"), seconds("import numpy")
    own = benchmark.stats["min"] - bare
    benchmark.extra_info["seconds"] = round(own, 3)
    report(benchmark, "times the import of numpy", own / (numpy - bare))
