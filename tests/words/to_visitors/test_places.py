"""Places in words, by what hands feel: no slot is without words, on a box of any size and in any holding."""

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.values.position import START
from oddswap.words.table import VISITOR, visitor
from oddswap.words.to_visitors.places import place_words, seen_sentences
from tests.story.stories import told


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


def test_what_is_seen_is_told_place_by_place_where_it_is_little():
    assert seen_sentences(told("slip").puzzle, told("slip").appearance, VISITOR) == (
        "Where the top front edge belongs, you see the top right edge.",
        "Where the top right edge belongs, you see the top front edge.",
        "Everything else looks right.",
    )


def test_pieces_are_named_by_colours_and_places_by_the_holding():
    """Held with what was at the right in front: y turns R to F, and F to L."""
    cube = load("cube:3")
    colours = dict(zip("UDFBLR", "white gold red pink teal navy".split(), strict=True))
    said = seen_sentences(cube, told("slip").appearance, visitor(cube, colours, START.turned("y")))
    assert said[0] == "Where the top left edge belongs, you see the navy and white edge."


def test_ways_round_are_told_in_words():
    cube = load("cube:3,centres=marked")
    seen = cube.appearance(changed(cube, ["turn F cw", "turn U half", "twist UFR ccw", "twist UFL cw"]))
    text = " ".join(seen_sentences(cube, seen, VISITOR)).lower()
    for words in (
        "the middle block on the front side is at home, but turned clockwise",
        "top side is at home, but turned by half",
    ):
        assert words in text
    assert "top front right corner is at home, but twisted anticlockwise" in text
    assert "top front left corner is at home, but twisted clockwise" in text


@pytest.mark.parametrize(("moves", "words"), [("R", "Eight of 26 places"), ("R U F B L D", "It is well mixed")])
def test_much_is_told_in_numbers(moves, words):
    cube = load("cube:3")
    assert words in seen_sentences(cube, cube.appearance(cube.follow(moves)), VISITOR)[0]
