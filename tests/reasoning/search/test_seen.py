"""Packed states against appearances that are worked out label by label."""

from dataclasses import replace

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search.seen import Unseen, seen_model
from oddswap.values.position import Arrangement

NAMES = [
    "cube:2",
    "cube:3",
    "cube:3,centres=marked",
    "cube:3,centres=none",
    "shape-mod:prism8",
    "shape-mod:prism8,paint=FR+FL+BR+BL",
    "shape-mod:cube,axis=U,degrees=45",
    "shape-mod:cube,axis=URF,degrees=60",
    "shape-mod:prism5",
    "cube:4",
    "cuboid:2x3x4",
    "dodecahedron",
    "loop:20,window=4",
    "rings:7+7,cross=2",
]


def flipped(puzzle, slot):
    twists = [0] * len(puzzle.slots)
    twists[puzzle.slot(slot)] = 1
    return puzzle.appearance(Arrangement(puzzle.name, tuple(range(len(twists))), tuple(twists)))


@pytest.mark.parametrize("name", NAMES)
def test_turns_of_packed_states_agree_with_following_the_labels(name):
    puzzle, rng = load(name), np.random.default_rng(5)
    model = seen_model(puzzle)
    assert model.names == (*puzzle.turns, *puzzle.rotations)
    for _ in range(10):
        word = rng.choice(model.names, size=30)
        state = model.solved
        for turn in word:
            state = model.apply(state, str(turn))
        appearance = puzzle.appearance(puzzle.follow(" ".join(word)))
        assert model.unpack(state) == appearance
        assert (model.pack(appearance) == state).all()


@pytest.mark.parametrize(
    ("name", "slots"), [("cube:2", 8), ("cube:3", 20), ("cube:3,centres=marked", 26), ("shape-mod:prism8", 20)]
)
def test_slots_that_always_look_the_same_are_left_out(name, slots):
    assert len(seen_model(load(name)).solved) == slots


@pytest.mark.parametrize("name", ["cube:2", "cube:3,centres=none"])
def test_solved_in_any_holding_is_a_goal(name):
    puzzle = load(name)
    model = seen_model(puzzle)
    goals = {goal.tobytes() for goal in model.goals}
    assert len(model.goals) == len(goals) == 24
    for moves in ("x", "y2", "z' x", "x y' z2"):
        assert model.pack(puzzle.appearance(puzzle.follow(moves))).tobytes() in goals
    assert model.pack(puzzle.appearance(puzzle.follow("R"))).tobytes() not in goals


def test_a_fixed_holding_has_one_goal():
    assert len(seen_model(load("cube:3")).goals) == 1


def test_a_turn_may_be_made_where_the_puzzle_allows_it():
    board = load("tiles:3x3")
    model, arrangement = seen_model(board), board.follow("r2c3 r2c2")
    state = model.pack(board.appearance(arrangement))
    legal = {turn.name for turn in board.legal(arrangement)}
    assert {name for name in model.names if model.may(state, name)} == legal and len(legal) == 4
    cube = seen_model(load("cube:3"))
    assert all(cube.may(cube.solved, name) for name in cube.names)


def test_hidden_turns_do_not_show():
    prism, cube = load("shape-mod:prism8"), load("cube:3")
    assert (seen_model(prism).pack(flipped(prism, "FR")) == seen_model(prism).solved).all()
    assert (seen_model(prism).pack(flipped(prism, "UF")) != seen_model(prism).solved).sum() == 1
    assert (seen_model(cube).pack(flipped(cube, "FR")) != seen_model(cube).solved).sum() == 1


@pytest.mark.parametrize("sight", [frozenset(), frozenset({0, 1}), frozenset({99})])
def test_an_appearance_with_a_part_unseen_or_foreign_is_refused(sight):
    puzzle = load("cube:3")
    appearance = puzzle.appearance(puzzle.solved)
    at = puzzle.slot("UR")
    sights = (*appearance.sights[:at], sight, *appearance.sights[at + 1 :])
    with pytest.raises(Unseen, match=r"slot UR of cube:3 has .*: give every slot one look"):
        seen_model(puzzle).pack(replace(appearance, sights=sights))


def test_looks_that_a_twist_would_tear_apart_are_refused():
    puzzle = load("cube:3")
    looks = puzzle.looks.copy()
    looks[1] = looks[5]
    with pytest.raises(ValueError, match="apart that are numbered alike"):
        seen_model(replace(puzzle, looks=looks))
