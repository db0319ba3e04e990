"""Free pieces, and what they let be reached, against the definition on small puzzles (`by_definition`)."""

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.as_seen import free_pieces, turn_traces
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import first_sight
from oddswap.reasoning.verdicts.mending import is_reachable
from oddswap.values.position import Appearance
from tests.reasoning.by_definition import ByDefinition
from tests.reasoning.random_puzzles import random_puzzles, some_looks


def names(puzzle, pieces):
    return {puzzle.slots[piece] for piece in pieces}


def free_after(name, changes=(), moves=""):
    puzzle = load(name)
    _, displaced = first_sight(puzzle, puzzle.appearance(changed(puzzle, list(changes), puzzle.follow(moves))))
    return names(puzzle, free_pieces(puzzle, displaced) - displaced)


@pytest.mark.parametrize(
    "name, changes, moves, free",
    [
        ("cube:3", [], "", ""),
        ("cube:3", ["swap UF UR"], "", "U F R"),
        ("cube:3", [], "U", "U F B L R"),
        ("cube:3,centres=marked", ["flip UF"], "", ""),
        ("cube:2", ["swap UFR UFL"], "", ""),
        ("shape-mod:prism8", ["flip UF"], "", "U F"),
        ("shape-mod:prism8,paint=FR+FL+BR+BL", ["swap UF UR"], "", "U F R"),
        ("shape-mod:prism8,paint=FR+FL+BR+BL", ["cycle UF UR UB"], "", "U F R B UFL UFR UBL UBR"),
        ("shape-mod:prism8,paint=FR+FL+BR+BL", [], "U", "U F B L R UFL UFR UBL UBR"),
    ],
)
def test_centres_turn_along_and_twins_of_a_layer_that_is_out_of_line(name, changes, moves, free):
    """Common practice: nobody minds a plain centre, nor twins, in a layer that was turned; a lone swap accuses the others."""
    assert free_after(name, changes, moves) == set(free.split())


@pytest.mark.parametrize("slots, along", [("", ""), ("UF", "UF"), ("UFR", "UFR"), ("U", ""), ("FL DB", "FLDB"), ("U F", "")])
@pytest.mark.parametrize("name", ["cube:3", "shape-mod:prism8"])
def test_centres_turn_along_with_what_looks_wrong_in_their_layer(name, slots, along):
    puzzle = load(name)
    wrong = frozenset(map(puzzle.slot, slots.split()))
    assert names(puzzle, free_pieces(puzzle, wrong)) == {*slots.split(), *along}


def test_a_turned_layer_frees_its_own_twins_on_larger_cubes():
    """The centre stickers of a turned side of a cube of four are alike: a quarter turn of them is not seen."""
    puzzle = load("cube:4")
    side = {puzzle.slots[slot] for slot in puzzle.turns["U"].slots if len(puzzle.slots[slot].partition(".")[0]) == 1}
    assert len(side) == 4 and side <= free_after("cube:4", moves="U")
    assert not free_after("cube:4", changes=["swap UFR UFL"])


def test_where_a_blank_slides_only_what_looks_wrong_is_free():
    puzzle = load("tiles:3x3,letters=aabcdefg")
    wrong = frozenset(range(5))
    assert free_pieces(puzzle, wrong) == wrong


@pytest.mark.parametrize(
    "name", ["cube:3", "cube:4", "shape-mod:prism8,paint=FR+FL+BR+BL", "cuboid:2x3x3", "rings:6+6,beads=5+5"]
)
def test_traces_of_a_turn_are_what_its_arrangement_shows(name):
    puzzle = load(name)
    traces, solved = turn_traces(puzzle), puzzle.appearance(puzzle.solved).looks
    for row, turn in enumerate(puzzle.turns.values()):
        after = puzzle.arrangement(turn.permutation)
        shown = {slot for slot, look in enumerate(puzzle.appearance(after).looks) if look != solved[slot]}
        assert set(np.flatnonzero(traces.showing[row])) == shown <= turn.slots
        assert set(np.flatnonzero(traces.quiet[row])) == turn.slots - shown
        own = {slot for slot in turn.slots - shown if after.pieces[slot] == slot and after.twists[slot]}
        assert set(np.flatnonzero(traces.turned[row])) == own


def test_small_puzzles_agree_with_the_definition(cases):
    freed = ordinary = 0
    for puzzle, rng in random_puzzles(cases):
        judge, book = ByDefinition(puzzle), law_book(puzzle)
        for looks in some_looks(judge, rng, 12):
            wrong = judge.wrong(looks)
            first, displaced = first_sight(puzzle, Appearance(puzzle.name, tuple(frozenset((look,)) for look in looks)))
            free = free_pieces(puzzle, displaced)
            assert displaced == wrong and free == judge.free(wrong)
            assert is_reachable(book, puzzle.permutation(first), free) == judge.is_ordinary(looks)
            freed += free != wrong
            ordinary += judge.is_ordinary(looks)
    assert min(freed, ordinary) > len(cases)
