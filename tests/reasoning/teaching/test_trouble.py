"""Scrambles that lead a plan into trouble: replayed from solved, of the length asked for, the same for the same seed."""

import pytest

from oddswap.errors import BadOption, BadPlan
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.carried_out import carry_out, trouble_scramble
from oddswap.reasoning.teaching.plans import read_plan

PLAN = read_plan()


@pytest.mark.parametrize("name", ["shape-mod:prism8", "shape-mod:cube,paint=F+B", "cube:3,centres=none"])
@pytest.mark.parametrize("length", [16])
def test_the_plan_meets_trouble_and_comes_home(name, length):
    puzzle = load(name)
    moves, done = trouble_scramble(puzzle, PLAN, length, seed=4)
    assert moves == trouble_scramble(puzzle, PLAN, length, seed=4)[0]
    assert sum(name in puzzle.turns for name in moves.split()) == length
    assert carry_out(puzzle, PLAN, puzzle.follow(moves)).troubles == done.troubles != ()
    assert done.finished


@pytest.mark.parametrize("name", ["cube:3", "cube:3,centres=marked", "shape-mod:cube,axis=URF,degrees=60"])
def test_a_puzzle_without_lookalikes_is_refused_in_one_sentence(name):
    with pytest.raises(BadPlan, match="has no lookalikes and its holding is fixed"):
        trouble_scramble(load(name), PLAN)


def test_too_few_turns_are_refused():
    with pytest.raises(BadOption, match="at least one"):
        trouble_scramble(load("shape-mod:prism8"), PLAN, 0)


def test_a_puzzle_that_turns_about_one_axis_is_refused_in_one_sentence():
    with pytest.raises(BadPlan, match="about one axis only"):
        trouble_scramble(load("cuboid:1x1x4"), PLAN)
