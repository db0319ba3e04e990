"""Tidied words do the same, are no longer, and are reduced."""

import random

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.ways.commutators import image_of, tidied, undone


@pytest.mark.parametrize("name", ["cube:3", "cube:4", "tetrahedron", "rings:7+7,cross=2"])
@pytest.mark.parametrize("seed", range(8))
def test_random_words(name, seed):
    puzzle, rng = load(name), random.Random(seed)
    word = tuple(rng.choice(list(puzzle.turns)) for _ in range(40))
    short = tidied(puzzle, word)
    assert (image_of(puzzle, short) == image_of(puzzle, word)).all()
    assert len(short) <= len(word) and tidied(puzzle, short) == short
    assert tidied(puzzle, (*word, *undone(puzzle, word))) == ()
