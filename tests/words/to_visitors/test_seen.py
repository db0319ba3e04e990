"""What looks wrong, said to whoever has the puzzle in their hands: by places and colours as they hold it."""

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.values.holding import START
from oddswap.words.reader import VISITOR, visitor
from oddswap.words.to_visitors.seen import seen_sentences
from tests.story.stories import told


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
