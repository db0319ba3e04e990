"""Wedges that lock under a hand: a layer turns by a tap, and a half turn that a wedge forbids is refused with its name."""

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.viewer.pack import labels_of
from oddswap.showing.viewer.widget import Viewer
from tests.browser.viewers import SHOWN, STILL, alone, spot

pytestmark = pytest.mark.browser

LOCKED = load("wedges:12")
BLOCKED = "the wedge at U12-1 blocks /: stop, line it up, or go back a turn"


def test_a_half_turn_is_refused_with_the_wedge_that_forbids_it_and_made_once_it_may(sheet, tmp_path):
    alone(sheet, Viewer(LOCKED, LOCKED.follow("(2,0)")), tmp_path)
    sheet.locator(".oddswap-table").focus()
    sheet.keyboard.press("/")
    sheet.get_by_text(BLOCKED).first.wait_for()
    assert sheet.evaluate(SHOWN) == labels_of(LOCKED, LOCKED.follow("(2,0)"))
    sheet.mouse.click(*spot(sheet, LOCKED, (0, 1, 0)))
    sheet.wait_for_function(STILL)
    assert sheet.evaluate(SHOWN) == labels_of(LOCKED, LOCKED.follow("(3,0)"))
    sheet.locator(".oddswap-table").focus()
    sheet.keyboard.press("/")
    sheet.wait_for_function(STILL)
    assert sheet.evaluate(SHOWN) == labels_of(LOCKED, LOCKED.follow("(3,0) /"))
