"""A block of joined pieces under a hand: what it forbids is not turned, and the block is named."""

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.viewer.pack import labels_of
from oddswap.showing.viewer.widget import Viewer
from tests.browser.conftest import on_phone
from tests.browser.viewers import SHOWN, STILL, alone, spot

pytestmark = pytest.mark.browser

CUBE = load("cube:3,joined=UF-UFR")
BLOCKED = "the block of UF and UFR blocks R: stop, line it up, or go back a turn"
SOLVED, TURNED = (labels_of(CUBE, CUBE.follow(moves)) for moves in ("", "U R"))


def test_a_mouse_is_told_which_block_forbids_a_turn_and_turns_it_once_it_may(sheet, tmp_path):
    alone(sheet, Viewer(CUBE), tmp_path)
    sheet.mouse.click(*spot(sheet, CUBE, (1, 0, 0)))
    sheet.get_by_text(BLOCKED).first.wait_for()
    assert sheet.evaluate(SHOWN) == SOLVED
    for point in ((0, 1, 0), (1, 0, 0)):
        sheet.mouse.click(*spot(sheet, CUBE, point))
        sheet.wait_for_function(STILL)
    assert sheet.evaluate(SHOWN) == TURNED


def test_a_key_is_told_the_same(sheet, tmp_path):
    alone(sheet, Viewer(CUBE), tmp_path)
    sheet.locator(".oddswap-table").focus()
    sheet.keyboard.press("r")
    sheet.get_by_text(BLOCKED).first.wait_for()
    assert sheet.evaluate(SHOWN) == SOLVED


@on_phone
def test_a_finger_is_told_the_same(sheet, tmp_path):
    alone(sheet, Viewer(CUBE), tmp_path)
    for _ in range(2):
        sheet.touchscreen.tap(*spot(sheet, CUBE, (1, 0, 0)))
    sheet.get_by_text(BLOCKED).first.wait_for()
    assert sheet.evaluate(SHOWN) == SOLVED
