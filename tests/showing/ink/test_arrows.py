"""Arrows of flat puzzles: they lead where the moves take the pieces, as following the move says."""

from itertools import pairwise

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.arrows import flat_paths, slid

DIAL = """
[moves]
a = "(1 1+1 1+2 1+3)"
b = "(2 3)"
c = "(2 4 3)"
[[kind]]
name = "dials"
slots = "1 2 3 4 5"
twist = 4
[places]
1 = [0, 0]
2 = [2, 0]
3 = [4, 0]
4 = [8, 0]
5 = [0, 3]
"""


@pytest.fixture
def dial(tmp_path):
    (tmp_path / "dial.toml").write_text(DIAL)
    return load(f"custom:{tmp_path / 'dial.toml'}")


def nearest(puzzle, point):
    return int(np.linalg.norm(puzzle.flat.positions - point, axis=1).argmin())


def sense(start, end, middle):
    """1 for anticlockwise about the middle, -1 for clockwise."""
    one, other = start - middle, end - middle
    return float(np.sign(one[0] * other[1] - one[1] * other[0]))


@pytest.mark.parametrize(("name", "moves"), [("tiles:3x4", "r2c4 r2c3 r3c3"), ("graph:2+1+2", "c2 c1 west b1")])
def test_what_slides_has_an_arrow_from_its_slot_into_the_hole(name, moves):
    puzzle, state = load(name), load(name).solved
    for word in moves.split():
        turns, _ = puzzle.settled(word, state)
        after = puzzle.follow(word, state)
        (path,) = flat_paths(puzzle, state, turns)
        assert nearest(puzzle, path[-1]) == state.pieces.index(puzzle.blank)
        assert nearest(puzzle, path[0]) == after.pieces.index(puzzle.blank) == puzzle.slot(word)
        state = after


def test_several_slides_follow_the_blank():
    puzzle = load("tiles:2x2")
    assert slid(puzzle, puzzle.solved, puzzle.settled("r1c2 r1c1")[0]) == [(1, 3), (0, 1)]


@pytest.mark.parametrize("name", ["rings:7+7,cross=2", "rings:12+12+12", "rings:4+4,cross=1", "loop:20", "loop:4,window=4"])
def test_a_ring_has_one_arrow_outside_it_that_runs_as_the_beads_do(name):
    puzzle = load(name)
    for turn in puzzle.turns.values():
        if turn.step.stem != "swing":
            (path,) = flat_paths(puzzle, puzzle.solved, [turn])
            images = puzzle.follow(turn.name).pieces
            ring = [slot for slot, piece in enumerate(images) if slot != piece]
            points = puzzle.flat.positions
            assert np.linalg.norm(path[:, None] - points[None], axis=2).min() > 0.45
            middle = (puzzle.flat.grooves[max(0, "abc".find(turn.step.stem))][:-1]).mean(axis=0)
            senses = [sense(points[slot], points[images.index(slot)], middle) for slot in ring]
            assert set(senses) == {sense(*pair, middle) for pair in pairwise(path)} and len(set(senses)) == 1


def test_two_that_change_places_share_an_arrow_with_two_tips(dial):
    tips = flat_paths(dial, dial.solved, [dial.turns["b"]])
    assert [nearest(dial, path[-1]) for path in tips] == [2, 1]
    assert tips[0][0] == pytest.approx(tips[1][0], abs=0.1)
    swing = flat_paths(load("loop:20"), load("loop:20").solved, [load("loop:20").turns["swing"]])
    assert sorted(nearest(load("loop:20"), path[-1]) for path in swing) == [0, 1, 2, 3]


def test_a_cycle_that_is_no_ring_has_an_arrow_for_each_piece(dial):
    paths = flat_paths(dial, dial.solved, [dial.turns["c"]])
    assert [(nearest(dial, path[0]), nearest(dial, path[-1])) for path in paths] == [(1, 3), (3, 2), (2, 1)]


@pytest.mark.parametrize(("move", "clockwise"), [("a", True), ("a'", False)])
def test_a_twist_has_a_loop_round_its_piece_the_way_that_it_turns(dial, move, clockwise):
    (path,) = flat_paths(dial, dial.solved, [dial.turns[move]])
    around = path - dial.flat.positions[0]
    assert np.linalg.norm(around, axis=1) == pytest.approx(0.62)
    turned = around[:-1, 0] * around[1:, 1] - around[:-1, 1] * around[1:, 0]
    assert (turned < 0).all() == clockwise and (turned > 0).all() != clockwise
