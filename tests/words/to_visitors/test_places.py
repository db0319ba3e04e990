"""Places in words, by what hands feel: no slot is without words, on a box of any size and in any holding."""

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.values.holding import START
from oddswap.words.to_visitors.places import place_words


@pytest.mark.parametrize(
    "name, slot, words",
    [
        ("cube:16", "FR.u8", "the front right edge block in the 8th layer from the top"),
        ("cube:4", "U.b2l2", "the block on the top side in the second layer from the back and the second layer from the left"),
        ("cuboid:1x3x3", "LR", "the middle block"),
        ("cuboid:1x3x3", "UFLR", "the top front block"),
        ("shape-mod:prism8", "F", "the middle block on the front side"),
    ],
)
def test_a_place_is_said_as_hands_have_it(name, slot, words):
    assert place_words(load(name), slot, START) == words


@pytest.mark.parametrize("name", ["cube:3", "cube:5", "cuboid:2x3x4", "cuboid:1x3x3", "shape-mod:prism5"])
def test_each_slot_has_words_of_its_own_in_any_holding(name):
    puzzle = load(name)
    for holding in (START, START.turned("x").turned("y"), START.turned("z", 2)):
        said = [place_words(puzzle, slot, holding) for slot in puzzle.slots]
        assert len(set(said)) == len(said) and all("  " not in words for words in said)
