"""The compiled search for commutators against one that multiplies everything out."""

import numpy as np

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.ways.commutators import (
    commuted,
    conjugates,
    few_movers,
    image_of,
    longer,
    single,
    small,
    spelt,
    units,
    visible,
)
from tests.common.clocks import PLENTY


def test_all_commutators_of_units_that_move_three_pieces():
    puzzle = load("cube:3")
    one, seen = single(puzzle), visible(puzzle)
    turned = conjugates(one)
    finds = few_movers(turned, one, seen, 3, PLENTY)
    found = {tuple(row) for row in finds.rows.tolist()}
    for w in range(0, len(turned.images), 7):
        for c, other in enumerate(one.images):
            word, back, other_back = turned.images[w], np.argsort(turned.images[w]), np.argsort(other)
            image = other_back[back[other[word]]]
            moved = int((image[seen] != seen).sum())
            assert ((w, c) in found) == (0 < moved <= 3)
    for row in range(0, len(finds.rows), 50):
        image = image_of(puzzle, finds.word(puzzle, row))
        assert set(seen[image[seen] != seen].tolist()) == set(finds.moved[row].tolist()) - {-1}


def test_tables_hold_the_images_of_their_words():
    for name in ("cube:2,turns=half", "rings:4+4,cross=1", "tetrahedron,tips=no"):
        puzzle = load(name)
        one = single(puzzle)
        tables = [one, longer(one, one), conjugates(one), commuted(one, 2), small(one, visible(puzzle), 50, PLENTY)]
        for table in tables:
            for row in range(0, len(table.letters), max(1, len(table.letters) // 20)):
                assert (image_of(puzzle, spelt(puzzle, table.letters[row])) == table.images[row]).all()
            assert (np.take_along_axis(table.images, table.backs.astype(int), 1) == np.arange(puzzle.degree)).all()


def test_middle_slabs_are_units_of_the_cube():
    """Eighteen face turns and nine turns of middle slabs."""
    assert len(units(load("cube:3"))) == 27
