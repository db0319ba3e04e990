"""The page to send back, opened as a file: it steps through the way out, and asks nothing of anybody.

Each test leaves screenshots in its own temporary folder; `--basetemp DIR` keeps them.
"""

import pytest

from oddswap.describing.tickets import parse_ticket
from oddswap.reasoning.answers import answer
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.pages.folders import write_answer
from oddswap.words.answers import CHECK_HERE, CHECKED
from oddswap.words.table import reader_of
from tests.browser.conftest import coloured, on_phone
from tests.browser.fingers import turns_under_a_finger
from tests.browser.viewers import SHOWN, STILL, WITHOUT_WEBGL

pytestmark = pytest.mark.browser

TICKET = """
puzzle = "shape-mod:prism8"
note = "<script>document.title = 'taken over'</script> from somebody"
[slots]
UF = "UF flipped"
[colours]
U = "white"
F = "mint <b>green</b>"
"""


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    folder = tmp_path_factory.mktemp("answer")
    ticket = parse_ticket(TICKET)
    found = answer(ticket.puzzle, ticket.appearance)
    write_answer(found, folder, reader_of(ticket))
    return found, folder / "answer.html"


def test_it_steps_through_the_way_out_without_a_server(sheet, written, tmp_path):
    found, path = written
    assert path.stat().st_size < 500_000
    sheet.goto(path.as_uri())
    sheet.wait_for_selector(".oddswap-strip button")
    sheet.wait_for_timeout(500)
    sheet.screenshot(path=tmp_path / "start.png")
    frames = sheet.locator(".oddswap-strip button")
    assert frames.count() == found.way_out.length + 1
    frames.nth(0).click()
    frames.nth(2).click()
    frames.nth(2).focus()
    for _ in range(found.way_out.length - 2):
        sheet.keyboard.press("ArrowRight")
    sheet.wait_for_function(STILL)
    puzzle = found.turning
    assert looks_solved(puzzle, puzzle.appearance(puzzle.arrangement(sheet.evaluate(SHOWN))))
    assert frames.last.get_attribute("aria-current") == "step"
    sheet.get_by_role("button", name="X-ray").click()
    sheet.set_viewport_size({"width": 390, "height": 844})
    coloured(sheet, "dark")
    sheet.screenshot(path=tmp_path / "phone.png", full_page=True)
    assert sheet.evaluate("document.documentElement.scrollWidth") <= 390
    assert sheet.get_by_text("it does not come right, stop").is_visible()


@on_phone
def test_a_finger_turns_a_layer(sheet, written):
    found, path = written
    sheet.goto(path.as_uri())
    sheet.locator(".oddswap-viewer[data-first]").scroll_into_view_if_needed()
    turns_under_a_finger(sheet, found.turning, found.diagnosis.explanation)


WORDS = """() => [...document.querySelectorAll('.prints figure, .oddswap-table figure')].map(figure => {
    const words = figure.querySelector('figcaption'), { left, right } = figure.getBoundingClientRect();
    return [words.textContent, parseFloat(getComputedStyle(words).fontSize), left >= 0 && right <= innerWidth, right - left];
})"""
"""Of each print: its words, how large they are, whether it lies within the page, and its breadth."""


@pytest.mark.parametrize("width", [360, 1280])
def test_each_print_of_a_page_without_a_viewer_is_a_picture_of_its_own(sheet, tmp_path, width):
    """Half seen, as somebody holds it upside down: where it lies, and where to stand; on a phone the prints wrap."""
    ticket = parse_ticket('puzzle = "cube:3"\nheld = "D up, F in front"\nslots = { UF = "UR", UR = "UF", UFL = "?", UBL = "?" }')
    found = answer(ticket.puzzle, ticket.appearance)
    write_answer(found, tmp_path, reader_of(ticket))
    sheet.set_viewport_size({"width": width, "height": 740})
    sheet.goto((tmp_path / "answer.html").as_uri())
    words, sizes, within, breadths = zip(*sheet.evaluate(WORDS), strict=True)
    assert len(words) == 4 and words[2:] == ("stand here", "what the photograph will show") and all(words) and all(within)
    assert min(sizes) >= 13 and min(breadths) >= 300
    assert sheet.evaluate("[...document.images].every(one => one.naturalWidth === one.naturalHeight && one.alt)")


def test_without_webgl_the_prints_of_the_page_stay(sheet, written):
    sheet.add_init_script(WITHOUT_WEBGL)
    sheet.set_viewport_size({"width": 360, "height": 740})
    sheet.goto(written[1].as_uri())
    sheet.get_by_text("This browser draws no solids").wait_for()
    words, sizes, within, breadths = zip(*sheet.evaluate(WORDS), strict=True)
    assert len(words) > 1 and all(words) and all(within) and min(sizes) >= 13 and min(breadths) >= 300
    assert sheet.locator(".oddswap-strip button").count() == written[0].way_out.length + 1


def test_what_the_ticket_says_stays_out_or_stays_text(sheet, written):
    sheet.goto(written[1].as_uri())
    sheet.wait_for_selector(".oddswap-viewer")
    assert "taken over" not in sheet.title() and "somebody" not in sheet.content()
    assert sheet.evaluate("document.querySelectorAll('body > :not(div):not(p):not(h1):not(h2):not(ul):not(script)').length") == 0


def test_a_law_that_is_broken_stays_so_however_one_turns(sheet, tmp_path):
    """Two edges exchanged on a cube of three layers: the page weighs the law itself after each turn."""
    ticket = parse_ticket('puzzle = "cube:3"\nchanges = ["swap UF UB"]')
    write_answer(answer(ticket.puzzle, ticket.appearance), tmp_path, reader_of(ticket))
    sheet.goto((tmp_path / "answer.html").as_uri())
    sheet.wait_for_selector(".oddswap-viewer[data-first]")
    sentence = "Whatever moves you make, this stays broken: The corners and the edges always need both an odd"
    assert sheet.get_by_role("status").inner_text().startswith(sentence)
    before = sheet.evaluate(SHOWN)
    sheet.locator(".oddswap-table").focus()
    for key in "rufl":
        sheet.keyboard.press(key)
    sheet.wait_for_function(STILL)
    sheet.screenshot(path=tmp_path / "turned.png")
    assert sheet.evaluate(SHOWN) != before and sheet.get_by_role("status").inner_text().startswith(sentence)


def test_nothing_is_said_to_be_broken_where_turning_helps(sheet, written):
    sheet.goto(written[1].as_uri())
    sheet.wait_for_selector(".oddswap-viewer[data-first]")
    assert not sheet.get_by_role("status").is_visible()


def test_it_checks_its_own_proof_and_says_what_it_does_not(sheet, written, tmp_path):
    """All that its file claims; and a turn of the way out that is another one is found out."""
    page = written[1].read_text("utf-8")
    way = written[0].way_out.moves
    assert page.count(f'"ways":["{way}') == 1
    spoilt = tmp_path / "spoilt.html"
    spoilt.write_text(page.replace(f'"ways":["{way}', f'"ways":["{way} U'), "utf-8")
    for path, said in ((written[1], ["three slabs", "ways", "laws", "culprits", "left"]), (spoilt, ["refused", "ways"])):
        sheet.goto(path.as_uri())
        sheet.get_by_text(CHECK_HERE).click()
        lines = sheet.locator("#proof li")
        lines.first.wait_for()
        assert lines.all_inner_texts() == [CHECKED[part] for part in said]
        sheet.screenshot(path=tmp_path / f"{path.stem}.png", full_page=True)


def test_a_half_that_stays_is_drawn_with_the_pieces(sheet, tmp_path):
    """The left half of a middle slab has stickers, and is no piece: the page shows the puzzle and leads home."""
    ticket = parse_ticket('puzzle = "wedges:12,middle=halves"\nafter = "/ (3,3) /"')
    found = answer(ticket.puzzle, ticket.appearance)
    write_answer(found, tmp_path, reader_of(ticket))
    sheet.goto((tmp_path / "answer.html").as_uri())
    sheet.wait_for_selector(".oddswap-viewer[data-first]")
    sheet.locator(".oddswap-strip button").last.click()
    sheet.wait_for_function(STILL)
    assert looks_solved(found.turning, found.turning.appearance(found.turning.arrangement(sheet.evaluate(SHOWN))))
