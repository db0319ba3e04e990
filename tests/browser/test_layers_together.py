"""Layers that a block joins, under a hand: a point or a key turns them together where one of them alone is blocked."""

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.viewer.pack import labels_of
from oddswap.showing.viewer.widget import Viewer
from tests.browser.viewers import SHOWN, STILL, alone, spot

pytestmark = pytest.mark.browser

CUBE = load("cube:4,joined=UF.r2-F.u2r2")
SOLVED, TOGETHER = (labels_of(CUBE, CUBE.follow(moves)) for moves in ("", "Uw"))


def test_a_mouse_turns_the_layers_together_that_a_block_joins(sheet, tmp_path):
    alone(sheet, Viewer(CUBE), tmp_path)
    sheet.mouse.click(*spot(sheet, CUBE, (0.25, 1, 0.25)))
    sheet.wait_for_function(STILL)
    assert sheet.evaluate(SHOWN) == TOGETHER


def test_keys_turn_them_by_w_and_the_letter_and_the_letter_alone_is_told_the_block(sheet, tmp_path):
    alone(sheet, Viewer(CUBE), tmp_path)
    sheet.locator(".oddswap-table").focus()
    sheet.keyboard.press("u")
    sheet.get_by_text("the block of UF.r2 and F.u2r2 blocks U").first.wait_for()
    assert sheet.evaluate(SHOWN) == SOLVED
    for key in "wu":
        sheet.keyboard.press(key)
    sheet.wait_for_function(STILL)
    assert sheet.evaluate(SHOWN) == TOGETHER
