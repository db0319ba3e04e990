"""Every alarm of one piece that is a lookalike, on shape mods: its way out proved shortest, and how long that takes."""

from time import process_time

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.search.shortest import find_way
from oddswap.reasoning.verdicts.alarms import alarms
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE
from oddswap.words import say

SHAPES = [
    *(f"shape-mod:prism{n}" for n in range(3, 13)),
    "shape-mod:prism8,paint=FR+FL+BR+BL",
    "shape-mod:cube,axis=U,degrees=45",
    "shape-mod:cube,axis=UR,degrees=45",
    "shape-mod:cube,axis=URF,degrees=60",
    "shape-mod:cube,paint=U+D/F+B/L+R",
    "shape-mod:cube,paint=F+B",
]


def single(name):
    """The alarms of one piece that are lookalikes."""
    return [a for a in alarms(load(name)) if say(a.sort).startswith("one ") and a.verdict == LOOKALIKE]


@pytest.mark.benchmark(timer=process_time)
@pytest.mark.parametrize("name", SHAPES)
def test_a_way_out_of_every_alarm_of_one_piece(benchmark, name):
    puzzle, found = load(name), single(name)
    if not found:
        pytest.skip("no alarm of one piece is a lookalike here")

    def ways():
        return [find_way(puzzle, puzzle.appearance(changed(puzzle, a.changes)), budget=Budget(120)) for a in found]

    benchmark.extra_info["ways"] = [
        (alarm.changes, way.turns and len(way.turns), way.lower_bound, way.shortest)
        for alarm, way in zip(found, benchmark.pedantic(ways, rounds=1, iterations=1), strict=True)
    ]
