"""The workbench and the intake in JupyterLab: painting a known ticket, the keyboard alone, and everything on one screen."""

from ast import literal_eval
from collections import defaultdict

import numpy as np
import pytest

from oddswap.describing.stickers import paints_of, stickers
from oddswap.describing.tickets import parse_ticket
from oddswap.reasoning.laws.lookalikes import first_sight
from oddswap.reasoning.verdicts.diagnosis import diagnose
from tests.browser.viewers import comes_to_say, notebook_with, said, spot

pytestmark = pytest.mark.browser

AXES = dict(zip("RUFLDB", np.vstack([np.eye(3), -np.eye(3)]), strict=True))

BENCH = """from pathlib import Path
from oddswap.desk.repair_table import workbench
from oddswap.describing.reading import read_ticket
bench = workbench([read_ticket(path) for path in sorted(Path('tickets').glob('0[4-7]*.toml'))], ['cube:3', 'cube:2'])
bench
"""


def test_everything_is_on_one_screen_and_a_way_out_is_walked(page, lab, tmp_path):
    notebook_with(page, lab, BENCH)
    page.evaluate("document.querySelector('.jp-OutputArea').scrollIntoView()")
    page.get_by_text("So far: lookalike").wait_for()
    page.screenshot(path=tmp_path / "bench.png")
    page.get_by_role("button", name="Find a way out").click()
    page.locator(".oddswap-strip li").nth(11).wait_for(state="attached")
    page.get_by_text("12 turns, proved shortest").first.wait_for(state="attached")
    page.screenshot(path=tmp_path / "found.png")
    boxes = [page.locator(s).first.bounding_box() for s in (".oddswap-table", ".oddswap-answer", ".oddswap-strip")]
    assert min(box["y"] for box in boxes) >= 0 and max(box["y"] for box in boxes) < 800
    comes_to_say(page, "bench.answer.verdict", "'lookalike'")


def test_painting_a_known_ticket_gives_the_diagnosis_of_its_file(page, lab):
    """Sticker by sticker, colour by colour, with the mouse: the two prints together show all of them."""
    ticket = parse_ticket('puzzle = "cube:3"\nafter = "R U"\nchanges = ["flip DF"]')
    puzzle, expected = ticket.puzzle, diagnose(ticket.puzzle, ticket.appearance)
    notebook_with(page, lab, "from oddswap.desk.repair_table import intake\nseen = intake(['cube:3'])\nseen")
    for name in ("Paint what I see", "Nothing seen yet"):
        page.get_by_role("button", name=name).click()
    page.locator(".oddswap-table").scroll_into_view_if_needed()
    places, painted = defaultdict(list), 0
    for place, colour in zip(stickers(puzzle).places, paints_of(puzzle, first_sight(puzzle, ticket.appearance)[0]), strict=True):
        places[colour].append(place)
    for colour, ours in places.items():
        page.get_by_role("button", name=colour, exact=True).click()
        for slot, face in ours:
            point = 2 / 3 * sum(AXES[letter] for letter in puzzle.slots[slot]) + AXES[face] / 3
            page.mouse.click(*spot(page, puzzle, point, int(face not in "UFR")))
        painted += len(ours)
        comes_to_say(page, "len(seen.sketch.painted)", str(painted))
    told = parse_ticket(literal_eval(said(page, "seen.ticket_text")))
    found = diagnose(told.puzzle, told.appearance)
    assert found.verdict == expected.verdict == "not by turning"
    assert [law.name for law in found.broken] == [law.name for law in expected.broken]
    page.get_by_text("So far: not by turning").wait_for()


def test_the_keyboard_alone_makes_a_ticket(page, lab, tmp_path):
    notebook_with(page, lab, "from oddswap.desk.repair_table import intake\nseen = intake(['cube:3', 'cube:2'])\nseen")
    page.get_by_role("button", name="cube of 2 slabs").focus()
    page.keyboard.press("Enter")
    page.get_by_label("cube of 2 slabs").first.wait_for()
    page.locator(".oddswap-table").focus()
    for key in ("r", "u"):
        page.keyboard.press(key)
    comes_to_say(page, "seen.viewer.moves", "'R U'")
    page.screenshot(path=tmp_path / "keys.png")
    comes_to_say(page, "'cube:2' in seen.ticket_text", "True")
