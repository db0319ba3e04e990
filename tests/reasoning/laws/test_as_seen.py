"""Permutations as seen: nothing that looks right is away, and what is seen does not change."""

import random

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.as_seen import as_seen, looks_right, pieces_that_look_right, where, wrong


@pytest.mark.parametrize(
    "name", ["cube:3", "cube:4", "shape-mod:prism8", "octahedron", "cube:3,centres=marked", "rings:7+7,cross=2"]
)
@pytest.mark.parametrize("count", [1, 2, 30])
def test_exchanging_lookalikes_changes_nothing_that_is_seen(name, count):
    puzzle, rng = load(name), random.Random(count)
    state = puzzle.follow(" ".join(rng.choice(list(puzzle.turns)) for _ in range(count)))
    image = puzzle.permutation(state)
    seen = as_seen(puzzle, image)
    assert puzzle.appearance(puzzle.arrangement(seen)) == puzzle.appearance(state)
    away = {p for p in range(len(puzzle.slots)) if seen[puzzle.base_label[p]] != puzzle.base_label[p]}
    shown, solved = puzzle.appearance(state).sights, puzzle.appearance(puzzle.solved).sights
    differing = sum(a != b for a, b in zip(shown, solved, strict=True))
    assert len(away) == differing == wrong(puzzle, image) == wrong(puzzle, seen)
    tables = ((looks_right(puzzle, kind), where(puzzle, kind, image)) for kind in puzzle.kinds)
    right = [table[np.arange(len(places)), places] for table, places in tables]
    assert (pieces_that_look_right(puzzle, image) == np.concatenate(right)).all() and differing == (~np.concatenate(right)).sum()


def test_without_lookalikes_each_piece_looks_right_at_one_label():
    cube = load("cube:3")
    corners = cube.kinds[0]
    assert (looks_right(cube, corners) == np.repeat(np.eye(8, dtype=bool), 3, axis=1) * np.tile([True, False, False], 8)).all()
