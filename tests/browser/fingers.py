"""Fingers on a page, by the browser's own input, and what a viewer does under them wherever it is shown."""

from oddswap.showing.viewer.pack import labels_of
from tests.browser.viewers import SHOWN, STILL, spot

EYE = """() => {
    const { bearing, height } = document.querySelector('.oddswap-viewer').parentElement.oddswap;
    return `${bearing} ${height}`;
}"""
TOP = "() => document.querySelector('.oddswap-viewer').getBoundingClientRect().top"


def touch(page, *steps):
    """Touch events one after the other: each step is its kind and the points (x, y) of the fingers, in the order they came; or
    a rest, and how many milliseconds it lasts.
    """
    session = page.context.new_cdp_session(page)
    for kind, *points in steps:
        if kind == "Rest":
            page.wait_for_timeout(points[0])
            continue
        touches = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(points)]
        session.send("Input.dispatchTouchEvent", {"type": f"touch{kind}", "touchPoints": touches})
    session.detach()


def drag(page, start, across, down):
    """One finger put down at ``start``, moved by so many pixels in ten steps, held still, and lifted.

    A finger that is lifted in motion throws the page, and the browser takes the next tap for one that stops it.
    """
    (x, y), steps = start, [k / 10 for k in range(1, 11)]
    moves = [("Move", (x + k * across, y + k * down)) for k in steps]
    touch(page, ("Start", start), *moves, ("Rest", 200), moves[-1], ("End",), ("Rest", 300))


def turns_under_a_finger(page, puzzle, start):
    """On the puzzle a drag looks round, one tap marks a layer, and a second one turns it; beside the puzzle a drag scrolls."""
    page.evaluate("document.querySelector('.oddswap-viewer').scrollIntoView()")  # its buttons below it are seen, too
    page.wait_for_timeout(300)
    top, eye = page.evaluate(TOP), page.evaluate(EYE)
    middle = spot(page, puzzle, (0, 1, 0))
    drag(page, middle, 30, -80)
    page.wait_for_function(f"eye => ({EYE})() !== eye", arg=eye)
    assert page.evaluate(TOP) == top and page.evaluate(SHOWN) == labels_of(puzzle, start)
    for _ in range(5):  # a tap right after a drag is not always taken for one
        page.get_by_role("button", name="First view").tap()
        page.wait_for_timeout(400)
        if page.evaluate(EYE) == eye:
            break
    page.wait_for_function(f"eye => ({EYE})() === eye", arg=eye)
    page.touchscreen.tap(*middle)
    page.get_by_text("U would turn").wait_for()
    assert page.evaluate(SHOWN) == labels_of(puzzle, start)
    page.touchscreen.tap(*middle)
    page.wait_for_function(STILL)
    assert page.evaluate(SHOWN) == labels_of(puzzle, puzzle.follow("U", start))
    canvas = page.locator(".oddswap-viewer canvas").first.bounding_box()
    drag(page, (canvas["x"] - 3, canvas["y"] + canvas["height"] / 2), 0, -60)
    page.wait_for_function(f"top => ({TOP})() < top", arg=top)
    assert page.evaluate(SHOWN) == labels_of(puzzle, puzzle.follow("U", start))
