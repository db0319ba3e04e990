"""Words along a chain of stabilisers lead home; their lengths beside those of GAP are in the benchmarks."""

import random

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.ways.commutators import image_of
from oddswap.reasoning.ways.short_words import short_words
from tests.common.clocks import PLENTY


@pytest.mark.parametrize("name", ["corner-cube", "cuboid:2x2x3", "cube:3,turns=R2+U2+F2", "tetrahedron,tips=no"])
def test_random_arrangements_go_home(name):
    puzzle = load(name)
    table = short_words(puzzle, PLENTY)
    for seed in range(20):
        rng = random.Random(seed)
        image = image_of(puzzle, tuple(rng.choice(list(puzzle.turns)) for _ in range(60)))
        word = table.home(image)
        home = image_of(puzzle, word)[image]
        assert puzzle.appearance(puzzle.arrangement(home)) == puzzle.appearance(puzzle.solved)


def test_an_entry_brings_its_label_home_and_spares_the_base_before():
    puzzle = load("corner-cube")
    table = short_words(puzzle, PLENTY)
    for level, entries in enumerate(table.tables):
        for label, entry in entries.items():
            assert (image_of(puzzle, entry.word) == entry.image).all() and entry.image[label] == table.base[level]
            assert all(entry.image[base] == base for base in table.base[:level])
