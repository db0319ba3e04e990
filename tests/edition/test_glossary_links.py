"""Links to the glossary and back."""

from __future__ import annotations

import re
from pathlib import Path

import nbformat
import pytest

from oddswap.edition.pages import anchor, linked, with_places
from oddswap.lessons.machinery.course import alphabet, glossary_table, lessons, themes, words

LINK = re.compile(r'<a class="word"(?: id="([\w-]+)")? href="appendix_glossary\.html#([\w-]+)">(.*?)</a>', re.DOTALL)
LESSONS = sorted((Path(__file__).parents[2] / "notebooks").glob("[0-9]*.ipynb"))


def test_the_first_use_is_linked_and_no_other():
    law = '<a class="word" href="appendix_glossary.html#word-law">law</a>'
    parity = '<a class="word" href="appendix_glossary.html#word-false-parity">false\nparity</a>'
    cells = ["# A law\n\nNo `law`, [no law](law.md); a **law** and laws.", "One more law, and false\nparity."]
    assert linked(cells, "14") == [
        f"# A law\n\nNo `law`, [no law](law.md); a **{law}** and laws.",
        f"One more law, and {parity}.",
    ]


def test_an_everyday_word_is_left_alone_before_it_is_explained():
    word = next(word for word in words() if word.everyday and word.lesson > "00")
    said = f"Here is {word.word}."
    assert linked([said], "00", [word]) == [said]
    assert linked([said], word.lesson, [word]) != [said]


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_taking_the_links_away_gives_the_lesson_back(path):
    cells = [cell.source for cell in nbformat.read(path, 4).cells if cell.cell_type == "markdown"]
    found = linked(cells, path.name[:2])
    assert [LINK.sub(r"\3", cell) for cell in found] == cells
    links = LINK.findall("\n".join(found))
    explained = [name for name, _, _ in links if name]
    assert len(explained) == len(set(explained))
    assert {anchor(word) for word in words() if word.lesson == path.name[:2]} == set(explained)


def test_every_word_has_its_row_and_its_place_in_the_alphabet():
    pages = {lesson.number: f"lesson_{lesson.number}" for lesson in lessons()}
    tables = "\n".join(with_places(glossary_table(theme), pages) for theme in themes())
    listed = with_places(alphabet(), pages)
    for word in words():
        assert f'<span id="{anchor(word)}">**{word.word}**</span>' in tables
        assert f'<a href="lesson_{word.lesson}.html#{anchor(word)}">{word.lesson}</a>' in tables
        assert f'<a href="#{anchor(word)}">{word.word}</a>' in listed
    assert ".ipynb" not in tables
    assert "| 00 |" in with_places(glossary_table(themes()[0]), {})
