"""What the order of the n × n × n cube's group costs: proved by structure, by a chain on all labels, and by GAP.

The proof by structure includes the sectors and the bound that the laws give. The chains, ours and one of GAP's, are told that
bound; GAP's `Size` has the generators alone. All times are the processor's, GAP's that of the call in its own process.
Building the puzzle is left out everywhere.

``python -m tests.benchmarks.test_growth`` measures anew what the figure of the growth shows.
"""

import json
import platform
from functools import cache
from math import prod
from time import process_time

import numpy as np
import pytest

from oddswap.commands.figures import BY_SIZE
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.image import LawImage
from oddswap.reasoning.laws.sectors import sectors
from oddswap.reasoning.laws.structure import certify
from tests.common import gap

pytestmark = pytest.mark.benchmark(timer=process_time)

SIZES = range(3, 26)
SIZES_OF_SIZE = range(3, 7)
"""With seven slabs GAP's `Size` took more than ten minutes."""
SIZES_TOLD = range(3, 10)


@cache
def turns(n: int) -> tuple[np.ndarray, ...]:
    return load(f"cube:{n}").generators


def by_structure(n: int) -> int:
    gens = turns(n)
    parts = sectors(load(f"cube:{n}"), gens)
    image = LawImage(parts, gens)
    allowed = prod(sector.assembly_order for sector in parts) * image.order // image.whole_order
    return certify(parts, gens, allowed).order


def by_chain(n: int, order: int) -> int:
    gens = turns(n)
    return StabiliserChain.from_generators(gens, len(gens[0]), order_bound=order).order


def gap_seconds(n: int, order: int, call: str, runs: int) -> float:
    """The mean of a few calls that make GAP's chain of the group ``G``; GAP counts whole milliseconds."""
    (line,) = gap.gap(
        f"""gens := {gap.permutations(turns(n))};; groups := List([1..{runs}], i -> Group(gens));; t := Runtime();;
        for G in groups do {call}; od; Print(Runtime() - t, "\\n"); if Size(groups[1]) <> {order} then Error("order"); fi;"""
    )
    return int(line) / runs / 1e3


def gap_size(n: int, order: int) -> float:
    return gap_seconds(n, order, "Size(G)", 20 if n < 5 else 1)


def gap_told_the_order(n: int, order: int) -> float:
    return gap_seconds(n, order, f"StabChain(G, rec(random := 100, size := {order}))", 20 if n < 5 else 3 if n < 8 else 1)


@pytest.mark.parametrize("n", SIZES)
def test_proof_by_structure(benchmark, n):
    turns(n)
    assert benchmark(lambda: by_structure(n)) > 10**19


@pytest.mark.parametrize("n", [n for n in SIZES if n <= 15])
def test_chain_on_all_labels(benchmark, n):
    order = by_structure(n)
    assert benchmark.pedantic(lambda: by_chain(n, order), rounds=3 if n < 10 else 1) == order


@gap.needs_gap
@pytest.mark.parametrize("n", SIZES_TOLD)
def test_times_faster_than_gap(benchmark, n):
    order = by_structure(n)
    benchmark(lambda: by_structure(n))
    seconds = {"told the order": gap_told_the_order(n, order)}
    if n in SIZES_OF_SIZE:
        seconds["Size"] = gap_size(n, order)
    ratios = {f"times faster than GAP's {name}": round(spent / benchmark.stats["median"], 1) for name, spent in seconds.items()}
    benchmark.extra_info.update(ratios)
    print(f"\ncube:{n}, {1e3 * benchmark.stats['median']:.1f} ms; {ratios}")


def shortest(run, runs: int) -> float:
    spent = []
    for _ in range(runs):
        start = process_time()
        run()
        spent.append(process_time() - start)
    return min(spent)


def measured() -> dict:
    """Processor seconds for each number of slabs, ours the shortest of a few runs."""
    rows = []
    for n in SIZES:
        order = by_structure(n)
        row = {
            "slabs": n,
            "labels": len(turns(n)[0]),
            "structure": shortest(lambda n=n: by_structure(n), 5),
            "chain": shortest(lambda n=n, order=order: by_chain(n, order), 5 if n < 10 else 3),
        }
        if n in SIZES_TOLD:
            row["GAP told the order"] = gap_told_the_order(n, order)
        if n in SIZES_OF_SIZE:
            row["GAP"] = gap_size(n, order)
        print(row, flush=True)
        rows.append({key: float(f"{value:.3g}") if isinstance(value, float) else value for key, value in row.items()})
    versions = {"Python": platform.python_version(), "NumPy": np.__version__, "GAP": gap.gap('Print(GAPInfo.Version, "\\n");')[0]}
    return {"versions": versions, "rows": rows}


if __name__ == "__main__":
    BY_SIZE.write_text(json.dumps(measured(), indent=1) + "\n", "utf-8")
