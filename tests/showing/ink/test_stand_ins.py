"""Colours in the visitor's own words."""

import pytest
from matplotlib.colors import CSS4_COLORS

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.flat import colours_by_paint
from oddswap.showing.ink.palette import CLOSE, PALETTE, difference, read_colour
from oddswap.showing.ink.stand_ins import drawn_otherwise, stand_ins


@pytest.mark.parametrize(
    "colours, drawn, said",
    [
        ({"U": "white", "F": "#00ff00"}, {"U": "white", "F": "#00ff00"}, 0),
        ({"F": "mint green", "U": "white"}, {"F": "green", "U": "white"}, 1),
        ({"F": "Red-ish"}, {"F": "red"}, 1),
        ({"F": "mint green", "U": "green"}, {"U": "green"}, 1),
        ({"F": "pale green thing", "U": "dark green thing"}, {"F": "green"}, 2),
        ({"F": "like a plum's skin"}, {"F": "plum"} if "plum" in CSS4_COLORS else {}, 1),
        ({"F": "<b>", "U": "12", "R": "#12"}, {}, 3),
    ],
)
def test_a_word_that_no_screen_knows_gives_way_and_it_is_said(colours, drawn, said):
    found, sentences = stand_ins(colours), drawn_otherwise(load("cube:3"), colours)
    assert found == drawn and len(sentences) == said
    assert all(any(word in sentence for sentence in sentences) for facet, word in colours.items() if found.get(facet) != word)


def test_no_two_facets_are_drawn_nearly_alike_through_a_stand_in():
    found = stand_ins({"U": "sort of crimson", "F": "sort of red", "R": "kind of firebrick", "L": "kind of blue"})
    colours = [read_colour(word) for word in found.values()]
    assert all(difference(one, other) >= CLOSE for i, one in enumerate(colours) for other in colours[:i]) and len(colours) > 1


def test_whatever_the_words_a_stand_in_is_named_as_it_is_drawn():
    """A side of a cube that is called lemon, of rings and of tiles: the name that is said is that of the ink."""
    for name, side in (("cube:3", "R"), ("rings:7+7,cross=2,beads=6+6", "a"), ("tiles:3x3", "row 1")):
        (said,) = drawn_otherwise(puzzle := load(name), {side: "lemon peel"})
        assert said.startswith("lemon peel is drawn in ") and PALETTE[said.partition(" in ")[2]] == colours_by_paint(puzzle)[side]
