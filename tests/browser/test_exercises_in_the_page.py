"""Exercises as a page judges them, against their checkers in Python: answers made at random, right, near and far."""

import random
import re

import pytest
from nbformat import v4

from oddswap.edition.answering.cells import exercises_script, played
from oddswap.edition.answering.program import judge_script
from oddswap.edition.pages import read_notebook
from oddswap.puzzles.catalogue import load
from tests.browser.conftest import NOTEBOOKS
from tests.browser.test_edition import told
from tests.common.hostile import THEMES

pytestmark = pytest.mark.browser

LESSONS = sorted(NOTEBOOKS.glob("[01]*.ipynb"))
OVER_ALL = 10_000
HOSTILE = [text for theme in THEMES.values() for text in theme] + ["a\x1b[2Jb", "a\u202eb", "a\u2066b", "\x00", "a\nb"]
CHANGES = ("flip {0}", "swap {0} {1}", "twist {0} cw", "twist {0} ccw", "cycle {0} {1} {2}", "turn {0} half")


def parts_for(exercise) -> list[str]:
    """What answers to an exercise are made of: parts of right ones, turns and slots of its puzzles, numbers, and nonsense."""
    names = re.findall(r"'([a-z-]+:?[^' ]*)'", repr([exercise["given"], exercise["named"]]))
    parts = [part for answer in exercise["model"] for part in re.split(r"([ ,])", answer) if part.strip(" ,")]
    puzzles = []
    for name in names or ["cube:3"]:
        try:
            puzzles.append(load(name))
        except ValueError:
            continue
    for puzzle in puzzles:
        parts += [*list(puzzle.turns)[:12], *puzzle.slots[:12]]
    return [*parts, "7", "U", "x", "(", "''", "é"]


def answers_to(exercise, dice) -> list[str]:
    """Right answers with something left out, put in, exchanged or repeated; changes by hand; or words in a row."""
    found = []
    for model in exercise["model"]:
        parts = parts_for(exercise)
        words = [word for word in re.split(r"(, |[ ,])", model) if word]
        way = dice.randrange(6)
        at = dice.randrange(len(words)) if words else 0
        if way == 0:
            words = words[:at] + words[at + 1 :]
        elif way == 1:
            words[at:at] = [dice.choice(parts), " "]
        elif way == 2 and words:
            words[at] = dice.choice(parts)
        elif way == 3:
            words = [dice.choice(CHANGES).format(*dice.choices(parts, k=3)) for _ in range(dice.randint(1, 3))]
        elif way == 4:
            words = [dice.choice(parts) for _ in range(dice.randint(1, 5))]
        found.append((", " if way == 3 else " " if way == 4 else "").join(words))
    return found


def test_the_page_says_what_python_says(sheet, request):
    """Every exercise of every lesson, whatever its kind, the right answers first."""
    cells = [
        (path, cell) for path in LESSONS for cell in read_notebook(path).cells if "exercise" in cell.metadata.get("tags", ())
    ]
    lessons = [(path.stem, played(read_notebook(path).cells, path.parent, {"exercise"})) for path in LESSONS]
    count = sum(len(live.exercises) for _, live in lessons)
    each = OVER_ALL // count + 1 if request.config.getoption("--every-case") else OVER_ALL // count // 10 + 1
    unanswered = [cell.source for path, cell in cells if cell.id not in dict(lessons)[path.stem].exercises]
    assert not unanswered, "every kind of exercise can be answered in a page"
    sheet.goto("about:blank")
    sheet.add_script_tag(content=judge_script().replace("const JUDGE", "window.JUDGE"))
    right, said, apart = 0, set(), []
    for name, live in lessons:
        dice = random.Random(name)
        asked = {
            cell: [
                exercise["model"],
                *(answers_to(exercise, dice) for _ in range(each)),
                *([text] * len(exercise["model"]) for text in dice.sample(HOSTILE, 2)),
            ]
            for cell, exercise in live.exercises.items()
        }
        sheet.add_script_tag(content=exercises_script(live).replace("const EXERCISES", "window.EXERCISES"))
        sheet.evaluate("JUDGE.use(EXERCISES.program)")
        for cell, exercise in live.exercises.items():
            judged = sheet.evaluate(
                "([cell, every]) => every.map(answers => JUDGE.judged(EXERCISES.exercises[cell], answers))", [cell, asked[cell]]
            )
            for answers, sentence in zip(asked[cell], judged, strict=True):
                if sentence != (meant := told(exercise, answers)):
                    apart.append((name, cell, answers, sentence, meant))
            right += judged[0].startswith("Yes")
            said |= {sentence[:20] for sentence in judged}
    assert not apart, apart[:5]
    assert right == count > 40 and len(said) > 30


OWN = """
from oddswap.lessons import begin
from oddswap import load, changed

def check_flips(changes, most):
    "A checker of one's own, in the notebook."
    cube = load("cube:3")
    state = changed(cube, [part.strip() for part in changes.split(",")])
    flips = sum(state.twists[slot] for slot in range(8, 20))
    return Note(f"Yes: {flips} flips." if flips <= most else f"Not yet: {flips} flips, at most {most}.")
"""


def test_a_checker_of_ones_own_notebook_judges_in_the_page(sheet, tmp_path):
    imports = "from oddswap.showing.ink.widgets import Note" + OWN
    cells = [
        v4.new_code_cell(imports, metadata={"tags": ["imports"]}, id="a"),
        v4.new_code_cell('check_flips("", 2)', metadata={"tags": ["exercise"]}, id="b"),
        v4.new_code_cell('check_flips("flip UF", 2)', metadata={"tags": ["answer"]}, id="c"),
    ]
    live = played(cells, tmp_path)
    sheet.goto("about:blank")
    sheet.add_script_tag(content=judge_script().replace("const JUDGE", "window.JUDGE"))
    sheet.add_script_tag(content=exercises_script(live).replace("const EXERCISES", "window.EXERCISES"))
    judge = "answers => (JUDGE.use(EXERCISES.program), JUDGE.judged(EXERCISES.exercises.b, answers))"
    assert sheet.evaluate(judge, ["flip UF, flip UR"]) == "Yes: 2 flips."
    assert sheet.evaluate(judge, ["flip UF, flip UR, flip DF"]) == "Not yet: 3 flips, at most 2."
    assert sheet.evaluate(judge, ["flap UF"]).startswith("That cannot be read yet: change `flap UF`: unknown")
