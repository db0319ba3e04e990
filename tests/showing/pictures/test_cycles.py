"""Rings, against SymPy's permutations: an independent reading of cycles and of odd and even."""

import numpy as np
import pytest
from sympy.combinatorics import Permutation

from oddswap.puzzles.catalogue import load
from oddswap.showing.pictures.cycles import draw_cycles, groups_of, twist_words

NAMES = ["cube:2", "cube:3,centres=marked", "shape-mod:prism8"]


def shuffles(puzzle, count=8):
    rng, names = np.random.default_rng(3), list(puzzle.turns)
    for length in range(1, count + 1):
        yield puzzle.follow(" ".join(names[i] for i in rng.integers(len(names), size=length)))


@pytest.mark.parametrize("name", NAMES)
def test_the_rings_are_the_cycles_from_home_to_where_the_piece_is(name):
    puzzle = load(name)
    for arrangement in shuffles(puzzle):
        groups = groups_of(puzzle, arrangement)
        cycles = [[puzzle.slot(slot) for slot in cycle.slots] for group in groups for cycle in group.cycles]
        home_to_slot = Permutation(cycles, size=len(puzzle.slots)) if cycles else Permutation(size=len(puzzle.slots))
        assert [home_to_slot(piece) for piece in arrangement.pieces] == list(range(len(puzzle.slots)))
        assert {slot for cycle in cycles for slot in cycle} == arrangement.displaced()


@pytest.mark.parametrize("name", NAMES)
def test_odd_and_even_are_as_sympy_has_them(name):
    puzzle = load(name)
    for arrangement in shuffles(puzzle):
        for group in groups_of(puzzle, arrangement):
            members = [s for kind in puzzle.kinds if kind.family == group.title for s in kind.places]
            parity = Permutation([members.index(arrangement.pieces[s]) for s in members]).is_odd
            assert group.words.startswith("an odd permutation" if parity else "an even permutation")


def test_twists_stand_on_the_arrow_to_the_slot_that_has_them():
    puzzle = load("cube:3")
    for arrangement in shuffles(puzzle):
        for group in groups_of(puzzle, arrangement):
            for cycle in group.cycles:
                for i, words in enumerate(cycle.twists):
                    slot = puzzle.slot(cycle.slots[(i + 1) % len(cycle.slots)])
                    assert words == twist_words(arrangement.twists[slot], puzzle.kind_of[slot].twist)


def test_an_edge_flipped_where_it_is_has_a_ring_of_its_own():
    puzzle = load("cube:3")
    twists = tuple(int(slot == "UF") for slot in puzzle.slots)
    arrangement = type(puzzle.solved)(puzzle.name, puzzle.solved.pieces, twists)
    (group,) = groups_of(puzzle, arrangement)
    assert [(cycle.slots, cycle.twists) for cycle in group.cycles] == [(("UF",), ("flip",))]
    assert group.words == "an even permutation · flips add up to 1 (mod 2)"


@pytest.mark.parametrize("moves", ["", "R", "R U R' U'", "R U2 F' L D R' B2 U"])
def test_every_displaced_slot_is_drawn_once(moves):
    puzzle = load("cube:3,centres=marked")
    arrangement = puzzle.follow(moves)
    written = [text.get_text() for text in draw_cycles(puzzle, arrangement).axes[0].texts]
    nodes = [text for text in written if text in puzzle.slots]
    assert sorted(nodes) == sorted(puzzle.slots[slot] for slot in arrangement.displaced())
    assert moves or "every piece is at home" in written


def test_nothing_leaves_the_sheet():
    puzzle = load("cube:3,centres=marked")
    for arrangement in shuffles(puzzle, 12):
        ax = draw_cycles(puzzle, arrangement).axes[0]
        points = np.concatenate([path.vertices for c in ax.collections for path in c.get_paths()])
        assert (points > 0).all() and (points < (ax.get_xlim()[1], ax.get_ylim()[1])).all()
