"""Mistakes in a sequence: every state is that of the turns said to have been made."""

from itertools import combinations_with_replacement

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.checking.mistakes import Mistake, followed, mistakes_in, most_followed, word_with
from oddswap.reasoning.search.seen import seen_model
from oddswap.reasoning.ways.way_out import looks_solved


@pytest.mark.parametrize(
    ("name", "word"), [("cube:2", "R U' F2"), ("corner-cube", ""), ("shape-mod:prism8", "R2 U"), ("tetrahedron", "")]
)
def test_every_state_is_that_of_the_turns_made(name, word):
    puzzle = load(name)
    model, turns = seen_model(puzzle), tuple(word.split()) or tuple(puzzle.turns)[:3]
    mistakes, seen = mistakes_in(puzzle, turns), set()
    for stage in followed(model, model.solved, turns, mistakes, 2):
        assert len(stage.states) == len(stage.history)
        step = 1 + len(stage.states) // 150
        for state, row in zip(stage.states[::step], stage.history[::step], strict=True):
            made = word_with(turns, tuple(mistakes[n] for n in row), stage.place)
            told = model.solved
            for turn in made:
                told = model.apply(told, turn)
            np.testing.assert_array_equal(state, told)
        seen.add((stage.place, stage.mistakes))
    assert seen == {(p, m) for p in range(len(turns) + 1) for m in range(3)}


def test_all_words_of_up_to_two_mistakes_are_met():
    """Against another enumeration: each single mistake made on each word that a single mistake leaves."""
    puzzle = load("cube:2")
    model, turns = seen_model(puzzle), ("R", "U2")
    mistakes = mistakes_in(puzzle, turns)
    met = {
        word_with(turns, tuple(mistakes[n] for n in row), 2)
        for stage in followed(model, model.solved, turns, mistakes, 2)
        if stage.place == 2
        for row in stage.history
    }
    pairs = [(a, b) for a, b in combinations_with_replacement(mistakes, 2) if b.at >= a.at + a.instead_of]
    alone = {word_with(turns, (m,), 2) for m in mistakes}
    assert alone | {turns} <= met
    assert {word_with(turns, pair, 2) for pair in pairs} <= met
    assert all(len(word) <= 4 for word in met)


def test_two_mistakes_are_followed_where_there_are_not_too_many():
    cube = load("cube:3")
    assert most_followed(mistakes_in(cube, ("R", "U") * 10)) == 2
    assert most_followed(mistakes_in(load("cube:7"), ("R", "U") * 30)) == 1


def test_the_opposite_slab_and_reversed_is_one_mistake_as_in_a_mirror():
    """Two layers make a cube, so both turned the same way round are the whole cube turned: it still looks solved."""
    puzzle = load("cube:2")
    quarters = tuple(name for name in puzzle.turns if "2" not in name)
    slips = [m for m in mistakes_in(puzzle, quarters) if m.sort == "reversed on the opposite slab"]
    assert [(m.turn, *m.made) for m in slips if m.turn in "UFR"] == [("U", "D'"), ("F", "B'"), ("R", "L'")]
    assert len(slips) == len(quarters)
    for slip in slips:
        assert looks_solved(puzzle, puzzle.appearance(puzzle.follow(f"{slip.turn} {slip.made[0]}")))


@pytest.mark.parametrize(
    ("name", "turn", "made"),
    [("cube:4", "2R", "2L'"), ("cuboid:3x3x5", "F'", "B"), ("tetrahedron", "DFL", None), ("cube:3", "R2", None)],
)
def test_a_mirror_keeps_the_depth_of_a_slab(name, turn, made):
    """A half turn is its own reverse, and no tip of a tetrahedron lies opposite another."""
    slips = [m for m in mistakes_in(load(name), (turn,)) if m.sort == "reversed on the opposite slab"]
    assert slips == ([] if made is None else [Mistake("reversed on the opposite slab", 0, (made,), 1, turn)])
