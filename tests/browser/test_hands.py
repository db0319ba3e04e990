"""The viewer under a finger, two fingers, a pen and a mouse, all by the browser's own input, on pages without a server."""

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.viewer.pack import labels_of
from oddswap.showing.viewer.widget import Viewer
from tests.browser.conftest import on_phone
from tests.browser.fingers import EYE, TOP, drag, touch
from tests.browser.viewers import SHOWN, STILL, WITHOUT_WEBGL, alone, spot

pytestmark = pytest.mark.browser

CUBE = load("cube:3")
SOLVED, TURNED = (labels_of(CUBE, CUBE.follow(moves)) for moves in ("", "U"))


@on_phone
def test_a_finger_that_rolls_taps_and_one_that_drags_does_not(sheet, tmp_path):
    alone(sheet, Viewer(CUBE), tmp_path)
    x, y = spot(sheet, CUBE, (0, 1, 0))
    eye = sheet.evaluate(EYE)
    rolls = [("Start", (x, y)), *(("Move", (x + aside, y)) for aside in (8, -8, 8, -8)), ("End",)]
    touch(sheet, *rolls)
    sheet.get_by_text("U would turn").wait_for()
    assert sheet.evaluate(EYE) == eye
    drag(sheet, (x, y), 20, 0)
    sheet.wait_for_function(f"eye => ({EYE})() !== eye", arg=eye)
    assert not sheet.get_by_text("U would turn").count()
    sheet.get_by_role("button", name="First view").tap()
    for shown in (SOLVED, TURNED):
        touch(sheet, *rolls)
        sheet.wait_for_function(STILL)
        assert sheet.evaluate(SHOWN) == shown


@on_phone
def test_a_second_finger_or_a_touch_broken_off_turns_nothing_and_is_forgotten(sheet, tmp_path):
    alone(sheet, Viewer(CUBE), tmp_path)
    middle, front = spot(sheet, CUBE, (0, 1, 0)), spot(sheet, CUBE, (0, 0, 1))
    sheet.touchscreen.tap(*middle)
    sheet.get_by_text("U would turn").wait_for()
    touch(sheet, ("Start", front), ("Start", front, middle), ("End",))
    touch(sheet, ("Start", middle), ("Cancel",))
    sheet.wait_for_function(STILL)
    assert sheet.evaluate(SHOWN) == SOLVED
    sheet.touchscreen.tap(*middle)
    sheet.wait_for_function(STILL)
    assert sheet.evaluate(SHOWN) == TURNED


@on_phone
def test_two_fingers_on_the_puzzle_enlarge_the_page(sheet, tmp_path):
    alone(sheet, Viewer(CUBE), tmp_path)
    x, y = spot(sheet, CUBE, (0, 1, 0))

    def pinch(*apart):
        fingers = [((x - far, y), (x + far, y)) for far in apart]
        touch(sheet, ("Start", fingers[0][0]), ("Start", *fingers[0]), *(("Move", *both) for both in fingers[1:]), ("End",))

    pinch(*range(10, 110, 10))
    sheet.wait_for_function("() => visualViewport.scale > 1.5")
    pinch(*range(100, 0, -10))
    sheet.wait_for_function("() => visualViewport.scale === 1")
    for shown in (SOLVED, TURNED):
        sheet.touchscreen.tap(x, y)
        sheet.wait_for_function(STILL)
        assert sheet.evaluate(SHOWN) == shown


def test_what_hovers_shows_beforehand_and_turns_at_once(sheet, tmp_path):
    """A mouse, and a pen that is felt above the screen; a pen that is not taps twice, as a finger does."""
    alone(sheet, Viewer(CUBE), tmp_path)
    x, y = spot(sheet, CUBE, (0, 1, 0))
    marked = sheet.get_by_text("U would turn")
    session = sheet.context.new_cdp_session(sheet)

    def pen(kind, x=x, y=y, **buttons):
        session.send("Input.dispatchMouseEvent", {"type": f"mouse{kind}", "x": x, "y": y, "pointerType": "pen", **buttons})

    def tap():
        pen("Pressed", button="left", buttons=1, clickCount=1)
        pen("Released", button="left", clickCount=1)
        sheet.wait_for_function(STILL)

    sheet.mouse.move(x, y)
    marked.wait_for()
    sheet.mouse.move(x, 700)
    marked.wait_for(state="detached")
    pen("Moved")
    marked.wait_for()
    tap()
    assert sheet.evaluate(SHOWN) == TURNED
    pen("Moved", y=700)
    tap()
    marked.wait_for()
    assert sheet.evaluate(SHOWN) == TURNED
    tap()
    assert sheet.evaluate(SHOWN) == labels_of(CUBE, CUBE.follow("U U"))


@on_phone
def test_a_still_picture_scrolls_under_a_finger(sheet, tmp_path):
    sheet.add_init_script(WITHOUT_WEBGL)
    viewer = Viewer(CUBE, size=600)
    viewer.picture = viewer.still()
    alone(sheet, viewer, tmp_path)
    picture = sheet.locator(".oddswap-viewer img")
    sheet.get_by_text("How to turn it").tap()
    top = sheet.evaluate(TOP)
    box = picture.bounding_box()
    drag(sheet, (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2), 0, -80)
    sheet.wait_for_function(f"top => ({TOP})() < top", arg=top)
