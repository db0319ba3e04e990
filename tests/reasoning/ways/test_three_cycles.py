"""Every three-cycle that is offered is one: replayed on labels, with its length, for kinds of several puzzles."""

import random

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.ways.commutators import image_of, shows, visible
from oddswap.reasoning.ways.three_cycles import NONE, codes, cycled, three_cycles, three_cycles_in_order
from tests.common.clocks import PLENTY

NAMES = ["cube:3", "cube:4", "tetrahedron", "rings:7+7,cross=2", "cuboid:3x3x5"]


def drawn(cycles, count=25):
    found = np.flatnonzero(cycles.length < NONE).tolist()
    return [cycles.triple(code) for code in random.Random(0).sample(found, min(count, len(found)))]


@pytest.mark.parametrize("name", NAMES)
def test_words_cycle_three_labels_and_move_nothing_else_that_shows(name):
    puzzle = load(name)
    seen = visible(puzzle)
    for cycles in three_cycles(puzzle, PLENTY).values():
        m, first = cycles.kind.twist, cycles.kind.first
        for x, y, z in drawn(cycles):
            word = cycles.word(puzzle, (x, y, z))
            image = image_of(puzzle, word)
            assert (image[x], image[y], image[z]) == (y, z, x)
            slots = {(label - first) // m for label in (x, y, z)}
            moved = {(int(label) - first) // m for label in seen if image[label] != label}
            assert moved == slots and len(slots) == 3
            assert len(word) <= cycles.length[codes(cycles.kind, np.array([[x, y, z]]) - first)[0]]


@pytest.mark.parametrize("name", ["cube:5", "octahedron"])
def test_three_cycles_in_order_spare_the_kinds_before(name):
    puzzle = load(name)
    kinds = cycled(puzzle)
    found = three_cycles_in_order(puzzle, PLENTY)
    assert set(found) == {kind.name for kind in kinds}
    for number, kind in enumerate(kinds):
        cycles = found[kind.name]
        kept = [label for k in kinds[: number + 1] for label in puzzle.base_label[list(k.places)]]
        for x, y, z in drawn(cycles, 5):
            image = image_of(puzzle, cycles.word(puzzle, (x, y, z)))
            assert sum(int(image[label] != label) for label in kept) == 3 and image[x] == y


def test_all_three_cycles_of_the_cube_are_there_and_the_shortest_on_corners_has_eight_turns():
    """n (n - 1) (n - 2) / 3 triples, times the twists of two labels against the third; eight turns: common practice."""
    cycles = three_cycles(load("cube:3"), PLENTY)
    assert {name: int((c.length < NONE).sum()) for name, c in cycles.items()} == {
        "corners": 8 * 7 * 6 // 3 * 9,
        "edges": 12 * 11 * 10 // 3 * 4,
    }
    assert int(cycles["corners"].length.min()) == 8


def test_a_puzzle_without_three_cycles_offers_none():
    """Half turns keep how four slots fall into pairs, and each orbit of corners has four: no circle of three alone."""
    assert "corners" not in three_cycles(load("cube:3,turns=half"), PLENTY)
    assert all(shows(load("cube:3"), kind) for kind in cycled(load("cube:3")))
