"""Mistakes in a sequence: every state is that of the turns said to have been made."""

from itertools import combinations_with_replacement

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.checking.mistakes import followed, mistakes_in, most_followed, word_with
from oddswap.reasoning.search.seen import seen_model


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
