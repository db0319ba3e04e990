"""The course as data says what the notebooks say of themselves; its table stands in the README, and its picture shows it all.

Every word of the glossary is explained in the lesson that it names, and no lesson uses one before it says what it means.
"""

import re
from collections.abc import Iterable
from dataclasses import replace
from itertools import combinations, pairwise, product
from pathlib import Path

import nbformat
import numpy as np
import pytest
from matplotlib.patches import FancyArrowPatch, Rectangle

from oddswap.errors import BadOption
from oddswap.lessons.machinery.course import (
    Word,
    alphabet,
    glossary_table,
    how_the_lessons_depend,
    index_table,
    known_before,
    lessons,
    plain_prose,
    themes,
    words,
)
from tests.frame import headings, source
from tests.frame import prose as read_by_all

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


FOLDER = Path(__file__).parents[3] / "notebooks"


def prose_of(lesson) -> str:
    """What a lesson says from its first picture on, without headings; what stands before only announces."""
    notebook = nbformat.read(FOLDER / f"{lesson.name}.ipynb", as_version=4)
    return re.sub(r"^#.*$", "", read_by_all(notebook).split("## Look")[1], flags=re.MULTILINE)


def first_uses(word: Word, prose: str) -> tuple[int | None, int | None]:
    """Where ``word`` first stands in ``prose`` at all, and where it first stands in bold or italics."""
    at = [found.start() for found in word.pattern.finditer(prose)]
    marked = [(span.start(), span.end()) for span in re.finditer(r"\*{1,2}(?=\S)[^*]+?(?<=\S)\*{1,2}", prose)]
    within = [place for place in at if any(start < place < end for start, end in marked)]
    return (at[0] if at else None), (within[0] if within else None)


def used_too_early(chosen: Iterable[Word], prose: str) -> list[str]:
    """Those of the words that stand in ``prose`` before they stand there in bold or italics, the sign of a definition."""
    early = []
    for word in chosen:
        used, marked = first_uses(word, prose)
        if used is not None and (marked is None or used < marked):
            early.append(word.word)
    return early


@pytest.mark.parametrize("lesson", lessons(), ids=lambda lesson: lesson.number)
def test_every_word_is_explained_in_the_lesson_that_it_names(lesson):
    prose = prose_of(lesson)
    assert [word.word for word in words() if word.lesson == lesson.number and first_uses(word, prose)[1] is None] == []


@pytest.mark.parametrize("lesson", lessons(), ids=lambda lesson: lesson.number)
def test_no_lesson_uses_a_word_before_it_is_explained_or_recalled(lesson):
    known = known_before(lesson.number)
    strange = [word for word in words() if word.lesson not in known and not word.everyday]
    assert used_too_early(strange, prose_of(lesson)) == []


def test_no_word_is_there_twice_and_each_names_a_lesson():
    assert len({word.word for word in words()}) == len(words())
    assert {word.lesson for word in words()} <= {lesson.number for lesson in lessons()}


@pytest.mark.parametrize("word", words(), ids=lambda word: word.word)
def test_one_plain_sentence_and_an_example(word):
    for text in (word.said, word.example):
        assert text.endswith((".", "…")) and "|" not in text and len(text) < 190
    assert not re.search(r"[.!?] [A-Z]", word.said) or word.word == "parity"


def test_the_appendix_shows_every_theme_and_word_as_it_is_now():
    notebook = nbformat.read(FOLDER / "appendix_glossary.ipynb", as_version=4)
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    shown = [o["data"].get("text/markdown", "") for cell in code for o in cell.outputs if "data" in o]
    assert [text for text in shown if text] == [*(repr(glossary_table(theme)) for theme in themes()), repr(alphabet())]
    links = {target for text in shown for target in re.findall(r"\]\(([^)]+)\)", text)}
    assert links and all((FOLDER / target).exists() for target in links)


def test_a_theme_that_is_none_gets_a_sentence_with_those_that_are():
    with pytest.raises(BadOption, match="no theme .Nonsense.: .*; Laws;"):
        glossary_table("Nonsense")


SLOT = Word("slot", "places", "00", "A place.", "UF.")


@pytest.mark.parametrize(
    ("prose", "early"),
    [
        ("A **slot** is a place. Slots are many.", []),
        ("A place is a *slot*.", []),
        ("The slots are many. A **slot** is a place.", ["slot"]),
        ("Slots, slots.", ["slot"]),
        ("A `slot` in code, and a slotted spoon.", []),
        ("The **place, or slot,** of a piece.", []),
    ],
)
def test_a_word_is_used_too_early_if_it_stands_plain_before_it_stands_marked(prose, early):
    assert used_too_early([SLOT], plain_prose(prose)) == early
