"""Pictures beside each other keep their size, do not overlap, and have their words beneath."""

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.canvas import INCHES
from oddswap.showing.ink.flat import draw_flat
from oddswap.showing.pictures.beside import draw_board_and_strings, draw_boards
from oddswap.showing.pictures.strings import board_strings

BOARD = load("tiles:3x3")


def boxes(figure):
    return {ax.get_label(): ax.get_position() for ax in figure.axes}


def test_each_picture_is_as_large_as_alone():
    drawn = {"as it lies": draw_flat, "its strings": board_strings}
    figure = draw_board_and_strings(BOARD, BOARD.solved)
    width, height = figure.get_size_inches()
    for words, draw in drawn.items():
        box, alone = boxes(figure)[words], draw(BOARD, BOARD.solved)
        assert (box.width * width, box.height * height) == pytest.approx(tuple(alone.get_size_inches()))
    assert boxes(figure)["as it lies"].x1 == pytest.approx(boxes(figure)["its strings"].x0)


def test_words_stand_beneath_the_middle_of_their_picture():
    figure = draw_boards({"one": (BOARD, BOARD.solved), "other": (BOARD, BOARD.follow("r3c2"))})
    page = next(ax for ax in figure.axes if ax.get_label() == "words")
    for text in page.texts:
        box = boxes(figure)[text.get_text()]
        x, y = (at / size for at, size in zip(text.get_position(), figure.get_size_inches() / INCHES, strict=True))
        assert x == pytest.approx((box.x0 + box.x1) / 2) and y < box.y0


def test_an_outlined_slot_is_outlined_on_each():
    plain, marked = (draw_boards({"a": (BOARD, BOARD.solved), "b": (BOARD, BOARD.solved)}, highlight=h) for h in ((), ["r1c1"]))
    alone = draw_flat(BOARD, BOARD.solved, highlight=["r1c1"])

    def edges(ax):
        return [tuple(c.get_edgecolor()[0]) for c in ax.collections if len(c.get_edgecolor())]

    for ax in marked.axes[:2]:
        assert edges(ax) == edges(alone.axes[0])
    assert edges(plain.axes[0]) != edges(alone.axes[0])
