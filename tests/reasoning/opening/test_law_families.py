"""Families of law classes: their number by the cosets of the law book, and that turns inside the box stay in them."""

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.opening.frames import frame_of
from oddswap.reasoning.opening.law_families import family_of, law_families

NAMES = ["1x3x3", "1x3x5", "2x3x4", "2x4x4", "2x2x4", "3x3x5", "3x5x5", "3x4x5"]


def frame(puzzle):
    return frame_of(with_turns_out_of_the_box(puzzle), tuple(puzzle.turns))


@pytest.mark.parametrize("name", NAMES)
def test_as_many_classes_as_the_laws_leave_when_lookalikes_count_as_one(name):
    """Classes that turns inside the box and lookalikes relabel into that of solved are one: the others are as large."""
    puzzle = load(f"cuboid:{name}")
    book, found = law_book(puzzle), frame(puzzle)
    start = np.arange(puzzle.degree)
    together = sum(1 for _ in book.walk(start, [*puzzle.generators, *book.hidden.generators()]))
    assert len(np.unique(found.classes)) * together == book.index and not found.by_sign


@pytest.mark.parametrize("name", NAMES)
def test_every_family_but_the_first_is_told_and_breaks_laws(name):
    puzzle = load(f"cuboid:{name}")
    found = frame(puzzle)
    families = law_families(found, puzzle)
    assert sum(family.classes for family in families) == len(np.unique(found.classes))
    assert len({family.number for family in families}) == len(families)
    assert (families[0].changes, families[0].words, families[0].sorts, families[0].broken) == ((), "", (), ())
    for family in families[1:]:
        state = changed(puzzle, family.changes)
        assert family.words and family.broken == law_book(puzzle).broken(state) != ()
        assert family_of(found, puzzle, state) == family.number


@pytest.mark.parametrize("name", ["2x3x4", "3x4x5"])
def test_turns_inside_the_box_before_and_after_keep_the_family(name):
    puzzle, rng = load(f"cuboid:{name}"), np.random.default_rng(5)
    found, turns = frame(puzzle), list(puzzle.turns)
    for family in law_families(found, puzzle)[::4]:
        image = puzzle.permutation(changed(puzzle, family.changes or ()))
        for _ in range(5):
            before, after = (puzzle.permutation(puzzle.follow(" ".join(rng.choice(turns, 9)))) for _ in range(2))
            assert family_of(found, puzzle, puzzle.arrangement(after[image[before]])) == family.number
