"""Completions of a half-seen puzzle against the count of appearances, and what is put in place."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from random import Random

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.describing.sights import every_look, own_look
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.counting import count_explanations
from oddswap.reasoning.verdicts.explanations import allowed_columns, completions, drawn, in_place
from oddswap.values.position import Appearance
from tests.reasoning.handmade import handmade


def half_seen(name: str, slots: list[str], *changes: str) -> Appearance:
    puzzle = load(name)
    sights = list(puzzle.appearance(changed(puzzle, list(changes))).sights)
    for slot in slots:
        sights[puzzle.slot(slot)] = every_look(puzzle, puzzle.slot(slot))
    return Appearance(name, tuple(sights))


CASES = [
    ("cube:3", ["UF", "UR", "UFR"], ["flip UF"]),
    ("cube:4", ["UB.l2", "UL.b2", "U.b2l2", "F.u2l2"], []),
    ("shape-mod:prism8,paint=FR+FL+BR+BL", ["FR", "FL", "UF"], []),
    ("tiles:3x3,letters=AABCDEFG", ["r1c1", "r1c2", "r2c2", "r3c3"], []),
]


@pytest.mark.parametrize(("name", "slots", "changes"), CASES)
def test_there_are_as_many_completions_as_appearances_are_counted(name, slots, changes):
    puzzle, seen = load(name), half_seen(name, slots, *changes)
    found = completions(puzzle, seen, 2000)
    assert len(found) == len(set(found)) == count_explanations(puzzle, seen).appearances > 1
    assert all(whole.complete for whole in found)
    assert all(one <= known for whole in found for one, known in zip(whole.sights, seen.sights, strict=True))
    assert completions(puzzle, seen, len(found) - 1) is completions(puzzle, seen, 0) is None
    assert in_place(puzzle, seen) in found
    rng = Random(3)
    assert {drawn(puzzle, seen, rng) for _ in range(20)} <= set(found)


def test_what_is_unseen_is_put_in_place_as_far_as_it_can_be():
    cube = load("cube:3")
    seen = half_seen("cube:3", ["UR", "UB"], "flip UF")
    assert in_place(cube, seen) == cube.appearance(changed(cube, ["flip UF"]))
    moved = half_seen("cube:3", ["UR", "UB", "UL"], "cycle UF UR UB")
    open_slots = in_place(cube, moved).uncertain
    assert [cube.slots[b] for b in open_slots] == ["UB"], "its own piece is seen elsewhere, and the UF edge lies there some way"


def test_what_shows_one_of_two_looks_is_open():
    """Two edges, each flipped or not: four appearances."""
    cube = load("cube:3")
    every = {cube.appearance(changed(cube, changes)) for changes in ([], ["flip UF"], ["flip UR"], ["flip UF", "flip UR"])}
    seen = Appearance(cube.name, tuple(frozenset.union(*sights) for sights in zip(*(one.sights for one in every), strict=True)))
    assert set(completions(cube, seen, 4)) == every and drawn(cube, seen, Random(0)) in every
    assert in_place(cube, seen) == cube.appearance(cube.solved)


def test_what_no_pieces_can_show_has_no_completion():
    cube = load("cube:3")
    sights = list(half_seen("cube:3", ["DF"]).sights)
    sights[cube.slot("UF")] = sights[cube.slot("UR")]
    seen = Appearance("cube:3", (*sights[: cube.slot("DF")], sights[cube.slot("DB")], *sights[cube.slot("DF") + 1 :]))
    assert completions(cube, seen, 5) == [] and drawn(cube, seen, Random(0)) is None


NAMES = ["cube:2,turns=R+L", "cube:2,turns=R+U2", "cube:3,turns=R2+U2", "shape-mod:prism8"]


@pytest.mark.parametrize("puzzle", [*map(load, NAMES), handmade([(1, 1), (2, 3)], [[0, 4, 5, 6, 1, 2, 3]])])
def test_a_column_is_allowed_where_the_piece_put_there_looks_as_is_seen(puzzle):
    """Each piece is exchanged with each other of its sector, every way round: where its first label comes to a column."""
    rng = Random(puzzle.name)
    looks = [sorted(every_look(puzzle, slot)) for slot in range(len(puzzle.slots))]
    sights = tuple(own_look(puzzle, slot) | frozenset(rng.sample(some, len(some) // 2)) for slot, some in enumerate(looks))
    for sector in law_book(puzzle).sectors:
        allowed = allowed_columns(puzzle, sector, sights)
        for (i, piece), (j, slot), twist in product(enumerate(sector.slots), enumerate(sector.slots), range(sector.kind.twist)):
            pieces, twists = list(puzzle.solved.pieces), list(puzzle.solved.twists)
            pieces[slot], pieces[piece], twists[slot] = piece, slot, twist
            state = replace(puzzle.solved, pieces=tuple(pieces), twists=tuple(twists))
            (column,) = np.flatnonzero(sector.labels[j] == puzzle.permutation(state)[sector.labels[i, 0]]).tolist() or (None,)
            if column is not None:
                assert (column in allowed[i][j]) == (puzzle.appearance(state).sights[slot] <= sights[slot])
