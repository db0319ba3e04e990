"""Every word of the glossary is explained in the lesson that it names, and no lesson uses one before it says what it means."""

import re
from collections.abc import Iterable
from pathlib import Path

import nbformat
import pytest

from oddswap.errors import BadOption
from oddswap.lessons.machinery.course import Word, alphabet, glossary_table, known_before, lessons, plain_prose, themes, words
from tests.frame import prose as read_by_all

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
