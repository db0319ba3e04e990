"""The table of twins: the verdict on every swap, against a walk over all arrangements, and letters that lift."""

from itertools import combinations

import pytest

from oddswap.errors import BadOption
from oddswap.lessons.twin_table import draw_swapped, swap_words, twin_table
from oddswap.puzzles.catalogue import load
from tests.common.walking import all_states, depths

NAMES = {"word": "tiles:2x3,letters=APART", "letters": "tiles:2x3,letters=TRAYS", "loop": "loop:6,window=4"}


def reached(puzzle):
    if puzzle.blank is None:
        return all_states([tuple(turn.permutation.tolist()) for turn in puzzle.turns.values()])
    return {tuple(row) for level in depths(puzzle) for row in level.tolist()}


@pytest.mark.parametrize("name", [*NAMES.values(), "loop:5,window=4", "loop:5,window=4,beads=abcdd"])
def test_the_verdict_on_each_swap_is_that_of_a_walk(name):
    puzzle = load(name)
    looks = [token.text if token else "" for token in puzzle.flat.tokens]
    seen = {tuple(looks[piece] for piece in line) for line in reached(puzzle)}
    straight = reached(puzzle)
    pieces = [number for number in range(len(puzzle.slots)) if number != puzzle.blank]
    for a, b in combinations(pieces, 2):
        line = list(range(len(puzzle.slots)))
        line[a], line[b] = b, a
        told = swap_words(puzzle, puzzle.slots[a], puzzle.slots[b])
        if looks[a] == looks[b]:
            assert "Nobody can see" in told
        elif tuple(line) in straight:
            assert told.startswith("Verdict: ordinary.")
        elif tuple(looks[piece] for piece in line) in seen:
            assert told.startswith("Verdict: lookalike.")
        else:
            assert told.startswith("Verdict: not by turning.")


def test_the_same_slot_twice_is_asked_for_kindly():
    assert swap_words(load("tiles:2x2"), "r1c1", "r1c1") == "Choose two different slots to swap."
    draw_swapped(load("tiles:2x2"), "r1c1", "r1c1", lifted=True)


def test_another_puzzle_starts_with_its_first_two_pieces_and_letters_down():
    table = twin_table(NAMES)
    assert repr(table).startswith("word: swap r1c1 r1c2\nVerdict: lookalike.")
    table.lift.value = True
    table.which.value = "loop"
    assert (table.one.value, table.other.value, table.lift.value) == ("1", "2", False)
    assert repr(table).startswith("loop: swap 1 2\nVerdict: ordinary.")
    assert "r2c3" not in twin_table(NAMES).one.options, "the blank is nothing to swap"


def test_lifting_the_letters_changes_the_picture_and_not_the_words():
    table = twin_table(NAMES)
    before, words = bytes(table._picture.value), table.words
    table.lift.value = True
    assert before.startswith(b"\x89PNG") and bytes(table._picture.value) != before and table.words == words
    table.other.value = "r2c1"
    assert "swap r1c1 r2c1" in repr(table)


def test_every_choice_can_be_made():
    table = twin_table(NAMES)
    for which in NAMES:
        table.which.value = which
        for lifted in (False, True):
            table.lift.value = lifted
            for slot in table.other.options:
                table.other.value = slot
                assert table.words


def test_more_pairs_of_twins_make_more_possible_culprits():
    assert "one of 2 possible pairs" in swap_words(load("tiles:3x3,letters=REPAIRED"), "r2c1", "r2c2")
    assert "possible pairs" not in swap_words(load("tiles:3x3,letters=WORKSHOP"), "r2c2", "r2c3")


@pytest.mark.parametrize("names", [{}, {"cube": "cube:2"}])
def test_there_must_be_a_flat_puzzle(names):
    with pytest.raises(BadOption):
        twin_table(names)
