"""Layers put straight, against turning arrangements one by one and counting the slots that do not look solved."""

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.reasoning.verdicts.first_looks import straightened
from oddswap.reasoning.verdicts.mending import is_reachable

NAMES = [
    *["cube:2", "cube:3", "cube:4", "cube:3,centres=marked", "cube:3,turns=half", "shape-mod:prism8", "cuboid:2x3x4"],
    *["corner-cube", "tetrahedron", "octahedron", "loop:7,window=3", "rings:5+5", "shape-mod:prism8,paint=FR+FL+BR+BL"],
    "shape-mod:cube,shift=0.1/0.1/0.1",
]


def turned(puzzle, state, name):
    return puzzle.arrangement(puzzle.turns[name].permutation[puzzle.permutation(state)])


def wrong(puzzle, state):
    """How many slots do not look as they do when solved."""
    shown, solved = puzzle.appearance(state).sights, puzzle.appearance(puzzle.solved).sights
    return sum(one != other for one, other in zip(shown, solved, strict=True))


def mixed(puzzle, rng, count):
    """A few turns, and half of the time an exchange by hand."""
    state = puzzle.solved
    for name in rng.choice(list(puzzle.turns), size=count):
        state = turned(puzzle, state, name)
    kind = next(kind for kind in puzzle.kinds if len(kind.slots) > 1)
    return changed(puzzle, [f"swap {kind.slots[0]} {kind.slots[1]}"], state) if rng.random() < 0.5 else state


@pytest.mark.parametrize("name", NAMES)
def test_one_turn_is_turned_back(name):
    puzzle = load(name)
    for turn in puzzle.turns:
        seen, made = straightened(puzzle, puzzle.appearance(turned(puzzle, puzzle.solved, turn)))
        assert seen == puzzle.appearance(puzzle.solved) and len(made) <= 1
        assert made or wrong(puzzle, turned(puzzle, puzzle.solved, turn)) == 0


@pytest.mark.parametrize("name", NAMES)
def test_every_turn_made_leaves_as_few_wrong_as_any_turn_can_and_no_turn_is_left_that_helps(name):
    puzzle, rng = load(name), np.random.default_rng(1)
    for count in (0, 1, 2, 2, 3, 5):
        state = mixed(puzzle, rng, count)
        seen, made = straightened(puzzle, puzzle.appearance(state))
        for turn in made:
            before = wrong(puzzle, state)
            least = min(wrong(puzzle, turned(puzzle, state, other)) for other in puzzle.turns)
            state = turned(puzzle, state, turn)
            assert wrong(puzzle, state) == least < before
        assert puzzle.appearance(state) == seen
        assert not wrong(puzzle, state) or all(
            wrong(puzzle, turned(puzzle, state, other)) >= wrong(puzzle, state) for other in puzzle.turns
        )


@pytest.mark.parametrize("name", ["cube:3", "cube:4", "shape-mod:prism8", "corner-cube"])
def test_what_can_be_reached_is_not_changed(name):
    puzzle, rng = load(name), np.random.default_rng(2)
    book = law_book(puzzle)
    for _ in range(12):
        state = mixed(puzzle, rng, 2)
        _, made = straightened(puzzle, puzzle.appearance(state))
        after = state
        for turn in made:
            after = turned(puzzle, after, turn)
        assert is_reachable(book, puzzle.permutation(after)) == is_reachable(book, puzzle.permutation(state))


@pytest.mark.parametrize("name", ["tiles:3x3", "graph:2+1+2"])
def test_where_a_move_depends_on_a_blank_nothing_is_turned(name):
    puzzle = load(name)
    slid = puzzle.appearance(puzzle.follow(puzzle.slots[next(iter(puzzle.neighbours[puzzle.blank]))]))
    assert straightened(puzzle, slid) == (slid, ())


@pytest.mark.parametrize("name", NAMES)
def test_what_is_straight_stays(name):
    puzzle = load(name)
    solved = puzzle.appearance(puzzle.solved)
    assert straightened(puzzle, solved) == (solved, ())


def test_what_is_too_large_to_be_searched_is_put_straight_and_judged():
    cube = load("cube:8")
    seen = cube.appearance(cube.follow("R U"))
    straight, turns = straightened(cube, seen)
    assert straight == cube.appearance(cube.solved) and turns == ("U'", "R'")
    assert diagnose(cube, seen).verdict == "ordinary"
