"""What tables buy where a blank slides: one position of 46 slides by hashes and with tables; tables made and kept.

Run with ``pytest tests/benchmarks/test_tables_speed.py -n 0 --benchmark-enable --benchmark-json=FILE``; the states are in
the file, as ``extra_info``.
"""

import time

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.search import deepening, kept_files
from oddswap.reasoning.search.shortest import find_way
from tests.reasoning.search.sliding import job_of, walked

pytestmark = pytest.mark.benchmark(timer=time.process_time)


@pytest.fixture(autouse=True)
def place(monkeypatch, tmp_path):
    monkeypatch.setenv(kept_files.VARIABLE, str(tmp_path))
    monkeypatch.setattr(deepening, "KEPT", 1)


def proved(benchmark, position, length, rounds=1):
    find_way(load("tiles:4x4"), walked(load("tiles:4x4"), 120, 2), budget=Budget(60))
    way = benchmark.pedantic(find_way, (load("tiles:4x4"), position), {"budget": Budget(200)}, rounds=rounds, iterations=1)
    assert way.shortest and len(way.turns) == length
    benchmark.extra_info["states"] = way.states


@pytest.mark.parametrize("how", ["hashes", "tables"])
def test_46_slides(benchmark, monkeypatch, how):
    if how == "hashes":
        monkeypatch.setattr(deepening, "SIZES", ())
    proved(benchmark, walked(load("tiles:4x4"), 200, 1), 46)


@pytest.mark.parametrize("how", ["made", "kept"])
def test_a_table_of_six_tiles(benchmark, how):
    job = job_of(load("tiles:4x4"))
    pattern = deepening.patterns(job.moves, job.goals, deepening.SIZES[-1])[0]
    asked = job.moves, job.goals, pattern, lambda: None
    if how == "kept":
        deepening.table(*asked)
    found, _ = benchmark.pedantic(deepening.table, asked, rounds=1, iterations=1)
    benchmark.extra_info["entries"] = len(found.counts)
    benchmark.extra_info["entries made"] = deepening.entries(job.goals, pattern)


@pytest.mark.parametrize("seed", range(1, 6))
def test_any_position_of_fifteen_tiles(benchmark, seed):
    position = walked(load("tiles:4x4"), 4000, seed)
    proved(benchmark, position, {1: 56, 2: 50, 3: 52, 4: 52, 5: 54}[seed])
