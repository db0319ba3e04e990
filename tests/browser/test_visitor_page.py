"""The visitor's page, opened as a file on a phone without a network: told by touch, its postcard says what the ticket says.

The visitor is that of `tests.judge`: a heap of painted cells, which knows nothing of the package, and rows read off it.
"""

import io
import json
import random
import subprocess
import sys
from itertools import product

import numpy as np
import pytest
import tomli_w
from matplotlib.colors import CSS4_COLORS, to_rgb
from PIL import Image

from oddswap.describing.postcards import read_postcard, write_postcard
from oddswap.describing.stickers import stickers
from oddswap.describing.tickets import parse_ticket
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.pages.visitor_page import write_visitor_page
from tests.browser.conftest import coloured
from tests.browser.test_edition import TOO_WIDE, WITHOUT_FETCHING
from tests.judge.cells import AXES, HOLDINGS, box, direction, mixed
from tests.judge.visitor import painted_by, rows

pytestmark = pytest.mark.browser

PHONE = {"viewport": {"width": 360, "height": 740}, "has_touch": True, "is_mobile": True}
WIDE = {"viewport": {"width": 1280, "height": 800}}
on_phone = pytest.mark.parametrize("sheet", [PHONE], indirect=True, ids=["phone"])
SIDES = {"U": "top", "D": "bottom", "F": "front", "B": "back", "L": "left side", "R": "right side"}
SEEN_FIRST = "UFR"
STORED = (
    """async () => [localStorage.length, sessionStorage.length, document.cookie.length, (await indexedDB.databases()).length]"""
)
MODEL = "document.getElementById('viewer').oddswap.model"


def opened(sheet, tmp_path, name, none=True):
    puzzle = load(name)
    path = write_visitor_page([puzzle], tmp_path / "visitor.html")
    sheet.context.set_offline(True)
    sheet.goto(path.as_uri())
    sheet.wait_for_selector("body[data-ready]")
    if none:
        sheet.get_by_role("button", name="None of these").click()
    return puzzle


def spot(sheet, puzzle, point, behind):
    """Where on the screen a point (3,) in half-edges of the puzzle is."""
    sheet.locator("#viewer canvas").first.evaluate("canvas => canvas.scrollIntoView({ block: 'center' })")
    box_, camera = sheet.locator("#viewer canvas").first.bounding_box(), cameras(puzzle)[behind]
    x, y = camera.project(np.array(point)) / reach(puzzle) * 0.97
    return box_["x"] + box_["width"] * (1 + x) / 2, box_["y"] + box_["height"] * (1 - y) / 2


def places(layers):
    """Each face with the places of its cells, in steps of half a layer, and the middle of the sticker in half-edges."""
    for face, (axis, end) in AXES.items():
        for place in product(range(1 - layers, layers, 2), repeat=3):
            if place[axis] == end * (layers - 1):
                yield face, place, (np.array(place) + direction(face)) / layers


def answer_to(text):
    """What a fresh process says to a ticket or a postcard on standard input."""
    command = [sys.executable, "-m", "oddswap", "answer", "-", "--json", "--seconds", "20"]
    return json.loads(subprocess.run(command, input=text, capture_output=True, text=True, check=True).stdout)


@on_phone
@pytest.mark.parametrize("layers, seed, faces", [(3, 1, "UDFBLR"), (3, 2, "UFR"), (2, 3, "UDFBLR")])
def test_a_position_told_colour_by_colour_gives_the_verdict_of_the_ticket(sheet, tmp_path, layers, seed, faces):
    dice = random.Random(seed)
    copy = box((layers,) * 3)
    paint = painted_by(copy, dice)
    corner = np.array([[0, 0, 1], [1, 0, 0], [0, 1, 0]])
    held = mixed(copy.solved, ["R", "U", "F", "L", "B", "D"], 12, dice)
    held = held.moved(corner, lambda place: place == (layers - 1,) * 3).moved(dice.choice(HOLDINGS))
    puzzle = opened(sheet, tmp_path, f"cube:{layers}")
    sheet.locator("summary", has_text="colours").tap()
    for facet, side in SIDES.items():
        sheet.get_by_label(side, exact=True).fill(paint[facet])
        sheet.keyboard.press("Tab")
    seen = {(face, place): held.shown(place, face, paint) for face, place, _ in places(layers) if face in faces}
    for behind in (False, True) if len(faces) > 3 else (False,):
        if behind:
            sheet.get_by_role("button", name="Look from behind").tap()
        for colour in sorted(set(seen.values())):
            sheet.get_by_role("button", name=f"{colour} ").tap()
            for face, place, middle in places(layers):
                if (face in SEEN_FIRST) != behind and seen.get((face, place)) == colour:
                    sheet.touchscreen.tap(*spot(sheet, puzzle, middle, behind))
    assert judged_by_pixels(sheet, puzzle, layers, paint, faces[3:] != "") == {
        sticker: colour for sticker, colour in seen.items() if (sticker[0] in SEEN_FIRST) != (faces[3:] != "")
    }
    sheet.screenshot(path=tmp_path / "told.png", full_page=True)
    told = {face: {"rows": rows(held, paint, face)} for face in faces}
    ticket = {"puzzle": puzzle.name, "elsewhere": "turned", "colours": paint, "seen": told}
    line = sheet.locator("#line").input_value()
    assert line == write_postcard(parse_ticket(tomli_w.dumps(ticket)))
    by_ticket, by_card = answer_to(tomli_w.dumps(ticket)), answer_to(line)
    assert by_card == by_ticket
    assert (by_card["verdict"] == "not by turning") == (len(faces) > 3)
    assert ("interesting" in sheet.locator("#law").text_content()) == (len(faces) > 3)
    assert sheet.evaluate(STORED) == [0, 0, 0, 0]


def judged_by_pixels(sheet, puzzle, layers, paint, behind):
    """The colours of the stickers that the page shows now, each read off the screen as the nearest of the visitor's."""
    sheet.locator("#viewer").scroll_into_view_if_needed()
    sheet.wait_for_timeout(300)
    shot = np.array(Image.open(io.BytesIO(sheet.screenshot(scale="css"))).convert("RGB"))
    inks = {word: 255 * np.array(to_rgb(CSS4_COLORS[word])) for word in paint.values()}
    found = {}
    for face, place, middle in places(layers):
        if (face in SEEN_FIRST) == behind:
            continue
        x, y = spot(sheet, puzzle, middle, behind)
        pixel = shot[round(y), round(x)]
        found[face, place] = min(inks, key=lambda word: float(np.linalg.norm(inks[word] - pixel)))
    return found


@on_phone
def test_what_is_told_too_often_or_cannot_be_is_said_at_once(sheet, tmp_path):
    puzzle = opened(sheet, tmp_path, "cube:3")
    sheet.get_by_role("button", name="blue").first.tap()
    for point in ((0.67, 1, 0.67), (1, 0.67, 0.67)):
        sheet.touchscreen.tap(*spot(sheet, puzzle, point, False))
    assert "No piece of your puzzle" in sheet.locator("#check").text_content()
    assert sheet.evaluate(f"{MODEL}.get('highlight').length") == 1
    sheet.get_by_role("button", name="Undo").tap()
    assert "52 of 54" not in sheet.locator("#check").text_content()
    assert "53 of 54" in sheet.locator("#check").text_content()
    every = {f"{puzzle.slots[slot]}|{face}": "D" for slot, face in stickers(puzzle).places[:10]}
    sheet.evaluate(f"told => {MODEL}.set('told', told)", every)
    assert "has 9 stickers in" in sheet.locator("#check").text_content()


def random_faces(puzzle, dice):
    """Stickers of some arrangement, some of them unseen, as rows, and as the page holds them."""
    image = puzzle.permutation(puzzle.solved)
    for _ in range(dice.randrange(15)):
        image = puzzle.generators[dice.randrange(len(puzzle.generators))][image]
    state = puzzle.arrangement(image)
    table, told = stickers(puzzle), {}
    for (slot, face), label in ((place, place[0]) for place in table.places):
        piece = puzzle.base_label[state.pieces[label]] + state.twists[label]
        at = puzzle.slots[slot].partition(".")[0].index(face)
        if dice.random() < dice.choice((0.3, 1)):
            told[f"{puzzle.slots[slot]}|{face}"] = table.shown[slot, int(piece)][at]
    read = {
        face: {"rows": [" ".join(told.get(f"{puzzle.slots[table.places[n][0]]}|{face}", "?") for n in row) for row in grid]}
        for face, grid in table.grid.items()
    }
    return told, read


@pytest.mark.parametrize("name", ["cube:2", "cube:3,centres=marked", "cuboid:2x3x4", "cuboid:3x3x4", "cube:3,centres=none"])
def test_the_page_writes_the_postcard_that_python_writes(sheet, tmp_path, name):
    puzzle, dice = opened(sheet, tmp_path, name), random.Random(name)
    paints = sorted(set(puzzle.geometry.paints.values()))
    words = dict(zip(paints, dice.sample(["gold", "teal", "#0a1b2c", "Weiß", "mint green", "navy"], len(paints)), strict=True))
    sheet.locator("summary", has_text="colours").click()
    for paint, word in words.items():
        sheet.get_by_label(SIDES[paint], exact=True).fill(word)
        sheet.keyboard.press("Tab")
    for _ in range(12):
        told, read = random_faces(puzzle, dice)
        if not told:
            continue
        sheet.evaluate(f"told => {MODEL}.set('told', told)", told)
        ticket = {"puzzle": name, "colours": {f: words[p] for f, p in puzzle.geometry.paints.items()}, "seen": read}
        if sheet.locator("#copy option").count() > 1 and dice.random() < 0.5:
            sheet.select_option("#copy", index=1)
            ticket["copy"] = "half"
        else:
            sheet.evaluate(
                "document.getElementById('copy').value = 0; document.getElementById('copy').dispatchEvent(new Event('change'))"
            )
        assert sheet.locator("#line").input_value() == write_postcard(parse_ticket(tomli_w.dumps(ticket)))


@on_phone
@pytest.mark.parametrize("name", ["shape-mod:prism8", "tiles:4x4", "tetrahedron", "dodecahedron", "rings:7+7,cross=2"])
def test_a_usual_sight_is_a_postcard_at_one_touch(sheet, tmp_path, name):
    puzzle = opened(sheet, tmp_path, name, none=False)
    cards = sheet.locator("#usual .sheet button")
    for number in range(min(cards.count(), 3)):
        cards.nth(number).tap()
        line = sheet.locator("#line").input_value()
        ticket = read_postcard(line)
        assert ticket.puzzle.name == name and write_postcard(ticket) == line
        verdicts = {alarm.verdict: alarm for alarm in puzzle.alarms}
        looks = [puzzle.appearance(puzzle.solved).sights[b] != sight for b, sight in enumerate(ticket.appearance.sights)]
        assert ticket.appearance.complete and 1 <= sum(looks) <= 2
        assert puzzle.diagnose(ticket.appearance).verdict in verdicts
        sheet.get_by_role("button", name="Back").tap()


@pytest.mark.parametrize("sheet", [PHONE, WIDE], indirect=True, ids=["phone", "desk"])
def test_every_state_of_the_page_for_an_unknown_puzzle_fits_and_is_accessible(sheet, tmp_path):
    from axe_playwright_python.sync_playwright import Axe

    path = write_visitor_page(map(load, ("cube:3", "shape-mod:prism8", "tiles:4x4")), tmp_path / "v.html", "https://x.example/v")
    assert path.stat().st_size <= 250_000

    def examine(state):
        for scheme in ("light", "dark"):
            coloured(sheet, scheme)
            assert sheet.evaluate(TOO_WIDE) <= 0, state
            sheet.screenshot(path=tmp_path / f"{state}_{scheme}.png", full_page=True)
            minded = Axe().run(sheet, options=WITHOUT_FETCHING).response["violations"]
            assert not [(rule["id"], [node["html"][:90] for node in rule["nodes"]][:3]) for rule in minded], (state, scheme)
        small = """[...document.querySelectorAll('main button, main select, main input, main summary')].filter(e => e.offsetParent
            && Math.min(e.offsetWidth, e.offsetHeight) < 44).map(e => e.outerHTML)"""
        assert sheet.evaluate(small) == [], state

    sheet.goto(path.as_uri())
    sheet.wait_for_selector("body[data-ready]")
    examine("which")
    for number in range(3):
        sheet.locator("#which .sheet button").nth(number).click()
        examine(f"usual_{number}")
        sheet.get_by_role("button", name="None of these").click()
        sheet.locator("summary", has_text="colours").evaluate("one => one.parentElement.open = true")
        examine(f"tell_{number}")
        sheet.get_by_role("button", name="Back").click()
        sheet.get_by_role("button", name="Back").click()
    assert "may log" in sheet.locator("#code").text_content()
