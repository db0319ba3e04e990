"""Where a blank slides every reachable arrangement goes home: replayed on a board of integers, and counted."""

import random

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.as_seen import wrong
from oddswap.reasoning.ways import by_filling
from oddswap.reasoning.ways.by_filling import home_by_filling
from oddswap.reasoning.ways.findings import SlideLoops
from oddswap.reasoning.ways.way_out import way_home
from tests.common.clocks import PLENTY, ends_after

FRIENDS = """\
[graph]
edges = "a-b b-c c-a c-d d-e e-f f-g g-d e-g"
blank = "d"
looks = { a = "red", b = "red" }
"""


def scrambled(puzzle, seed, count=1500):
    rng, image = random.Random(seed), puzzle.permutation(puzzle.solved)
    for _ in range(count):
        image = rng.choice(puzzle.legal(puzzle.arrangement(image))).permutation[image]
    return puzzle.arrangement(image)


def slid(rows, columns, tiles, moves):
    """A board of integers after slides, each named by the cell from which a tile slides into the blank (the last number)."""
    board = {(r, c): tiles[r * columns + c] for r in range(rows) for c in range(columns)}
    for move in moves.split():
        r, c = (int(n) - 1 for n in move[1:].split("c"))
        (hole,) = (cell for cell, tile in board.items() if tile == rows * columns - 1)
        assert abs(hole[0] - r) + abs(hole[1] - c) == 1
        board[hole], board[r, c] = board[r, c], board[hole]
    return [board[r, c] for r in range(rows) for c in range(columns)]


@pytest.mark.parametrize("rows, columns, seeds", [(2, 7, 3), (3, 3, 10), (4, 4, 10), (5, 5, 3), (7, 6, 1)])
def test_boards_go_home_in_integers(rows, columns, seeds):
    puzzle = load(f"tiles:{rows}x{columns}")
    for seed in range(seeds):
        start = scrambled(puzzle, seed)
        moves = " ".join(name for _, word in home_by_filling(puzzle, start, PLENTY) for name in word)
        moves = puzzle.spelled(moves, start)
        assert slid(rows, columns, start.pieces, moves) == list(range(rows * columns))
        assert len(moves.split()) <= 20 * int(wrong(puzzle, puzzle.permutation(start)))


def test_all_arrangements_of_a_small_board_go_home():
    """360: Johnson & Story, Amer. J. Math. 2 (1879) 397-404; the other 360 do not, and none has a way."""
    puzzle, rng, found = load("tiles:2x3"), np.random.default_rng(1), {}
    queue = [puzzle.solved]
    for state in queue:
        if state not in found:
            found[state] = home_by_filling(puzzle, state, ends_after(0))
            queue += [puzzle.follow(turn.name, state) for turn in puzzle.legal(state)]
    assert len(found) == 360
    for state, way in found.items():
        assert puzzle.follow(" ".join(name for _, word in way for name in word), state) == puzzle.solved
    odd = changed(puzzle, ["swap r1c1 r1c2"])
    for _ in range(3):
        odd = puzzle.follow(rng.choice([turn.name for turn in puzzle.legal(odd)]), odd)
        assert home_by_filling(puzzle, odd, ends_after(0)) is None


@pytest.mark.parametrize("name", ["tiles:4x4,letters=AAAABBBBCCCCDDD", "tiles:4x4,blank=r2c2", "graph:1+1+2"])
def test_twins_homes_and_paths_go_home(name):
    puzzle = load(name)
    for seed in range(3):
        start = scrambled(puzzle, seed)
        moves = " ".join(turn for _, word in way_home(puzzle, start, Budget(1)) for turn in word)
        assert puzzle.appearance(puzzle.follow(moves, start)) == puzzle.appearance(puzzle.solved)


def test_a_graph_of_ones_own_with_a_bridge_goes_home(tmp_path):
    (tmp_path / "friends.toml").write_text(FRIENDS, "utf-8")
    puzzle = load(f"custom:{tmp_path}/friends.toml")
    for seed in range(10):
        start = scrambled(puzzle, seed, 100)
        parts = home_by_filling(puzzle, start, PLENTY)
        moves = " ".join(name for _, word in parts for name in word)
        assert puzzle.appearance(puzzle.follow(moves, start)) == puzzle.appearance(puzzle.solved)


def test_paths_between_two_junctions_go_home_by_loops(monkeypatch):
    """As where filling fails: paths longer than these cannot be filled one slot after another."""
    monkeypatch.setattr(by_filling, "FAILED", 0)
    puzzle = load("graph:2+2+3")
    for seed in range(5):
        start = scrambled(puzzle, seed)
        ((aim, word),) = home_by_filling(puzzle, start, PLENTY)
        assert aim == SlideLoops()
        assert puzzle.appearance(puzzle.follow(" ".join(word), start)) == puzzle.appearance(puzzle.solved)


def test_twins_make_ways_shorter():
    lettered, plain = load("tiles:4x4,letters=AAAABBBBCCCCDDD"), load("tiles:4x4")
    lengths = {lettered: 0, plain: 0}
    for puzzle in lengths:
        for seed in range(6):
            way = home_by_filling(puzzle, scrambled(puzzle, seed), PLENTY)
            lengths[puzzle] += sum(len(word) for _, word in way)
    assert lengths[lettered] < 0.8 * lengths[plain]
