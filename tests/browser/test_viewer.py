"""The viewer in a real browser: in JupyterLab, where Python follows every turn, and alone, with its model's values on a page.

Each test leaves screenshots, and how long its frames took, in its own temporary folder; `--basetemp DIR` keeps them.
"""

import json
from statistics import median

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.viewer.pack import labels_of
from oddswap.showing.viewer.widget import Viewer
from tests.browser.conftest import on_tablet
from tests.browser.fingers import turns_under_a_finger
from tests.browser.viewers import ASK, SHOWN, STILL, WITHOUT_WEBGL, alone, comes_to_say, notebook_with, said, spot

pytestmark = pytest.mark.browser

COLOURS = """() => [...document.querySelectorAll('.oddswap-viewer canvas')].map(canvas => {
    const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
    const seen = new Map();
    for (let i = 0; i < data.length; i += 4) {
        const key = (data[i] << 16) | (data[i + 1] << 8) | data[i + 2];
        seen.set(key, (seen.get(key) || 0) + 1);
    }
    return [...seen.values()].filter(n => n > 200).length;
})"""
CELL = """from oddswap.showing.viewer.widget import Viewer
viewer, picks = Viewer('cube:3'), []
viewer.on_pick(lambda _, pick: picks.append(pick))
"""
SHARED = "() => globalThis[Symbol.for('oddswap.viewer')]?.users ?? 0"
FRAMES = "() => globalThis[Symbol.for('oddswap.viewer')].frames"


def test_clicks_and_keys_turn_and_python_follows_and_plays(page, lab, tmp_path):
    notebook_with(page, lab, f"{CELL}viewer", "1 + 1")
    puzzle = load("cube:3")
    page.locator(".oddswap-viewer").scroll_into_view_if_needed()
    page.mouse.move(*spot(page, puzzle, (0, 1, 0)))
    page.get_by_text("U would turn").wait_for()
    page.mouse.click(*spot(page, puzzle, (0, 1, 0)))
    page.wait_for_function(STILL)
    comes_to_say(page, "viewer.moves", "'U'")
    page.keyboard.down("Shift")
    page.mouse.click(*spot(page, puzzle, (0, 0, 1)))
    page.keyboard.up("Shift")
    page.mouse.click(*spot(page, puzzle, (2 / 3, 0.92, 1)))
    page.mouse.click(*spot(page, puzzle, (-1, 0, 0), 1))
    page.wait_for_function(STILL)
    comes_to_say(page, "viewer.moves", """"U F' R L\"""")
    page.screenshot(path=tmp_path / "clicked.png")
    for key in ("d", "d", "Shift+B", "Backspace", "."):
        page.keyboard.press(key)
    page.keyboard.press("Enter")
    page.wait_for_function(STILL)
    comes_to_say(page, "viewer.moves", """"U F' R L D D U\"""")
    assert page.evaluate("() => window.jupyterapp.shell.currentWidget.content.widgets.length") == 2
    page.evaluate(ASK, 'viewer.play("[R: U\'] Fw2 D")')
    page.wait_for_function("() => document.querySelector('.oddswap-viewer').parentElement.oddswap.turning")
    page.wait_for_function(STILL)
    arrived = puzzle.follow("U F' R L D D U [R: U'] Fw2 D")
    assert page.evaluate(SHOWN) == labels_of(puzzle, arrived)
    comes_to_say(page, "viewer.arrangement", repr(arrived))
    page.get_by_role("button", name="Undo").click()
    page.wait_for_function(STILL)
    comes_to_say(page, "viewer.arrangement", repr(puzzle.follow("U F' R L D D U [R: U'] Fw2")))
    page.evaluate(ASK, "setattr(viewer, 'arrangement', viewer.puzzle.follow('R')) or setattr(viewer, 'mode', 'pick')")
    page.wait_for_function(f"() => ({SHOWN})().join() === '{','.join(map(str, labels_of(puzzle, puzzle.follow('R'))))}'")
    page.mouse.click(*spot(page, puzzle, (2 / 3, 2 / 3, 1)))
    comes_to_say(page, "picks", "[{'slot': 'UFR', 'piece': 'DFR', 'facet': 'D'}]")
    comes_to_say(page, "viewer.moves", "''")
    for key in (".", "Enter"):
        page.keyboard.press(key)
    comes_to_say(page, "len(picks)", "2")
    page.evaluate("() => window.jupyterapp.commands.execute('apputils:change-theme', {theme: 'JupyterLab Dark'})")
    page.wait_for_selector(".oddswap-viewer[data-theme=dark]")
    page.wait_for_timeout(400)
    page.screenshot(path=tmp_path / "dark.png")
    page.evaluate(ASK, "setattr(viewer, 'mode', 'turn')")
    page.evaluate("() => window.jupyterapp.shell.currentWidget.sessionContext.session.kernel.shutdown()")
    page.locator(".oddswap-table").focus()
    page.keyboard.press("l")
    page.get_by_text("Python has not answered yet. What you do here is kept.").wait_for()
    assert page.evaluate(SHOWN) == labels_of(puzzle, puzzle.follow("R L"))


@on_tablet
def test_a_finger_turns_a_layer_and_python_follows(page, lab, tmp_path):
    notebook_with(page, lab, f"{CELL}viewer", "print(80 * '.\\n')")
    puzzle = load("cube:3")
    page.locator(".oddswap-viewer").scroll_into_view_if_needed()
    turns_under_a_finger(page, puzzle, puzzle.solved)
    page.screenshot(path=tmp_path / "scrolled.png")
    comes_to_say(page, "viewer.moves", "'U'")
    page.evaluate(ASK, "setattr(viewer, 'mode', 'pick')")
    page.wait_for_function("() => document.querySelector('.oddswap-viewer').parentElement.oddswap.model.get('mode') === 'pick'")
    page.touchscreen.tap(*spot(page, puzzle, (2 / 3, 2 / 3, 1)))
    page.get_by_text("UFR, R picked").wait_for()
    comes_to_say(page, "picks", "[{'slot': 'UFR', 'piece': 'UBR', 'facet': 'R'}]")


def test_twenty_viewers_share_one_context_and_give_it_back_to_whoever_edits_a_story(page, lab, tmp_path):
    notebook_with(
        page,
        lab,
        "import ipywidgets\nfrom oddswap import Viewer\nmany = [Viewer('cube:2', size=150) for _ in range(20)]\n"
        "ipywidgets.GridBox(many, layout={'grid_template_columns': 'repeat(3, 320px)'})",
    )
    page.wait_for_function(f"() => ({SHARED})() === 20")
    page.evaluate(ASK, "[viewer.play('R U') for viewer in many]")
    page.wait_for_function(STILL)
    assert min(page.evaluate(COLOURS)) >= 4
    page.screenshot(path=tmp_path / "twenty.png")
    page.evaluate("() => window.jupyterapp.commands.execute('notebook:clear-all-cell-outputs')")
    page.wait_for_function(f"() => ({SHARED})() === 0")
    edit_a_story_by_keys(page)
    page.screenshot(path=tmp_path / "board.png")


def edit_a_story_by_keys(page):
    """A new cell with a board: words of a beat are typed, and two beats change places; nothing else is drawn again."""
    for key in ("Escape", "b", "Enter"):
        page.keyboard.press(key)
    page.keyboard.insert_text("import oddswap\nfrom oddswap import draw\n")
    page.keyboard.insert_text("board = draw.Storyboard(oddswap.answer('cube:2', 'R U'))\nboard")
    page.keyboard.press("Shift+Enter")
    words, chapters = page.locator(".widget-textarea textarea"), "[beat.chapter[:4] for beat in board.story.beats[:3]]"
    words.nth(1).wait_for()
    drawn, stills = int(said(page, "len(board._made)")), page.locator(".widget-image")
    assert words.count() == stills.count() == drawn == int(said(page, "len(board.story.beats)"))
    before = [stills.nth(i).get_attribute("src") for i in range(drawn)]
    words.nth(1).click()
    page.keyboard.press("Control+A")
    page.keyboard.type("It fell off a shelf.\nNow look at it.")
    page.keyboard.press("Tab")
    comes_to_say(page, "board.story.beats[1].says", "('It fell off a shelf.', 'Now look at it.')")
    comes_to_say(page, "len(board._made)", str(drawn + 1))
    assert said(page, chapters) == "['What', 'What', 'Why ']"
    page.get_by_role("button", name="Later").nth(1).focus()
    page.keyboard.press("Enter")
    comes_to_say(page, chapters, "['What', 'Why ', 'What']")
    page.wait_for_function("() => [...document.querySelectorAll('.widget-textarea textarea')][2].value.startsWith('It fell')")
    assert said(page, "len(board._made)") == str(drawn + 1)
    after = [stills.nth(i).get_attribute("src") for i in range(drawn)]
    assert [i for i in range(drawn) if after[i] != before[i]] in ([], [1, 2])


@pytest.mark.parametrize("name", ["cube:7", "dodecahedron"])
def test_a_turn_is_drawn_frame_by_frame_and_the_times_are_kept(sheet, tmp_path, name):
    alone(sheet, Viewer(name), tmp_path)
    sheet.locator(".oddswap-table").focus()
    for key in ("f", "a") if name == "dodecahedron" else ("f", "r", "2", "u"):
        sheet.keyboard.press(key)
    sheet.wait_for_function(STILL)
    turns = "F A" if name == "dodecahedron" else "F R 2U"
    puzzle = load(name)
    assert sheet.evaluate(SHOWN) == labels_of(puzzle, puzzle.follow(turns))
    frames = sheet.evaluate(FRAMES)
    assert len(frames) > 3 and all(script <= whole for script, whole in frames)
    first = float(sheet.locator(".oddswap-viewer").get_attribute("data-first"))
    times = {"first": first, "script": median(f[0] for f in frames), "with drawing": median(f[1] for f in frames)}
    (tmp_path / "frames.json").write_text(json.dumps(times), "utf-8")
    sheet.screenshot(path=tmp_path / "turned.png")


@pytest.mark.parametrize("name", ["tiles:3x3", "loop:7,window=3", "rings:7+7,cross=2"])
def test_flat_puzzles_move_by_keys_alone(sheet, tmp_path, name):
    alone(sheet, Viewer(name), tmp_path)
    puzzle, (keys, moves) = (
        load(name),
        {
            "tiles:3x3": (["ArrowRight", "ArrowDown"], "r3c2 r2c2"),
            "loop:7,window=3": (["p", "s", "Shift+P"], "push swing push'"),
            "rings:7+7,cross=2": (["a", "Shift+B"], "a b'"),
        }[name],
    )
    sheet.keyboard.press("Tab")
    for key in keys:
        sheet.keyboard.press(key)
    sheet.wait_for_function(STILL)
    assert sheet.evaluate(SHOWN) == labels_of(puzzle, puzzle.follow(moves))
    sheet.screenshot(path=tmp_path / "moved.png")


@pytest.mark.parametrize("name, after", [("cuboid:2x2x4,turns=all", "U F"), ("tiles:3x3", "r2c3")])
def test_the_browser_lets_turn_what_the_puzzle_lets_turn(sheet, tmp_path, name, after):
    puzzle = load(name)
    state = puzzle.follow(after)
    alone(sheet, Viewer(puzzle, state), tmp_path)
    legal = sheet.evaluate("""() => {
        const { target, pack } = document.querySelector('.oddswap-viewer').parentElement.oddswap;
        return pack.turns.filter((turn, i) => !turn.whole && target.legal(i + 1)).map(turn => turn.name);
    }""")
    assert sorted(legal) == sorted(turn.name for turn in puzzle.legal(state)) and 0 < len(legal) < len(puzzle.turns)
    sheet.screenshot(path=tmp_path / "shape.png")


def test_reduced_motion_turns_at_once(sheet, tmp_path):
    sheet.emulate_media(reduced_motion="reduce")
    alone(sheet, Viewer("cube:3"), tmp_path)
    sheet.evaluate("""() => {
        const { prototype } = document.querySelector('.oddswap-viewer').parentElement.oddswap.constructor;
        const { advance } = prototype;
        window.between = [];
        prototype.advance = function (now) {
            const again = advance.call(this, now);
            if (this.turning) window.between.push(this.turning.fraction);
            return again;
        };
    }""")
    sheet.locator(".oddswap-table").focus()
    for key in ("r", "u"):
        sheet.keyboard.press(key)
    sheet.wait_for_function(STILL)
    puzzle = load("cube:3")
    assert sheet.evaluate(SHOWN) == labels_of(puzzle, puzzle.follow("R U"))
    assert sheet.evaluate("window.between") == []


def test_without_webgl_there_is_the_still_picture_and_keys_still_turn(sheet, tmp_path):
    sheet.add_init_script(WITHOUT_WEBGL)
    viewer = Viewer("cube:3")
    viewer.picture = viewer.still()
    alone(sheet, viewer, tmp_path)
    sheet.wait_for_function("() => document.querySelector('.oddswap-viewer img').naturalWidth > 100")
    sheet.locator(".oddswap-table").focus()
    sheet.keyboard.press("r")
    sheet.wait_for_function(STILL)
    puzzle = load("cube:3")
    assert sheet.evaluate(SHOWN) == labels_of(puzzle, puzzle.follow("R"))
    assert "8 of 26 pieces are not at home" in sheet.locator(".oddswap-unseen").first.text_content()
    sheet.screenshot(path=tmp_path / "still.png")
