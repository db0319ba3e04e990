"""The workbench and the intake in JupyterLab: painting a known ticket, the keyboard alone, and everything on one screen."""

import pytest

from oddswap.puzzles.stickers import paints_of, stickers
from oddswap.tickets import parse_ticket
from tests.browser.viewers import notebook_with, said

pytestmark = pytest.mark.browser

BENCH = """from pathlib import Path
from oddswap.desk import workbench
from oddswap.tickets import read_ticket
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
    assert said(page, "bench.answer.verdict") == "'lookalike'"


def test_painting_a_known_ticket_gives_the_diagnosis_of_its_file(page, lab):
    """Sticker by sticker through the picker's message, as a click sends it; the clicks themselves are tested with the viewer."""
    text = 'puzzle = "cube:3"\\nafter = "R U"\\nchanges = ["flip DF"]'
    ticket = parse_ticket(text.replace("\\n", "\n"))
    table = stickers(ticket.puzzle)
    from oddswap.reasoning.lookalikes import first_sight

    colours = paints_of(ticket.puzzle, first_sight(ticket.puzzle, ticket.appearance)[0])
    strokes = [(ticket.puzzle.slots[slot], face, colour) for (slot, face), colour in zip(table.places, colours, strict=True)]
    cell = f"""from oddswap.desk import intake
from oddswap.reasoning.diagnosis import diagnose
from oddswap.tickets import parse_ticket
seen = intake(['cube:3'])
seen.way.value = 'Paint what I see'
seen.empty.click()
for slot, face, colour in {strokes!r}:
    seen.brush.value = (colour,)
    seen._pick({{'slot': slot, 'piece': slot, 'facet': face}})
told = parse_ticket({text.replace(chr(92) + 'n', chr(10))!r})
ours, theirs = (diagnose(told.puzzle, a) for a in (parse_ticket(seen.ticket_text).appearance, told.appearance))
seen
"""
    notebook_with(page, lab, cell)
    assert said(page, "[law.name for law in ours.broken] == [law.name for law in theirs.broken]") == "True"
    assert said(page, "ours.verdict == theirs.verdict") == "True"
    assert said(page, "ours.verdict") == "'not by turning'"
    assert page.get_by_text("So far: not by turning").count()


def test_the_keyboard_alone_makes_a_ticket(page, lab, tmp_path):
    notebook_with(page, lab, "from oddswap.desk import intake\nseen = intake(['cube:3', 'cube:2'])\nseen")
    page.get_by_role("button", name="cube of 2 slabs").focus()
    page.keyboard.press("Enter")
    page.get_by_label("cube of 2 slabs").first.wait_for()
    page.locator(".oddswap-table").focus()
    for key in ("r", "u"):
        page.keyboard.press(key)
    page.wait_for_timeout(700)
    assert said(page, "seen.viewer.moves") == "'R U'"
    page.screenshot(path=tmp_path / "keys.png")
    assert said(page, "'cube:2' in seen.ticket_text") == "True"
