"""How long a diagnosis takes where many laws wait for lookalikes: two corners have changed places on cubes of many layers."""

from time import process_time

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.diagnosis import diagnose

pytestmark = pytest.mark.benchmark(timer=process_time)


@pytest.mark.parametrize("layers", [6, 8, 10, 12])
def test_two_corners_have_changed_places(benchmark, layers):
    began = process_time()
    puzzle = load(f"cube:{layers}")
    loading = process_time() - began
    seen = puzzle.appearance(changed(puzzle, ["swap UFR UFL"]))
    found = benchmark.pedantic(diagnose, (puzzle, seen), rounds=1)
    assert found.verdict == "lookalike" and found.culprits
    ratio = benchmark.stats["median"] / loading
    benchmark.extra_info["times as long as loading"] = round(ratio, 2)
    print(f"\ncube:{layers}: {ratio:.2f} times as long as loading it")
