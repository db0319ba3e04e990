"""What is painted or covered on a sketch lands on the pieces that are there now, wherever they belong."""

from oddswap.desk.inked import inked
from oddswap.desk.sketch import Sketch
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.palette import UNKNOWN, colours_for

CUBE = load("cube:3")
INKS = colours_for(CUBE, {})


def test_covered_slots_hide_every_sticker_of_the_piece_that_sits_there():
    turned = Sketch(CUBE, CUBE.follow("R")).cover(["UFR"])
    shown, words = inked(turned, INKS)
    assert shown == dict.fromkeys([("DFR", "D"), ("DFR", "F"), ("DFR", "R")], UNKNOWN)
    assert words == dict.fromkeys(shown, "?")


def test_paint_lands_on_the_sticker_that_shows_there_after_turning():
    sketch = Sketch(CUBE, CUBE.follow("R")).paint("UFR", "U", ("B",)).paint("UFR", "R", ("L", "D"))
    shown, words = inked(sketch, INKS)
    assert shown == {("DFR", "F"): INKS["B"], ("DFR", "R"): UNKNOWN} and words == {("DFR", "R"): "D/L"}


def test_paint_wins_over_a_cover():
    sketch = Sketch(CUBE, CUBE.solved).cover(["UF"]).paint("UF", "U", ("R",))
    shown, words = inked(sketch, INKS)
    assert shown == {("UF", "U"): INKS["R"], ("UF", "F"): UNKNOWN} and words == {("UF", "F"): "?"}


def test_pieces_without_facets_are_hidden_whole_and_a_blank_is_nobodys():
    tiles = load("tiles:2x3")
    shown, words = inked(Sketch(tiles, tiles.solved).cover(["r1c1", "r2c3"]), {})
    assert shown == {"r1c1": UNKNOWN} and words == {"r1c1": "?"}
