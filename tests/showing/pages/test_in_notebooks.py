"""What IPython shows of values that a cell returns: pictures that decode, and the same words as `str`."""

import re
from base64 import b64decode
from html import escape
from io import BytesIO

import pytest
from IPython.core.formatters import DisplayFormatter
from PIL import Image

from oddswap.puzzles.catalogue import load
from oddswap.puzzles.made_up import puzzle
from oddswap.showing.pages import in_notebooks
from oddswap.values.position import Arrangement

CUBE, BOARD = load("cube:2"), load("tiles:3x3")


def shown(value) -> dict:
    return DisplayFormatter().format(value)[0]


@pytest.mark.parametrize("owner", [CUBE, BOARD, load("cuboid:2x2x4,turns=all")], ids=str)
@pytest.mark.parametrize("make", [lambda p: p, lambda p: p.solved, lambda p: p.appearance(p.solved)])
def test_puzzles_and_positions_are_pictures_with_the_title(owner, make):
    html = shown(make(owner))["text/html"]
    picture = Image.open(BytesIO(b64decode(re.search(r"base64,([^\"]+)", html)[1])))
    assert min(picture.size) > 100 and f">{escape(owner.title)}</pre>" in html


@pytest.mark.parametrize(
    "make", [lambda: CUBE.laws, lambda: CUBE.diagnose("R"), lambda: BOARD.diagnose("swap r1c1 r1c2"), lambda: CUBE.answer("R")]
)
def test_a_picture_stands_beside_the_words_of_str(make):
    value = make()
    data = shown(value)
    assert "<img" in data["text/html"] and escape(str(value)) in data["text/html"] and len(data["text/plain"]) < 100


@pytest.mark.parametrize("value", [CUBE.laws.laws[0], CUBE.find_way("R"), CUBE.answer("R").way_out], ids=repr)
def test_what_has_no_puzzle_is_its_words(value):
    assert shown(value)["text/html"] == in_notebooks.TEXT.format(escape(str(value)))


def test_what_is_too_big_or_cannot_be_loaded_is_left_to_its_text():
    big = load("cube:10")
    assert all(set(shown(value)) == {"text/plain"} for value in (big, big.solved, Arrangement("ring of two", (0, 1), (0, 0))))


def test_titles_are_text():
    html = shown(puzzle("<b>bold</b> & co", moves={"a": "(1 2 3)"}))["text/html"]
    assert "<b>" not in html and html.count("&lt;b&gt;bold") == 2
