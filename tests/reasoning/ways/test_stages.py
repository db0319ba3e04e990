"""Two stages home: after the first everything is among its own, and the second uses the smaller set of turns alone."""

import random

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.orbit_looks import by_orbits
from oddswap.reasoning.ways.findings import FinishWith
from oddswap.reasoning.ways.stages import through

INNER = ("U", "D", "F2", "B2", "L2", "R2")


@pytest.mark.parametrize("seed", range(3))
def test_both_stages_keep_to_their_turns_and_lead_home(seed):
    cube, rng = load("cube:3"), random.Random(seed)
    start = cube.follow(" ".join(rng.choice(list(cube.turns)) for _ in range(30)))
    (_, first), (aim, last) = through(cube, start, INNER, Budget(seconds=20))
    between = cube.follow(" ".join(first), start)
    coarse = by_orbits(cube, INNER)
    assert coarse.appearance(between).sights == coarse.appearance(coarse.solved).sights
    assert aim == FinishWith(INNER) and {name[0] for name in last if name[-1] != "2"} <= {"U", "D"}
    assert cube.appearance(cube.follow(" ".join(last), between)) == cube.appearance(cube.solved)
