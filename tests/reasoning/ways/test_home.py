"""Ways home from seeded scrambles: each replayed, with at most 20 turns for every misplaced piece.

Two stages home: after the first everything is among its own, and the second uses the smaller set of turns alone.
"""

import random

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.as_seen import wrong
from oddswap.reasoning.laws.sectors import by_orbits
from oddswap.reasoning.ways import way_out as home
from oddswap.reasoning.ways.findings import FinishWith
from oddswap.reasoning.ways.way_out import looks_solved, replays, through, way_home
from tests.common import vectors


def scrambled(puzzle, seed, count=100):
    rng, names = random.Random(seed), list(puzzle.turns)
    return " ".join(rng.choice(names) for _ in range(count))


def turns_of(stages):
    return [turn for _, word in stages for turn in word]


@pytest.mark.parametrize(
    "name",
    [
        *["cube:2", "cube:4", "cube:5", "tetrahedron", "corner-cube", "cuboid:2x3x4", "cuboid:3x3x5"],
        *["rings:7+7,cross=2", "loop:12,window=4", "cube:3,turns=half", "cube:3,turns=R+U", "shape-mod:prism8"],
    ],
)
def test_scrambles_go_home(name):
    puzzle = load(name)
    start = puzzle.follow(scrambled(puzzle, 1))
    stages = way_home(puzzle, start, Budget(seconds=30))
    moves = turns_of(stages)
    assert looks_solved(puzzle, puzzle.appearance(puzzle.follow(" ".join(moves), start)))
    assert len(moves) <= 20 * int(wrong(puzzle, puzzle.permutation(start)))


@pytest.mark.parametrize("seed", range(3))
def test_a_cube_of_three_slabs_goes_home_in_thirty_turns_in_integer_vectors(seed):
    puzzle = load("cube:3")
    moves = scrambled(puzzle, seed, 40)
    back = turns_of(way_home(puzzle, puzzle.follow(moves), Budget(seconds=30)))
    state = vectors.solved(3)
    for move in (*moves.split(), *back):
        state = vectors.turned(state, move[0], {"": 1, "2": 2, "'": 3}[move[1:]])
    assert state == vectors.solved(3) and len(back) <= 30


@pytest.mark.parametrize("name", ["cube:3,centres=marked", "shape-mod:cube,axis=U,degrees=45"])
def test_attempts_that_end_too_soon_are_followed_by_longer_ones(name, monkeypatch):
    """So that a busy machine finds two stages too, and not some hundred turns by three-cycles."""
    monkeypatch.setattr(home, "ATTEMPT", 0.03)
    puzzle = load(name)
    start = puzzle.follow(scrambled(puzzle, 5))
    stages = way_home(puzzle, start, Budget(seconds=60))
    assert len(stages) == 2 and len(turns_of(stages)) <= 30
    assert looks_solved(puzzle, puzzle.appearance(puzzle.follow(" ".join(turns_of(stages)), start)))


def test_a_way_that_does_not_lead_home_is_told_from_one_that_does():
    puzzle = load("cube:4")
    start = puzzle.follow("R 2U F")
    stages = way_home(puzzle, start, Budget(seconds=10))
    assert replays(puzzle, start, stages) and not replays(puzzle, puzzle.follow("R 2U"), stages)


def test_what_hands_alone_can_do_has_no_way_home():
    puzzle = load("cube:4")
    image = np.arange(puzzle.degree)
    corner = puzzle.kinds[0]
    image[list(corner.labels)[:3]] = np.roll(list(corner.labels)[:3], 1)
    assert way_home(puzzle, puzzle.arrangement(image), Budget(seconds=4)) is None


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
