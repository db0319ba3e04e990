"""What a proof of length costs by depth: processor seconds, states generated, bytes kept, on a cube with marked centres.

``python -m tests.benchmarks.test_growth_of_search`` measures anew what the figure shows.
"""

import json
import sys
from time import process_time

import pytest

from oddswap.commands.figures import BY_LENGTH
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.search.holding import task
from oddswap.reasoning.search.seen import seen_model
from oddswap.reasoning.search.shortest import _Search

PUZZLE = "cube:3,centres=marked"
FAR = "R U F2 D B' L U2 R B D2 L' U F D' R".split()


def measured(length: int) -> dict[str, float]:
    puzzle = load(PUZZLE)
    model = seen_model(puzzle)
    start = model.pack(puzzle.appearance(puzzle.follow(" ".join(FAR[:length]))))
    search = _Search(task(model, tuple(puzzle.turns), start, model.solved[None]), Budget(600), None)
    began = process_time()
    word, _ = search.run()
    assert len(word) == length
    seconds = process_time() - began
    kept = search.middle.kept
    levels = search.out.nbytes + search.back.nbytes
    hashes = 0 if kept is None else kept.table.nbytes + kept.bits.nbytes
    return {"depth": length, "states": search.states, "seconds": round(seconds, 4), "bytes": levels + hashes}


@pytest.mark.benchmark(timer=process_time)
@pytest.mark.parametrize("length", range(6, 14))
def test_a_proof_by_depth(benchmark, length):
    measured(9)
    benchmark.extra_info.update(benchmark.pedantic(measured, (length,), rounds=1, iterations=1))


if __name__ == "__main__":
    measured(9)
    rows = []
    for depth in range(1, int(sys.argv[1] if len(sys.argv) > 1 else 13) + 1):
        rows.append(measured(depth))
        print(rows[-1], flush=True)
        BY_LENGTH.write_text(json.dumps({"puzzle": PUZZLE, "rows": rows}, indent=1) + "\n", "utf-8")
