"""The course as data says what the notebooks say of themselves; its table stands in the README, and its picture shows it all."""

import re
from dataclasses import replace
from pathlib import Path

import nbformat
import pytest
from matplotlib.patches import FancyArrowPatch, Rectangle

from oddswap.lessons.course import how_the_lessons_depend, index_table, known_before, lessons, levels
from tests.frame import headings, source

ROOT = Path(__file__).parents[2]


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
    named = {other.number for other in lessons() if other.question in need or re.search(rf"\b{other.number}\b", need)}
    assert named == set(lesson.needs + lesson.helps)
    assert all(other < lesson.number for other in named) and not set(lesson.needs) & set(lesson.helps)


def test_the_table_stands_in_the_readme():
    assert index_table() in (ROOT / "README.md").read_text("utf-8")


def test_what_a_lesson_needs_is_followed_to_the_first():
    a, b, c = (replace(lessons()[0], name=name, needs=needs) for name, needs in (("00", ()), ("01", ("00",)), ("02", ("01",))))
    assert known_before("02", (a, b, c)) == {"00", "01"} and levels((a, b, c)) == {"00": 0, "01": 1, "02": 2}


def test_the_picture_has_a_card_for_each_lesson_and_only_the_arrows_that_say_something_new():
    ax = how_the_lessons_depend().axes[0]
    cards = [patch for patch in ax.patches if isinstance(patch, Rectangle)]
    arrows = [patch for patch in ax.patches if isinstance(patch, FancyArrowPatch)]
    words = {" ".join(text.get_text().split()) for text in ax.texts}
    assert len(cards) == len(lessons()) and {lesson.question for lesson in lessons()} <= words
    assert len({card.get_xy() for card in cards}) == len(cards)
    needed = {(other, lesson.number) for lesson in lessons() for other in lesson.needs}
    plain = {(a, c) for a, b in needed for d, c in needed if b == d}
    helped = sum(len(lesson.helps) for lesson in lessons())
    assert len(arrows) == len(needed - plain) + helped and ("02", "05") in plain
    assert sum(arrow.get_linestyle() == "--" for arrow in arrows) == helped
