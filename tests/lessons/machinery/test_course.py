"""The course as data says what the notebooks say of themselves; its table stands in the README, and its picture shows it all."""

import re
from dataclasses import replace
from itertools import combinations, pairwise, product
from pathlib import Path

import nbformat
import numpy as np
import pytest
from matplotlib.patches import FancyArrowPatch, Rectangle

from oddswap.lessons.machinery.course import how_the_lessons_depend, index_table, known_before, lessons
from tests.frame import headings, source

ROOT = Path(__file__).parents[3]


def opening(lesson) -> str:
    notebook = nbformat.read(ROOT / "notebooks" / f"{lesson.name}.ipynb", as_version=4)
    return "\n".join(source(cell) for cell in notebook.cells if cell.cell_type == "markdown").split("## Look")[0]


def test_every_lesson_is_in_the_course_and_every_entry_has_its_notebook():
    assert [lesson.name for lesson in lessons()] == sorted(p.stem for p in (ROOT / "notebooks").glob("[0-9][0-9]_*.ipynb"))


@pytest.mark.parametrize("lesson", lessons(), ids=lambda lesson: lesson.number)
def test_question_and_minutes_are_those_of_the_notebook(lesson):
    notebook = nbformat.read(ROOT / "notebooks" / f"{lesson.name}.ipynb", as_version=4)
    assert headings(notebook, 1) == [lesson.question]
    assert re.findall(r"(\d+) minutes", opening(lesson)) == [str(lesson.minutes)]


@pytest.mark.parametrize("lesson", lessons(), ids=lambda lesson: lesson.number)
def test_what_a_lesson_needs_is_what_it_says_and_comes_before(lesson):
    need = opening(lesson).split("**Need**")[1]
    named = {other.number for other in lessons() if other.question in need or re.search(rf"\b{other.number}\b(?! minutes)", need)}
    assert named == set(lesson.needs + lesson.helps)
    assert all(other < lesson.number for other in named) and not set(lesson.needs) & set(lesson.helps)


def test_the_table_stands_in_the_readme():
    assert index_table() in (ROOT / "README.md").read_text("utf-8")


def test_what_a_lesson_needs_is_followed_to_the_first():
    a, b, c = (replace(lessons()[0], name=name, needs=needs) for name, needs in (("00", ()), ("01", ("00",)), ("02", ("01",))))
    assert known_before("02", (a, b, c)) == {"00", "01"}


def rises(line) -> bool:
    return max(line[:, 1]) > line[0, 1]


def meet(one, other) -> bool:
    """Whether two lines of right angles touch: their parts are boxes without width, which meet where their shadows do."""
    for (a, b), (c, d) in product(pairwise(one), pairwise(other)):
        if np.all(np.minimum(a, b) <= np.maximum(c, d) + 1e-9) and np.all(np.minimum(c, d) <= np.maximum(a, b) + 1e-9):
            return True
    return False


def drawn(course=None):
    """The picture's axes, its lines as rows of points, and its cards as (x, y, width, height)."""
    ax = how_the_lessons_depend(course).axes[0]
    lines = [patch._path_original.vertices for patch in ax.patches if isinstance(patch, FancyArrowPatch)]
    cards = [patch.get_bbox() for patch in ax.patches if isinstance(patch, Rectangle)]
    return ax, lines, [card for card in cards if card.height > 0.5]


def test_the_picture_has_a_card_for_each_lesson_and_only_the_lines_that_say_something_new():
    ax, lines, cards = drawn()
    words = {" ".join(text.get_text().split()) for text in ax.texts}
    assert len(cards) == len(lessons()) and {lesson.question for lesson in lessons()} <= words
    needed = {(other, lesson.number) for lesson in lessons() for other in lesson.needs}
    plain = {(a, c) for a, b in needed for d, c in needed if b == d}
    assert len(lines) == len(needed - plain)
    assert all(f"{lesson.number} looks back at {other}" in " ".join(words) for lesson in lessons() for other in lesson.helps)


def test_lines_have_right_angles_go_down_and_touch_neither_each_other_nor_a_card():
    _, lines, cards = drawn()
    assert all(np.isclose(a, b).any() for line in lines for a, b in pairwise(line)) and not any(map(rises, lines))
    assert [pair for pair in combinations(range(len(lines)), 2) if meet(lines[pair[0]], lines[pair[1]])] == []
    for line, card in product(lines, cards):
        inside = np.array([[card.x0 + 0.01, card.y0 + 0.01], [card.x1 - 0.01, card.y1 - 0.01]])
        assert not any(meet(part, inside) for part in pairwise(line))


def test_a_line_that_crosses_another_is_seen():
    first, second, third, fourth = (
        replace(lessons()[0], name=name, row=0, column=n) for n, name in enumerate(("00", "01", "02", "03"))
    )
    down = replace(third, needs=("01",), row=3, column=0), replace(fourth, needs=("00",), row=2, column=1)
    _, lines, _ = drawn((first, second, *down))
    assert meet(*lines)
