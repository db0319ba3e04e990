"""The desk on the page that `oddswap lab` opens, by mouse, finger and keys, at 1280 × 800 and at 360 × 740.

The checker is axe (the rules of WCAG 2.2 and of good practice). Sizes are those of the project's rules for its look.
Screenshots lie in the tests' own temporary folders; `--basetemp DIR` keeps them.
"""

from collections import defaultdict

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.describing.postcards import write_postcard
from oddswap.describing.stickers import paints_of, stickers
from oddswap.describing.tickets import parse_ticket
from oddswap.puzzles.catalogue import load
from oddswap.words.products.desk import SAYS
from tests.browser.conftest import NARROW
from tests.browser.fingers import drag
from tests.browser.viewers import SHOWN, spot

pytestmark = pytest.mark.browser

PRISM, CUBE = load("shape-mod:prism8"), load("cube:3")
FLIPPED = 'puzzle = "shape-mod:prism8"\nchanges = ["flip UF"]\n'
AXES = dict(zip("RUFLDB", np.vstack([np.eye(3), -np.eye(3)]), strict=True))
narrow = pytest.mark.parametrize("page", [NARROW], indirect=True, ids=["phone"])
BOXED = """() => {
    for (let at = document.querySelector('.oddswap-verdict'); at && at !== document.documentElement; at = at.parentElement)
        if (/auto|scroll/.test(getComputedStyle(at).overflowY)) return at.className || at.tagName;
    return '';
}"""
CHOSEN = """() => {
    const viewer = document.querySelector('.oddswap-viewer').parentElement.oddswap;
    return viewer.chosen && viewer.pack.slots[viewer.slotOf({ panel: viewer.chosen })];
}"""
LOOK = """() => {
    const seen = one => one.checkVisibility() && one.getClientRects().length;
    const shown = [...document.querySelectorAll('.oddswap-desk *')].filter(seen);
    const own = one => [...one.childNodes].some(child => child.nodeType === 3 && child.data.trim());
    const hand = shown.filter(one => one.matches('button, summary, textarea, a, input:not([type=file]), label.oddswap-button'));
    const least = (one, size) => parseFloat(getComputedStyle(one).fontSize) >= size;
    const caption = one => one.tagName === 'FIGCAPTION';
    const unseen = one => one.closest('.oddswap-unseen, style');
    const small = box => box.width < 44 || box.height < 44;
    return {
        words: shown.filter(one => own(one) && !unseen(one) && !caption(one) && !least(one, 14)).map(one => one.outerHTML),
        captions: shown.filter(one => caption(one) && !least(one, 13)).map(one => one.outerHTML),
        targets: hand.filter(one => small(one.getBoundingClientRect())).map(one => one.outerHTML),
        round: shown.filter(one => getComputedStyle(one).borderTopLeftRadius !== '0px').map(one => one.outerHTML),
        verdict: parseFloat(getComputedStyle(document.querySelector('.oddswap-verdict h2')).fontSize),
        why: parseFloat(getComputedStyle(document.querySelector('.oddswap-why p')).fontSize),
        wide: document.documentElement.scrollWidth - innerWidth,
    };
}"""


def opened(page, lab, *tickets):
    """The desk with these tickets as its letters."""
    for old in (lab.folder / "tickets").glob("*.toml"):
        old.unlink()
    for number, ticket in enumerate(tickets):
        (lab.folder / "tickets" / f"{number}_letter.toml").write_text(ticket)
    page.goto(lab.desk)
    page.locator(".oddswap-verdict h2").wait_for()


def hit(page, where):
    """Touch it with a finger where there is one, else with the mouse."""
    where.tap() if page.viewport_size["width"] < 500 else where.click()


def touched(page, puzzle, point):
    """Touch a point of the first print, which is brought into sight before."""
    page.locator(".oddswap-prints").evaluate("one => one.scrollIntoView({ block: 'center' })")
    page.wait_for_timeout(400)  # a tap right after another is not always taken for one
    at = spot(page, puzzle, point)
    page.touchscreen.tap(*at) if page.viewport_size["width"] < 500 else page.mouse.click(*at)


def chosen_by_picture(page, *names):
    """Touch one card after another: what turns, how many layers, which outside; or only the puzzle."""
    if page.viewport_size["width"] < 500:
        hit(page, page.get_by_role("button", name="Add"))
    hit(page, page.get_by_role("button", name="Another puzzle, by its picture"))
    for name in names:
        card = page.locator(f'[data-puzzle="{name}"]')
        card.locator("img[src]").wait_for()
        hit(page, card)
    page.locator(".oddswap-top b", has_text=load(names[-1]).title).wait_for()


def verdict(page, words):
    page.locator(".oddswap-tell").get_by_text(f"Verdict: {words}", exact=True).wait_for(state="attached")


def lone_flip(page):
    """Choose the prism by its picture, and touch the edge that is flipped."""
    chosen_by_picture(page, "shape-mod:prism8")
    verdict(page, "ordinary")
    hit(page, page.get_by_role("button", name="Touch what is off"))
    touched(page, PRISM, (0, 1, 0.67))
    verdict(page, "lookalike")
    assert PRISM.arrangement(page.evaluate(SHOWN)) == changed(PRISM, ["flip UF"])


def looks_right(page, verdict_size):
    found = page.evaluate(LOOK)
    assert [found[name] for name in ("words", "captions", "targets", "round")] == [[], [], [], []]
    assert (found["verdict"], found["why"]) == (verdict_size, 17) and found["wide"] <= 0
    assert page.evaluate(BOXED) == ""


def test_the_first_screen_is_the_sheet_and_shows_seven_turns(page, lab, tmp_path):
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="needs the extra `browser`").Axe()
    opened(page, lab, FLIPPED, 'puzzle = "cube:2"\nafter = "R"')
    verdict(page, "lookalike")
    page.screenshot(path=tmp_path / "sought.png")
    assert page.locator(".oddswap-sought").text_content() and not page.locator(".oddswap-strip li").count()
    page.get_by_text("Twelve turns; no way is shorter.", exact=True).wait_for()
    page.screenshot(path=tmp_path / "wide.png")
    seventh = page.locator(".oddswap-strip li").nth(6).bounding_box()
    assert page.locator(".oddswap-strip li").count() == 13 and seventh["y"] + seventh["height"] <= 800
    order = [
        page.locator(part).bounding_box()["y"]
        for part in (".oddswap-prints", ".oddswap-verdict", ".oddswap-why", ".oddswap-strip")
    ]
    assert order == sorted(order) and order[0] > 0
    looks_right(page, 25)
    found = axe.run(page, options={"resultTypes": ["violations"]}).response["violations"]
    assert [(one["id"], [node["html"][:200] for node in one["nodes"]]) for one in found] == []
    page.get_by_role("link", name="Lessons").first.click()
    page.wait_for_url("**/lab/**00_the_repair_table.ipynb")


@narrow
def test_a_finger_chooses_by_picture_and_tells_a_lone_flip(page, lab, tmp_path):
    opened(page, lab, 'puzzle = "cube:2"\nafter = "R"')
    chosen_by_picture(page, "shape-mod:prism8,slabs=4", "cube:4", "shape-mod:prism5,slabs=4")
    verdict(page, "ordinary")
    lone_flip(page)
    page.screenshot(path=tmp_path / "touched.png")
    page.locator(".oddswap-strip li").nth(11).wait_for()
    looks_right(page, 22)
    page.screenshot(path=tmp_path / "phone.png", full_page=True)
    before = page.evaluate(SHOWN)
    box = page.locator(".oddswap-viewer canvas").first.bounding_box()
    drag(page, (box["x"] + 40, box["y"] + 40), 40, 0)
    assert page.evaluate(SHOWN) == before, "a finger that looks round tells nothing"
    hit(page, page.get_by_role("button", name="Undo"))
    verdict(page, "ordinary")
    hit(page, page.get_by_role("button", name="Two have changed places"))
    for point in ((0, 1, 0.67), (0.67, 1, 0)):
        touched(page, PRISM, point)
    verdict(page, "not by turning")


def test_a_mouse_tells_a_lone_flip_and_walks_along_its_way(page, lab, tmp_path):
    opened(page, lab)
    lone_flip(page)
    page.screenshot(path=tmp_path / "touched.png")
    page.locator(".oddswap-strip button").nth(2).click()
    page.wait_for_timeout(500)
    verdict(page, "lookalike")
    assert page.locator(".oddswap-strip button").count() == 13, "going along the way tells nothing new"
    page.get_by_role("button", name="Turn it there").click()
    page.locator(".oddswap-table").focus()
    page.keyboard.press("r")
    page.get_by_text("A way out is not known yet").wait_for()


def test_a_postcard_is_pasted_a_ticket_dropped_and_a_spoilt_one_said_to_be_so(page, lab, tmp_path):
    opened(page, lab, 'puzzle = "cube:2"\nafter = "R"')
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])

    def paste(text):
        page.evaluate("text => navigator.clipboard.writeText(text)", text)
        page.get_by_label("A postcard", exact=True).focus()
        page.keyboard.press("Control+v")

    paste(f"> {write_postcard(parse_ticket(FLIPPED))}")
    page.locator(".oddswap-top b", has_text=PRISM.title).wait_for()
    verdict(page, "lookalike")
    paste("odd1;cube:3;AAAA")
    page.get_by_role("alert").get_by_text("copy it again").wait_for()
    verdict(page, "lookalike")
    ticket = tmp_path / "dropped.toml"
    ticket.write_text('puzzle = "cube:3"\nchanges = ["twist UFR cw"]')
    box, session = page.locator(".oddswap-paste").bounding_box(), page.context.new_cdp_session(page)
    for kind in ("dragEnter", "dragOver", "drop"):
        data = {"items": [], "files": [str(ticket)], "dragOperationsMask": 1}
        session.send("Input.dispatchDragEvent", {"type": kind, "x": box["x"] + 9, "y": box["y"] + 9, "data": data})
    page.locator(".oddswap-top b", has_text=CUBE.title).wait_for()
    verdict(page, "not by turning")
    page.get_by_role("button", name="Copy the reply").first.click()
    page.get_by_role("button", name="Copied").wait_for()
    assert page.evaluate("navigator.clipboard.readText()").startswith("Thank you for your ticket.")


def test_a_reply_is_copied_by_hand_where_a_page_may_not(page, lab, tmp_path):
    """As on a page that comes without encryption from another machine: browsers give such pages no clipboard."""
    page.add_init_script("Object.defineProperty(navigator, 'clipboard', { value: undefined })")
    opened(page, lab, 'puzzle = "cube:2"\nafter = "R"')
    page.get_by_role("button", name="Copy the reply").first.click()
    laid = page.get_by_role("textbox", name="The reply, marked")
    laid.scroll_into_view_if_needed()
    page.screenshot(path=tmp_path / "by_hand.png")
    assert laid.input_value().startswith("Thank you for your ticket.")
    assert page.evaluate("getSelection().toString()") == laid.input_value()
    page.get_by_role("button", name="Not copied: do it by hand").click()
    assert laid.count() == 1


def to_by_tab(page, test):
    """Press Tab until the focus is on what passes a test, a function in JavaScript."""
    for _ in range(80):
        page.keyboard.press("Tab")
        if page.evaluate(f"() => ({test})(document.activeElement)"):
            return
    raise AssertionError(f"Tab never comes to {test}")


def test_the_keyboard_alone(page, lab):
    """From the first Tab on: a puzzle by its picture, a lone flip, a postcard, and a letter."""
    opened(page, lab, 'puzzle = "cube:2"\nafter = "R"', 'puzzle = "tetrahedron"\nafter = ""')
    to_by_tab(page, "one => one.textContent.startsWith('Another puzzle')")
    page.keyboard.press("Enter")
    to_by_tab(page, "one => one.dataset.puzzle === 'shape-mod:prism8'")
    page.keyboard.press("Enter")
    page.locator(".oddswap-top b", has_text=PRISM.title).wait_for()
    page.keyboard.press("Enter")
    assert page.get_by_role("button", name="Touch what is off").get_attribute("aria-pressed") == "true"
    for _ in range(80):
        page.keyboard.press("Shift+Tab")
        if page.evaluate("document.activeElement.className") == "oddswap-table":
            break
    for _ in range(80):
        page.keyboard.press(".")
        if page.evaluate(CHOSEN) == "UF":
            break
    page.keyboard.press("Enter")
    verdict(page, "lookalike")
    to_by_tab(page, "one => one.getAttribute('aria-label') === 'A postcard'")
    page.keyboard.type(write_postcard(parse_ticket('puzzle = "cube:3"\nchanges = ["twist UFR cw"]')))
    page.keyboard.press("Enter")
    verdict(page, "not by turning")
    to_by_tab(page, "one => one.dataset.letter === '1_letter'")
    page.keyboard.press("Enter")
    page.locator(".oddswap-top b", has_text=load("tetrahedron").title).wait_for()


def test_telling_by_colour_gives_the_verdict_of_the_ticket(page, lab, tmp_path):
    """Sticker by sticker, colour by colour, with the mouse: the two prints together show all of them."""
    there = changed(CUBE, ["flip DF"], CUBE.follow("R U"))
    opened(page, lab, 'puzzle = "cube:3"\nafter = ""')
    page.get_by_role("button", name="Tell by colour").click()
    page.get_by_role("button", name="Nothing seen yet").click()
    page.get_by_text("26 slots are open", exact=False).or_(page.get_by_text("20 slots are open", exact=False)).wait_for()
    places = defaultdict(list)
    for place, colour in zip(stickers(CUBE).places, paints_of(CUBE, there), strict=True):
        places[colour].append(place)
    for colour, ours in places.items():
        page.locator(f".oddswap-hand button[value={colour}]").click()
        for slot, face in ours:
            point = 2 / 3 * sum(AXES[letter] for letter in CUBE.slots[slot]) + AXES[face] / 3
            page.mouse.click(*spot(page, CUBE, point, int(face not in "UFR")))
    page.screenshot(path=tmp_path / "told.png")
    page.get_by_text("Everything is told.").wait_for()
    verdict(page, "not by turning")
    page.get_by_role("button", name="Touch what is off").click()
    page.wait_for_function(f"() => ({SHOWN})().some((at, label) => at !== label)")
    page.wait_for_timeout(500)
    assert CUBE.appearance(CUBE.arrangement(page.evaluate(SHOWN))) == CUBE.appearance(there)


@narrow
def test_what_is_said_of_a_file_is_seen_where_the_finger_is(page, lab):
    opened(page, lab, 'puzzle = "cube:2"\nafter = ""')
    hit(page, page.locator("summary", has_text="This copy"))
    hit(page, page.get_by_role("button", name="Save the ticket"))
    said = page.get_by_role("alert").get_by_text("Saved as what_i_see.toml in the folder tickets.")
    said.wait_for()
    top = said.bounding_box()["y"]
    assert 0 <= top < 740 and page.get_by_role("button", name="Save the ticket").bounding_box()["y"] > top


def test_what_nobody_has_seen_is_not_drawn_as_solved_and_turning_tells_all(page, lab):
    opened(page, lab, 'puzzle = "cube:2"\nafter = ""')
    page.get_by_role("button", name="Tell by colour").click()
    page.get_by_role("button", name="Nothing seen yet").click()
    page.get_by_text("8 slots are open", exact=False).wait_for()
    page.get_by_role("button", name="Turn it there").click()
    page.wait_for_function(
        "() => document.querySelector('.oddswap-viewer').parentElement.oddswap.model.get('covered').length === 8"
    )
    drawn = page.evaluate("""() => {
        const viewer = document.querySelector('.oddswap-viewer').parentElement.oddswap;
        const { words } = viewer.inked(viewer.target, []);
        return viewer.panels.filter(one => one.role === 'sticker').map(one => words.get(one.index));
    }""")
    assert set(drawn) == {"?"} and len(drawn) == 24
    page.locator(".oddswap-table").focus()
    page.keyboard.press("r")
    page.get_by_text("Everything is told.").wait_for()
    verdict(page, "ordinary")


def test_while_a_large_puzzle_is_worked_on_the_desk_says_so_and_then_no_more(page, lab, tmp_path):
    opened(page, lab, FLIPPED)
    working, named = page.get_by_text(SAYS.working), page.get_by_label("or by its name")
    for name, then in (("cube:15", ".oddswap-top"), ("cube:1", ".oddswap-alarm")):
        assert not working.count()
        hit(page, page.get_by_role("button", name="Another puzzle, by its picture"))
        named.fill(name)
        named.press("Enter")
        if name == "cube:15":
            working.wait_for()
            page.screenshot(path=tmp_path / "working.png")
        page.locator(then, has_text=name.partition(":")[2]).wait_for()
    page.wait_for_timeout(1000)
    assert not working.count(), "what was refused stays said"
