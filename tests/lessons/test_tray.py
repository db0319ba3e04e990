"""The tray: clicks slide what can slide, say why the rest cannot, and the law is told as Johnson and Story have it."""

import numpy as np
import pytest

from oddswap.errors import BadOption
from oddswap.lessons.tray import NOTHING, sliding_tray, swapped, tray_words
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.flat import HOLE
from oddswap.showing.pictures.strings import row_of
from oddswap.values.permutation import sign_by_cycles

EIGHT = load("tiles:3x3")


def click(tray, *slots):
    for slot in slots:
        tray.cells[tray.puzzle.slot(slot)].click()


def test_a_click_beside_the_blank_slides():
    tray = sliding_tray(EIGHT)
    click(tray, "r3c2", "r2c2")
    assert tray.state == EIGHT.follow("r3c2 r2c2")
    assert [cell.description for cell in tray.cells] == [word or NOTHING for word in row_of(EIGHT, tray.state)]
    assert [cell.style.button_color == HOLE for cell in tray.cells] == [word == "" for word in row_of(EIGHT, tray.state)]
    assert tray.words.startswith("2 slides, 0 swaps by hand. 6 crossings: even.")


def test_a_click_elsewhere_says_what_can_slide():
    tray = sliding_tray(EIGHT)
    click(tray, "r1c1")
    assert tray.state == EIGHT.solved and "Tile 1 is not beside the blank" in tray._words.value and "6 or 8" in tray._words.value
    click(tray, "r3c3")
    assert tray.state == EIGHT.solved
    click(tray, "r3c2")
    assert "not beside" not in tray._words.value


def test_the_law_is_that_of_the_books():
    """Johnson and Story, Amer. J. Math. 2 (1879) 397-404: sign, times the parity of the blank's taxicab distance."""
    tray, rng = sliding_tray(EIGHT), np.random.default_rng(3)
    places, swaps = EIGHT.flat.positions, 0
    for _ in range(60):
        if rng.integers(4) == 0:
            tray.swap.click()
            swaps += 1
        else:
            click(tray, EIGHT.slots[rng.integers(9)])
        at = tray.state.pieces.index(EIGHT.blank)
        distance = int(abs(places[at] - places[EIGHT.blank]).sum())
        lawful = sign_by_cycles(tray.state.pieces) == (-1) ** distance
        assert lawful == (swaps % 2 == 0)
        assert tray.words.endswith("Slides lead home." if lawful else "No slides lead home.")
        assert ("dark slot" in tray.words) == bool(distance % 2)


def test_starting_again_forgets_everything():
    tray = sliding_tray(EIGHT)
    click(tray, "r3c2", "r1c1")
    tray.swap.click()
    tray.again.click()
    assert repr(tray) == repr(sliding_tray(EIGHT)) and "not beside" not in tray._words.value


def test_two_tiles_are_swapped_wherever_they_lie():
    state = EIGHT.follow("r3c2 r2c2")
    assert row_of(EIGHT, swapped(EIGHT, state, "1", "8")) == ("8", "2", "3", "4", "", "6", "7", "5", "1")
    with pytest.raises(BadOption, match="no tile of tiles:3x3 bears"):
        sliding_tray(EIGHT, by_hand=("1", "9"))
    with pytest.raises(BadOption, match="bears"):
        swapped(EIGHT, state, "", "1")


def test_the_picture_follows():
    tray = sliding_tray(EIGHT)
    before = bytes(tray._picture.value)
    click(tray, "r3c2")
    assert before.startswith(b"\x89PNG") and bytes(tray._picture.value) != before


def test_words_for_a_position():
    state = swapped(EIGHT, EIGHT.solved, "7", "8")
    assert tray_words(EIGHT, state) == "1 crossing: odd. The blank is in a light slot. No slides lead home."
