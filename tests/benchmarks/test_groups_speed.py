"""The order of the group of an n × n × n cube with every piece told apart, against GAP in the same run.

GAP's time is that of the call in GAP's own process, on the same generators, without its start. Its `Size` proves the
order with nothing but the generators; told the order beforehand it stops early, as our chain does at a bound.
"""

from functools import lru_cache

import pytest

from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from tests.common import gap
from tests.reasoning.groups.cells import cube_moves

SIZES = [3, 4, 5, 7]
RUNS = {3: 9, 4: 9, 5: 3, 7: 1}


@lru_cache
def gap_seconds(n: int) -> dict[str, float]:
    """The shortest of a few calls."""
    moves = cube_moves(n)
    order = StabiliserChain.from_generators(moves, moves.shape[1]).order
    calls = {
        "Size": "Size(G)",
        "StabChain with random := 100": "StabChain(G, rec(random := 100))",
        "StabChain told the order": f"StabChain(G, rec(random := 100, size := {order}))",
    }
    program = [f"gens := {gap.permutations(moves)};;"]
    for call in calls.values():
        program.append(f"""for i in [1..{RUNS[n]}] do G := Group(gens); t := NanosecondsSinceEpoch(); {call};
            Print(NanosecondsSinceEpoch() - t, " "); if Size(G) <> {order} then Error("order"); fi; od;
            Print("\\n");""")
    lines = gap.gap("\n".join(program))
    return {name: min(map(int, line.split())) / 1e9 for name, line in zip(calls, lines, strict=True)}


def compared(benchmark, n: int, run) -> None:
    chain = benchmark(run)
    ratios = {name: seconds / benchmark.stats["median"] for name, seconds in gap_seconds(n).items()}
    benchmark.extra_info.update({f"times faster than GAP's {name}": round(r, 1) for name, r in ratios.items()})
    print(f"\n{chain.degree} labels, {1e3 * benchmark.stats['median']:.1f} ms; times faster than GAP's", end=" ")
    print(", ".join(f"{name}: {r:.1f}" for name, r in ratios.items()))


@gap.needs_gap
@pytest.mark.parametrize("n", SIZES)
def test_order_at_a_bound(benchmark, n):
    moves = cube_moves(n)
    order = StabiliserChain.from_generators(moves, moves.shape[1]).order
    compared(benchmark, n, lambda: StabiliserChain.from_generators(moves, moves.shape[1], order_bound=order))


@gap.needs_gap
@pytest.mark.parametrize("n", SIZES)
def test_order_without_a_bound(benchmark, n):
    moves = cube_moves(n)
    compared(benchmark, n, lambda: StabiliserChain.from_generators(moves, moves.shape[1]))


@gap.needs_gap
@pytest.mark.parametrize("n", SIZES)
def test_order_verified_without_a_bound(benchmark, n):
    moves = cube_moves(n)
    compared(benchmark, n, lambda: StabiliserChain.from_generators(moves, moves.shape[1]).verify())
