"""The lessons in a real JupyterLab in a real browser: everything runs, nothing warns, and the repair table answers.

Each test leaves a screenshot, 1280 × 800, in its own temporary folder; `--basetemp DIR` keeps them.
"""

import nbformat
import pytest

from tests.browser.conftest import NOTEBOOKS, on_tablet

pytestmark = pytest.mark.browser

LESSONS = sorted(path.name for path in NOTEBOOKS.glob("[0-9][0-9]_*.ipynb"))
CONNECTED = """() => {
    const panel = window.jupyterapp?.shell.currentWidget;
    const session = panel?.sessionContext;
    return panel?.context?.isReady && session?.isReady && session.session?.kernel?.connectionStatus === 'connected';
}"""
READY = """() => {
    const panel = window.jupyterapp.shell.currentWidget;
    const limit = new Promise(done => setTimeout(done, 20000));
    return Promise.race([panel.sessionContext.session.kernel.info, limit]).then(
        () => panel.content.widgets.length - 1);  // the last has no code
}"""
ALL_RUN = """() => {
    const cells = [...window.jupyterapp.shell.currentWidget.content.widgets].filter(c => c.model.type === 'code');
    const failed = cells.some(c => c.model.outputs.toJSON().some(o => o.output_type === 'error'));
    return failed || cells.every(c => c.model.executionCount !== null && c.model.executionState !== 'running');
}"""
OUTPUTS = """() => [...window.jupyterapp.shell.currentWidget.content.widgets]
    .filter(c => c.model.type === 'code').flatMap(c => c.model.outputs.toJSON())"""
AT_THE_GUESS = "() => window.jupyterapp.shell.currentWidget.content.activeCell.model.getMetadata('tags')?.[0] === 'guess'"
IN_THE_GUESS = "() => document.activeElement.matches('.widget-radio-box input')"
SCROLL = """tag => {
    const notebook = window.jupyterapp.shell.currentWidget.content;
    const at = notebook.widgets.findIndex(c => (c.model.getMetadata('tags') || []).includes(tag));
    return notebook.scrollToItem(at, 'start').then(() => notebook.widgets[at].node.scrollIntoView({block: 'start'}));
}"""

NEWS = "Would you like to get notified about official Jupyter news?"
CHOICE = "@jupyterlab/apputils-extension/notification.jupyterlab-settings"


def by_taps(page, cells):
    for _ in range(cells):
        page.locator("[data-command='notebook:run-cell-and-select-next'], [data-jp-item-name=run]").first.tap()


def by_keys(page, cells):
    """Shift and Enter for each cell, as the lessons say; Escape first, so that the notebook listens."""
    page.keyboard.press("Escape")
    for _ in range(cells):
        page.keyboard.press("Shift+Enter")


def open_and_run(page, lab, name, run=by_keys):
    """Open a lesson without its stored outputs and run it from top to bottom; nothing may fail or warn."""
    path = lab.folder / name
    notebook = nbformat.read(path, as_version=4)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.outputs, cell.execution_count = [], None
    nbformat.write(notebook, path)
    page.goto(lab.url(name))
    page.wait_for_function(CONNECTED)
    run(page, page.evaluate(READY))
    page.wait_for_function(ALL_RUN)
    outputs = page.evaluate(OUTPUTS)
    assert [o for o in outputs if o["output_type"] == "error" or o.get("name") == "stderr"] == []
    return outputs


def scroll_to(page, tag):
    """Scroll to a cell; twice, because a notebook lays out what comes into sight only then."""
    for _ in range(2):
        page.evaluate(SCROLL, tag)
        page.wait_for_timeout(400)


def guess_by_taps(page):
    page.locator(".widget-radio-box input").nth(1).tap()


def guess_by_keys(page):
    """K goes up to the cell with the guess, Tab leads into it, and the space bar chooses."""
    page.keyboard.press("Escape")
    for key, there in (("k", AT_THE_GUESS), ("Tab", IN_THE_GUESS)):
        for _ in range(100):
            if page.evaluate(there):
                break
            page.keyboard.press(key)
        assert page.evaluate(there), key
    page.keyboard.press("Space")


HANDS = [(by_keys, guess_by_keys), (by_taps, guess_by_taps)]


@on_tablet
@pytest.mark.one_in(2)
@pytest.mark.parametrize("name", LESSONS)
def test_a_lesson_runs_without_an_error_or_a_warning(page, lab, name, request, tmp_path):
    """By keys alone and by taps alone; without `--every-case` half of them, by the one and the other in turn."""
    at = LESSONS.index(name) // 2 % 2
    for run, choose in HANDS if request.config.getoption("--every-case") else HANDS[at : at + 1]:
        outputs = open_and_run(page, lab, name, run)
        assert any("application/vnd.jupyter.widget-view+json" in o.get("data", {}) for o in outputs)
        for tag in ("widget", "knob", "guess"):
            scroll_to(page, tag)
            page.screenshot(path=tmp_path / f"{tag}.png")
        choose(page)
        page.wait_for_function("document.querySelectorAll('.widget-radio-box input:checked').length === 1")


def test_a_saved_lesson_shows_its_pictures_before_it_is_run(page, lab, tmp_path):
    page.goto(lab.url(LESSONS[0]))
    page.wait_for_function(CONNECTED)
    page.wait_for_selector(".jp-OutputArea-output img")
    page.screenshot(path=tmp_path / "saved.png")


def test_the_repair_table_answers(page, lab, tmp_path):
    open_and_run(page, lab, "00_the_repair_table.ipynb")
    scroll_to(page, "widget")
    table = page.locator(".oddswap-desk")
    table.get_by_role("button", name="All 12 letters").click()
    table.get_by_role("button", name="04 octagon one edge flipped").click()
    table.get_by_text("Verdict: lookalike", exact=True).wait_for()
    table.get_by_text("Twelve turns; no way is shorter.", exact=True).wait_for()
    table.locator(".oddswap-strip button").nth(2).click()
    page.wait_for_timeout(400)
    page.screenshot(path=tmp_path / "walking.png")
    assert table.locator(".oddswap-strip button").count() == 13 and table.get_by_text("Verdict: lookalike", exact=True).count()


def test_a_walk_is_taken_by_clicks_and_says_when_it_is_home(page, lab, tmp_path):
    """LL turns what stands out: nothing does at home, and something after B."""
    open_and_run(page, lab, "15_what_if_the_shape_decides_the_turns.ipynb")
    scroll_to(page, "widget")
    found = page.locator(".jp-Cell", has=page.get_by_text("Home, start again")).last

    def button(name):
        return found.get_by_role("button", name=name, exact=True)

    assert button("LL").is_disabled()
    for turn in ("B", "F'", "U2", "F", "B'"):
        button(turn).click()
        if turn == "B":
            found.get_by_text("B. 18 turns can be made here. not at home: no law").wait_for()
            assert button("LL").is_enabled()
    found.get_by_text("B F' U2 F B'. 12 turns can be made here. 1 flipped, corners even: law BROKEN").wait_for()
    page.screenshot(path=tmp_path / "home_again.png")
    button("Home, start again").click()
    found.get_by_text("no turn yet").wait_for()


def test_nobody_is_asked_about_news_unless_they_chose_to_be(page, lab):
    page.goto(lab.url(LESSONS[0]))
    page.wait_for_function(CONNECTED)
    page.wait_for_timeout(2000)
    assert page.get_by_text(NEWS).count() == 0
    chosen = lab.settings / CHOICE
    assert not chosen.exists()
    chosen.parent.mkdir(parents=True)
    chosen.write_text('{"fetchNews": "none"}')
    page.goto(lab.url(LESSONS[0]))
    page.wait_for_function(CONNECTED)
    page.get_by_text(NEWS).wait_for()
