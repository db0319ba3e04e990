"""Telling by touch what is seen: sticker by sticker in a colour, or piece by piece; the browser's model holds what was told."""

import pytest

from oddswap.showing.viewer.widget import Viewer
from tests.browser.conftest import on_phone
from tests.browser.viewers import alone, spot

pytestmark = pytest.mark.browser

HELD = "name => document.querySelector('.oddswap-viewer').parentElement.oddswap.model.get(name)"


def opened(sheet, tmp_path, name, mode, **held):
    viewer = Viewer(name)
    viewer.mode = mode
    for trait, value in held.items():
        setattr(viewer, trait, value)
    alone(sheet, viewer, tmp_path)
    return viewer.puzzle


@on_phone
def test_a_finger_paints_a_sticker_and_a_second_touch_takes_the_paint_off(sheet, tmp_path):
    cube = opened(sheet, tmp_path, "cube:3", "paint", brush="L")
    middle, beside = spot(sheet, cube, (0, 1, 0)), spot(sheet, cube, (0.67, 1, 0))
    sheet.touchscreen.tap(*middle)
    sheet.touchscreen.tap(*beside)
    sheet.wait_for_function(f"() => Object.keys(({HELD})('told')).length === 2")
    assert sheet.evaluate(HELD, "told") == {"U|U": "L", "UR|U": "L"}
    sheet.touchscreen.tap(*middle)
    sheet.wait_for_function(f"() => Object.keys(({HELD})('told')).length === 1")
    sheet.get_by_role("button", name="Undo").tap()
    sheet.wait_for_function(f"() => Object.keys(({HELD})('told')).length === 2")


@on_phone
def test_fingers_exchange_pieces_twist_one_and_cover_one(sheet, tmp_path):
    cube = opened(sheet, tmp_path, "cube:3", "swap")
    one, other = spot(sheet, cube, (1, 0, 1)), spot(sheet, cube, (0, 1, 1))
    sheet.touchscreen.tap(*one)
    sheet.wait_for_function(f"() => ({HELD})('highlight').length === 1")
    sheet.touchscreen.tap(*other)
    sheet.wait_for_function(f"() => ({HELD})('highlight').length === 0")
    pieces = cube.arrangement(sheet.evaluate(HELD, "labels")).pieces
    assert {cube.slots[b] for b, p in enumerate(pieces) if p != b} == {"FR", "UF"}
    for mode, at in (("twist", (1, 1, 1)), ("cover", (0, 0, 1))):
        sheet.evaluate("mode => document.querySelector('.oddswap-viewer').parentElement.oddswap.model.set('mode', mode)", mode)
        sheet.touchscreen.tap(*spot(sheet, cube, at))
    sheet.wait_for_function(f"() => ({HELD})('covered').length === 1")
    twists = cube.arrangement(sheet.evaluate(HELD, "labels")).twists
    assert twists[cube.slot("UFR")] == 1 and sheet.evaluate(HELD, "covered") == ["F"]


def test_keys_paint_and_no_slot_is_named(sheet, tmp_path):
    cube = opened(sheet, tmp_path, "cube:2", "paint", brush="F", names={"F": "gold", "side U": "top"})
    sheet.locator(".oddswap-table").focus()
    for key in (".", "Enter", ".", "Enter"):
        sheet.keyboard.press(key)
    sheet.wait_for_function(f"() => Object.keys(({HELD})('told')).length === 2")
    said = sheet.locator(".oddswap-viewer [aria-live]").text_content()
    assert said.endswith("gold") and not any(slot in said for slot in cube.slots)
