"""Coordinates: every placing of a few pieces has a number of its own, and steps lead where the moves lead."""

from math import comb, perm

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search.coordinates import NOWHERE, blank_steps, coordinate
from tests.reasoning.search.sliding import job_of, walked


@pytest.mark.parametrize(
    ("name", "codes", "count"),
    [
        ("tiles:3x3", (0,), 9),
        ("tiles:3x3", (1, 5, 6), perm(9, 3)),
        ("tiles:4x4", (0, 7), perm(16, 2)),
        ("tiles:3x3,letters=AABBBCDE", (0,), comb(9, 2)),
        ("tiles:3x3,letters=AABBBCDE", (0, 1), comb(9, 2) * comb(7, 3)),
    ],
)
def test_there_are_as_many_numbers_as_ways_to_lay_the_pieces(name, codes, count):
    job = job_of(load(name))
    found = coordinate(job.moves, job.goals, codes, lambda: None)
    assert len(found) == count and found.steps.shape == (count, len(job.moves))


@pytest.mark.parametrize(("name", "codes"), [("tiles:3x4", (0, 3, 9)), ("tiles:3x3,letters=AABBBCDE", (1, 3))])
def test_steps_lead_where_the_moves_lead(name, codes):
    puzzle = load(name)
    job = job_of(puzzle)
    found = coordinate(job.moves, job.goals, codes, lambda: None)
    blank, rows = job.moves.blank, np.array([walked(puzzle, 40 + seed, seed) for seed in range(30)])
    numbers = found.numbers(rows)
    for move in range(len(job.moves)):
        there = rows[(rows == blank.code).argmax(axis=1) == blank.begin[move]]
        after = found.steps[found.numbers(there), move]
        assert (after == found.numbers(job.moves.apply(there, move))).all()
    assert len(set(numbers.tolist())) == len({tuple(np.where(np.isin(row, codes), row, 99)) for row in rows})


def test_pieces_that_are_not_those_of_the_goal_are_nowhere():
    job = job_of(load("tiles:3x3"))
    found = coordinate(job.moves, job.goals, (0, 1), lambda: None)
    state = job.goals.copy()
    state[0, 1] = 0
    assert found.numbers(state) == NOWHERE and found.numbers(job.goals) != NOWHERE


def test_the_blank_goes_only_from_where_it_is():
    job = job_of(load("tiles:2x3"))
    steps = blank_steps(job.moves)
    assert (steps != NOWHERE).sum() == len(job.moves) == 2 * 7
    assert (steps[job.moves.blank.begin, np.arange(14)] == job.moves.blank.end).all()
