"""Checking a sequence: a way out with seeded mistakes is found again, and everything said is replayed."""

import random

import pytest

from oddswap.describing.changes import changed
from oddswap.errors import OddswapError
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.checking.check import check
from oddswap.reasoning.checking.mistakes import mistakes_in, word_with
from oddswap.reasoning.search.seen import seen_model
from oddswap.values.notation import simplified, write
from oddswap.words.table import say


def _solves(puzzle, appearance, moves):
    model = seen_model(puzzle)
    state = model.pack(appearance)
    for name in moves.split():
        state = model.apply(state, name)
    return bool((model.goals == state).all(axis=1).any())


def _among(puzzle, way, near):
    return _drawn_together(puzzle, " ".join(way)) in {_drawn_together(puzzle, one.moves) for one in near}


def _drawn_together(puzzle, moves):
    return write(simplified(puzzle.read(moves).steps, puzzle.alphabet))


def _position(name, seed, length):
    puzzle, draw = load(name), random.Random(seed)
    way = tuple(draw.choice(list(puzzle.turns)) for _ in range(length))
    return puzzle, puzzle.appearance(puzzle.follow(puzzle.undone(" ".join(way)))), way, draw


@pytest.mark.parametrize("name", ["cube:3", "cube:2", "shape-mod:prism8", "tetrahedron", "cuboid:2x3x3"])
@pytest.mark.parametrize("seed", [1, 2])
def test_one_mistake_is_mended_by_the_way_itself_among_the_nearest(name, seed):
    puzzle, appearance, way, draw = _position(name, seed, 5)
    mistakes = [m for m in mistakes_in(puzzle, way) if not _solves(puzzle, appearance, " ".join(word_with(way, (m,), 5)))]
    wrong = " ".join(word_with(way, (draw.choice(mistakes),), 5))
    found = check(puzzle, appearance, wrong)
    assert not found.solves and found.wrong and found.looked == 1
    assert all(_solves(puzzle, appearance, near.moves) and len(near.changes) == 1 for near in found.near)
    assert found.near_count > len(found.near) or _among(puzzle, way, found.near)
    assert found.best <= 5


def test_left_for_right_as_in_a_mirror_is_one_slip_and_one_sentence():
    cube = load("cube:4")
    found = check(cube, cube.appearance(cube.follow(cube.undone("U R 2F D"))), "U L' 2F D")
    assert (found.looked, [near.moves for near in found.near]) == (1, ["U R 2F D"])
    assert say(found.near[0].changes[0]) == "turn 2, L', reversed and made on the opposite slab, R"


@pytest.mark.parametrize("seed", range(3))
def test_two_mistakes_are_mended_by_two_changes_or_fewer(seed):
    puzzle, appearance, way, draw = _position("cube:3", seed, 7)
    first, second = sorted(draw.sample([m for m in mistakes_in(puzzle, way) if m.instead_of], 2), key=lambda m: m.at)
    if second.at == first.at:
        first = next(m for m in mistakes_in(puzzle, way) if m.instead_of and m.at != second.at)
        first, second = sorted((first, second), key=lambda m: m.at)
    found = check(puzzle, appearance, " ".join(word_with(way, (first, second), 7)))
    assert found.solves or found.near_count
    assert all(_solves(puzzle, appearance, near.moves) for near in found.near)
    if found.looked == 2 and found.near_count == len(found.near):
        assert _among(puzzle, way, found.near)


def test_a_way_that_works_is_measured_against_the_shortest():
    """Four quarter turns of one face are none: common practice."""
    cube = load("cube:3")
    found = check(cube, cube.appearance(cube.follow("R")), "R R R")
    assert (found.solves, found.best, found.lower_bound, found.near, found.left_after) == (True, 1, 1, (), 0)


def test_it_is_said_where_a_shortest_way_is_left():
    cube = load("cube:3")
    found = check(cube, cube.appearance(cube.follow("R U F L")), "L' F' R U'")
    assert (found.best, found.left_after) == (4, 2)


def test_a_position_that_no_turns_solve_is_not_blamed_on_the_sequence():
    """Half turns never twist a corner: each carries the axis U-D of every corner along."""
    puzzle = load("cube:2,turns=half")
    found = check(puzzle, puzzle.appearance(changed(puzzle, ["twist UFR cw"])), "R2 U2", Budget(5.0))
    assert found.impossible and found.best is None and not found.near and not found.looked


def test_one_twisted_corner_is_known_by_the_laws_where_no_search_ends():
    """No turns twist one corner alone (Bandelow 1982)."""
    cube = load("cube:3")
    found = check(cube, cube.appearance(changed(cube, ["twist UFR cw"])), "R U R' U'", Budget(0.5))
    assert found.impossible and not found.near and found.best is None


def test_bad_moves_and_puzzles_with_a_blank_are_refused_in_one_sentence():
    cube, tiles = load("cube:3"), load("tiles:3x3")
    for puzzle, moves in ((cube, "R Q"), (cube, "[R"), (tiles, "")):
        with pytest.raises(OddswapError):
            check(puzzle, puzzle.appearance(puzzle.solved), moves)
