"""Boxes that leave their outline: how long proofs eleven turns out take, and a way for a single exchange.

Run with ``pytest -n 0 --benchmark-enable tests/benchmarks/test_boxes_speed.py --benchmark-json=FILE``; all figures are in the
file, as ``extra_info``. Seconds are those of one processor core. Each proof runs in a process of its own, so that its largest
memory is known, with what Python and its compiler take before it (from /proc, as ``resource`` counts the parent's in). The
reference is a plain walk with numpy around the solved box, cell by cell, to half the distance: a two-sided search has to make
two such walks and to compare them.

What bounds a proof: time, the words of one turn between two balls of five turns each (nine million of eleven million states,
whose hashes are kept and looked up in memory at random); memory, the last level of a ball while it is made, in which every
state stands once for each turn that leads to it. The search for an exchange is bounded by the states that a field of
`oddswap.reasoning.opening.box_levels` may hold.
"""

import json
import subprocess
import sys
import time
from functools import cache
from itertools import islice

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.boxes.box import lifted
from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.opening.outside import excursion_home
from tests.reasoning.box_sights import Box

NAME = "cuboid:3x4x5,turns=all"
ELEVEN_OUT = [
    "D2 R2 2U2 2D' R2 2B2 RR2 U' R2 U 2B2",
    "U2 2F2 2B2 U D B2 2B2 D' 2U' U2 LL2",
    "2B2 D' LL2 2D' 2U2 F2 U 2D' 2B2 D' B2",
]
PROGRAM = """
import json, re, sys, time
from pathlib import Path
import oddswap.reasoning.search.word_kernels
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.search.shortest import find_way

def memory():
    return int(re.search(r"VmHWM:\\s+(\\d+) kB", Path("/proc/self/status").read_text())[1]) / 1e6

box = load(sys.argv[1])
position, before, began = box.appearance(box.follow(sys.argv[2])), memory(), time.process_time()
way = find_way(box, position, budget=Budget(120))
figures = {"turns": len(way.turns), "shortest": way.shortest, "states": way.states, "seconds": time.process_time() - began}
print(json.dumps(figures | {"GB": memory(), "GB before": before}))
"""


@cache
def reference() -> float:
    """Seconds for all states up to five turns from the solved box, by tables of marks and numpy alone."""
    began = time.process_time()
    assert [len(level) for level in islice(Box((3, 4, 5)).levels(), 6)] == [1, 18, 228, 2942, 37821, 476538]
    return time.process_time() - began


@pytest.mark.parametrize("moves", ELEVEN_OUT)
def test_proved_shortest_eleven_turns_out(benchmark, moves):
    assert len(load(NAME).turns) == 20

    def proved():
        run = subprocess.run([sys.executable, "-c", PROGRAM, NAME, moves], capture_output=True, text=True, check=True)
        return json.loads(run.stdout)

    figures = benchmark.pedantic(proved, rounds=1, warmup_rounds=1)
    assert figures["shortest"] and figures["turns"] == 11
    benchmark.extra_info.update(figures)
    benchmark.extra_info["seconds of the reference, five turns around"] = reference()
    benchmark.extra_info["times the reference"] = figures["seconds"] / reference()


EXCHANGES = [("cuboid:2x2x4", "swap UFL UFR"), ("cuboid:2x3x4", "swap UFL UBR"), ("cuboid:3x4x5", "swap UFL UBR")]


@pytest.mark.benchmark(timer=time.process_time)
@pytest.mark.parametrize(("name", "change"), EXCHANGES)
def test_a_single_exchange_outside_the_box(benchmark, name, change):
    half = load(f"{name},turns=half")
    box, state = with_turns_out_of_the_box(half), changed(half, [change])
    way = benchmark.pedantic(excursion_home, (half, box, lifted(half, box, state), Budget(30)), rounds=1)
    assert way.excursion
    benchmark.extra_info.update({"turns outside": len(way.excursion), "turns in all": len(way.turns)})
