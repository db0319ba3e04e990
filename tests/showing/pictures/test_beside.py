"""Pictures beside each other keep their size, do not overlap, and have their words beneath."""

import numpy as np
import pytest
from matplotlib.colors import to_hex

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.showing.ink.canvas import INCHES
from oddswap.showing.ink.flat import draw_flat, placed
from oddswap.showing.ink.palette import HIGHLIGHT, PAPER
from oddswap.showing.pictures.beside import (
    LIFTED,
    NUMBER,
    SEEN,
    draw_board_and_strings,
    draw_boards,
    draw_explanations,
    draw_lifted,
    draw_lifted_letters,
)
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


TRAY = load("tiles:3x3,letters=WORKSHOP")
BOTH = changed(TRAY, ["swap r2c2 r2c3", "swap r1c2 r3c1"])


def numbers(puzzle, figure):
    """The number that stands in each slot, where its letter is lifted."""
    spot, found = placed(puzzle.flat)[0], {}
    for text in figure.axes[0].texts:
        for slot, middle in zip(puzzle.slots, puzzle.flat.positions, strict=True):
            if np.allclose(text.get_position(), spot.place(middle + NUMBER)):
                found[slot] = text.get_text()
    return found


def bare(figure):
    """The edges of the pieces whose letters are lifted."""
    return [to_hex(c.get_edgecolor()[0]).upper() for c in figure.axes[0].collections if c.get_zorder() == 4]


@pytest.mark.parametrize(
    ("name", "changes", "beneath"),
    [
        ("tiles:3x3,letters=WORKSHOP", [], {"r1c2": "2", "r3c1": "7"}),
        ("tiles:3x3,letters=WORKSHOP", ["swap r1c2 r3c1"], {"r1c2": "7", "r3c1": "2"}),
        ("tiles:3x3,letters=WORKSHOP", ["cycle r1c1 r1c2 r3c1"], {"r3c1": "2", "r1c1": "7"}),
        ("loop:7,window=4,beads=abcdeff", ["swap 6 7"], {"6": "7", "7": "6"}),
        ("tiles:3x3", ["swap r1c1 r1c2"], {}),
    ],
)
def test_only_twins_are_lifted_and_the_number_is_that_of_their_own_slot(name, changes, beneath):
    puzzle = load(name)
    assert numbers(puzzle, draw_lifted(puzzle, changed(puzzle, changes))) == beneath


def test_a_lifted_piece_is_outlined_if_it_is_not_at_home():
    assert bare(draw_lifted(TRAY, BOTH)) == [HIGHLIGHT, HIGHLIGHT]
    assert HIGHLIGHT not in bare(draw_lifted(TRAY, changed(TRAY, ["swap r2c2 r2c3"])))
    assert len(bare(draw_lifted(TRAY, TRAY.solved))) == 2


def test_every_letter_is_still_there():
    """Lifted letters stand beside their numbers; the tray reads as before."""
    written = sorted(text.get_text() for text in draw_lifted(TRAY, BOTH).axes[0].texts if text.get_zorder() != 3.4)
    assert written == ["2", "7", "O", "O"]


def test_beside_it_stands_what_seems_so_with_what_seems_out_of_place():
    figure = draw_lifted_letters(TRAY, BOTH)
    seen, lifted = (next(ax for ax in figure.axes if ax.get_label() == words) for words in (SEEN, LIFTED))
    alone = draw_flat(TRAY, BOTH, letters=True, highlight=["r2c2", "r2c3"]).axes[0]

    def outlined(ax):
        return [to_hex(c.get_edgecolor()[0]).upper() == HIGHLIGHT for c in ax.collections if c.get_zorder() == 3.0]

    assert outlined(seen) == outlined(alone) and sum(outlined(seen)) == 2
    assert sum(outlined(lifted)) == 4


def test_the_explanations_of_one_appearance_read_the_same():
    found = diagnose(TRAY, TRAY.appearance(changed(TRAY, ["swap r2c2 r2c3"])))
    assert found.explanation == BOTH
    figure = draw_explanations(TRAY, {"one": found.first, "other": found.explanation})
    letters = [sorted(t.get_text() for t in ax.texts if t.get_text().isalpha()) for ax in figure.axes[:2]]
    assert letters[0] == letters[1]
    assert [to_hex(c.get_facecolor()[0]).upper() for c in figure.axes[0].collections if c.get_zorder() == 4] == [PAPER, PAPER]
