"""The static edition, opened as files: every page and every link, an accessibility checker on each, on a phone and on a desk.

The checker is axe (the rules of WCAG 2.2 and of good practice). Screenshots lie in the tests' own temporary folders;
`--basetemp DIR` keeps them.
"""

import shutil
from random import Random
from urllib.parse import unquote, urldefrag, urlsplit

import pytest

from oddswap.__main__ import main
from oddswap.edition.answering.cells import played
from oddswap.edition.pages import read_notebook
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.widgets import kindly
from tests.browser.conftest import NARROW, NOTEBOOKS, coloured, on_phone
from tests.browser.fingers import turns_under_a_finger
from tests.browser.viewers import spot

pytestmark = pytest.mark.browser

SOME = ("00_the_repair_table", "01_can_two_tiles_change_places", "03_what_does_one_turn_do", "appendix_glossary")
TICKET = "04_octagon_one_edge_flipped"
LONG = "shape-mod:prism8,paint=FR+FL+BR+BL"
LINKS = "Array.from(document.querySelectorAll('a[href], link, img, script[src], form'), e => e.href || e.src || e.action)"
ANCHORS = "Array.from(document.querySelectorAll('[id]'), e => e.id)"
LEVELS = "Array.from(document.querySelectorAll('h1, h2, h3, h4'), e => Number(e.tagName[1]))"
TOO_WIDE = "document.documentElement.scrollWidth - innerWidth"
WITHOUT_FETCHING = {"resultTypes": ["violations"], "preload": False}


@pytest.fixture(scope="session")
def edition(tmp_path_factory):
    here = tmp_path_factory.mktemp("course")
    (here / "notebooks" / "tickets").mkdir(parents=True)
    for name in SOME:
        shutil.copy(NOTEBOOKS / f"{name}.ipynb", here / "notebooks")
    shutil.copy(NOTEBOOKS / "tickets" / f"{TICKET}.toml", here / "notebooks" / "tickets")
    command = ["edition", "--notebooks", str(here / "notebooks"), "--out", str(here / "edition")]
    assert main([*command, "--single", "--puzzles", "shape-mod:prism8", "cube:2", LONG]) == 0
    return here / "edition"


def crawl(sheet, first, look):
    """Open every page that can be reached from ``first``, ``look`` at each, and see that what every link leads to is there."""
    waiting, links, anchors = [first.as_uri()], {}, {}
    while waiting:
        url = waiting.pop()
        sheet.goto(url)
        anchors[url], links[url] = set(sheet.evaluate(ANCHORS)), sheet.evaluate(LINKS)
        look(sheet, url)
        for link in links[url]:
            page = urldefrag(link).url
            if page.endswith(".html") and page not in anchors and page not in waiting:
                waiting.append(page)
    for url, found in links.items():
        for link in found:
            page, place = urldefrag(link)
            if page.startswith("data:"):
                continue
            path = unquote(urlsplit(page).path)
            assert link.startswith("file:") and first.parent in type(first)(path).parents, (url, link)
            assert type(first)(path).is_file(), (url, link)
            assert not place or place in anchors[page], (url, link)
    return anchors


def examine(sheet, url):
    """No scrolling sideways on a phone or a desk, no leap in the headings, and nothing that the checker minds, light or dark."""
    from axe_playwright_python.sync_playwright import Axe

    levels = sheet.evaluate(LEVELS)
    assert levels[0] == 1 and levels.count(1) == 1, url
    assert all(after - before <= 1 for before, after in zip(levels, levels[1:], strict=False)), url
    for scheme, width in (("light", 1280), ("dark", 360)):
        sheet.set_viewport_size({"width": width, "height": 800})
        coloured(sheet, scheme)
        assert sheet.evaluate(TOO_WIDE) <= 0, (url, width)
        found = Axe().run(sheet, options=WITHOUT_FETCHING).response
        minded = [(rule["id"], [node["html"][:120] for node in rule["nodes"]][:3]) for rule in found["violations"]]
        assert not minded, (url, scheme, minded)


def test_every_page_and_every_link(sheet, edition):
    pages = crawl(sheet, edition / "index.html", examine)
    names = {url.rpartition("/")[2] for url in pages}
    assert {f"{name}.html" for name in (*SOME, TICKET, "index", "search", "look_up", "tickets")} <= names
    assert {path.name for path in edition.rglob("*.html")} == {*names, "oddswap.html"}
    assert (edition / "oddswap.html").stat().st_size < 40_000_000
    assert all(picture.stat().st_size <= 25_000 for picture in (edition / "knobs").iterdir())


def test_the_verdict_is_looked_up_by_keys(sheet, edition, tmp_path):
    sheet.goto((edition / "look_up.html").as_uri())
    puzzle = sheet.get_by_label("Which puzzle?")
    puzzle.focus()
    sheet.keyboard.press("ArrowUp")
    assert "prism8" in puzzle.locator("option:checked").inner_text()
    sheet.get_by_label("What looks wrong?").press_sequentially("one edge flipped")
    said = sheet.get_by_role("status").inner_text()
    sheet.screenshot(path=tmp_path / "look_up.png", full_page=True)
    assert said.startswith("lookalike") and "even" in said
    assert all(piece in said for piece in ("FL", "FR", "BL", "BR"))


@on_phone
def test_the_verdict_is_looked_up_by_picture_and_touch(sheet, edition, tmp_path):
    """The culprits of one flipped edge of the prism are the four that look alike both ways."""
    sheet.goto((edition / "look_up.html").as_uri())
    sheet.get_by_role("button", name="prism on 8 sides").first.tap()
    puzzle = load("shape-mod:prism8")
    face = next(face for face in puzzle.geometry.bodies[puzzle.slot("UF")].faces if face.facet == "F")
    sheet.locator(".oddswap-viewer").scroll_into_view_if_needed()
    sheet.touchscreen.tap(*spot(sheet, puzzle, face.centre))
    sheet.get_by_text("You touched UF.").wait_for()
    sheet.screenshot(path=tmp_path / "touched.png", full_page=True)
    said = sheet.get_by_role("status").inner_text()
    assert said.startswith("lookalike") and "even" in said
    model = "document.querySelector('.oddswap-viewer').parentElement.lookedUp.model"
    hatched = sheet.evaluate(f"{model}.get('hatched')")
    assert {puzzle.slots[slot] for slot in hatched} == {"FL", "FR", "BL", "BR"}
    assert sheet.evaluate(f"{model}.get('highlight')") == [puzzle.slot("UF")]


def test_the_search_finds_without_a_server(sheet, edition):
    sheet.goto((edition / "index.html").as_uri())
    sheet.get_by_label("Search").press_sequentially("crossings")
    sheet.keyboard.press("Enter")
    sheet.wait_for_selector(".search-summary:not(:empty)")
    assert "Can two tiles change places?" in sheet.locator("ul.search").inner_text()


def test_the_search_names_lessons_before_functions(sheet, edition):
    sheet.goto((edition / "search.html").as_uri() + "?q=load")
    sheet.wait_for_selector(".search-summary:not(:empty)")
    found = [link.get_attribute("href") for link in sheet.locator("ul.search li > a").all()]
    functions = [name.startswith("reference") for name in found]
    assert functions == sorted(functions) and {True, False} == set(functions)


def test_the_search_finds_words_of_the_text(sheet, edition):
    """Among them those that lead to the glossary."""
    sheet.goto((edition / "00_the_repair_table.html").as_uri())
    linked = sheet.locator("main p a.word").all_inner_texts()
    words = {*Random(1).sample([word for word in linked if word.isalpha()], 3), "quotation"}
    for word in words & set(sheet.locator("main").inner_text().split()):
        sheet.goto((edition / "search.html").as_uri() + f"?q={word}")
        sheet.wait_for_selector(".search-summary:not(:empty)")
        assert "A puzzle is stuck: is it broken?" in sheet.locator("ul.search").inner_text(), word


def told(exercise, answers) -> str:
    """What Python's own checker says."""
    left = iter(answers)
    given = [next(left) if each is None else each["value"] for each in exercise["given"]]
    return kindly(exercise["checks"])(*given, **exercise["named"]).text


def asked_in(name) -> dict:
    return played(read_notebook(NOTEBOOKS / f"{name}.ipynb").cells, NOTEBOOKS, {"exercise"}).exercises


def near_miss(answers) -> list[str]:
    """The same answers, the last sign of the last one left out."""
    return [*answers[:-1], answers[-1][:-1].rstrip(" ,")]


HOSTILE = "<img src=x onerror=alert()>\u202e"


@pytest.mark.parametrize("sheet", [NARROW | {"offline": True}], indirect=True, ids=["phone"])
def test_the_single_file_answers_every_exercise_by_touch_alone(sheet, edition, tmp_path):
    sheet.goto((edition / "oddswap.html").as_uri())
    frame, right = sheet.frame_locator("iframe"), 0
    for name in (name for name in SOME if name[0].isdigit()):
        frame.get_by_role("link", name="The course").tap()
        frame.locator(f"main a[href='{name}.html']").first.tap()
        frame.locator("h2").first.wait_for()
        assert sheet.frames[1].evaluate(TOO_WIDE) <= 0
        for cell, exercise in asked_in(name).items():
            form = frame.locator(f"form[data-exercise='{cell}']")
            for answers in (exercise["model"], near_miss(exercise["model"])):
                for field, answer in zip(form.locator("input").all(), answers, strict=True):
                    field.tap()
                    field.fill("")
                    sheet.keyboard.insert_text(answer)
                form.get_by_role("button", name="Check").tap()
                assert form.get_by_role("status").inner_text() == told(exercise, answers)
                right += told(exercise, answers).startswith("Yes")
        for field in form.locator("input").all():
            field.fill(HOSTILE)
        form.get_by_role("button", name="Check").tap()
        assert form.get_by_role("status").inner_text() == told(exercise, [HOSTILE] * len(exercise["model"]))
        assert not form.locator("output *").count(), "text alone"
        sheet.screenshot(path=tmp_path / f"{name}.png")
    assert right >= 9


def test_a_lesson_is_gone_through_by_keys_alone(sheet, edition):
    """Guess, see what happened, turn a control, answer an exercise: with Tab, arrows, letters and Enter."""
    sheet.goto((edition / "00_the_repair_table.html").as_uri())
    assert not sheet.locator(".compared").is_visible() and sheet.get_by_text("Covered until you have guessed.").is_visible()
    passed, reached = "", set()
    for _ in range(200):
        sheet.keyboard.press("Tab")
        here = sheet.evaluate(
            "[document.activeElement.type ?? '', document.activeElement.closest('form.exercise, .knob, .guess')?.className ?? '']"
        )
        if here == ["radio", "guess"] and "guess" not in reached:
            sheet.keyboard.press("ArrowDown")
            assert "lookalike" in sheet.locator(".compared").inner_text() and sheet.locator(".compared").is_visible()
        elif here[1] == "control knob" and "control knob" not in reached:
            before = sheet.locator(".knob img").first.get_attribute("src")
            sheet.keyboard.press("ArrowRight")
            assert sheet.locator(".knob img").first.get_attribute("src") != before
        elif here == ["text", "exercise"]:
            sheet.keyboard.insert_text("flip UF, flip UR")
            sheet.keyboard.press("Enter")
            passed = sheet.locator("form.exercise output").first.inner_text()
            break
        reached.add(here[1])
    assert passed == 'Yes: "ordinary" on "cube:3".' and reached >= {"guess", "control knob"}


def test_a_word_leads_to_the_glossary_and_back(sheet, edition):
    sheet.goto((edition / "00_the_repair_table.html").as_uri())
    sheet.locator(".guess input").first.check()
    sheet.locator("a.word", has_text="lookalike").first.click()
    place = sheet.locator("#word-lookalike")
    assert place.inner_text() == "lookalike"
    sheet.locator("tr", has=place).get_by_role("link").last.click()
    assert sheet.url.endswith("00_the_repair_table.html#word-lookalike")


@on_phone
def test_a_finger_turns_a_puzzle(sheet, edition, tmp_path):
    sheet.goto((edition / "viewers" / "shape_mod_prism8.html").as_uri())
    sheet.locator(".oddswap-viewer[data-first]").scroll_into_view_if_needed()
    puzzle = load("shape-mod:prism8")
    turns_under_a_finger(sheet, puzzle, puzzle.solved)
    sheet.screenshot(path=tmp_path / "viewer.png")
