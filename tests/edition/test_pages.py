"""Cells and outputs as a page.

Links to the glossary and back.
"""

from __future__ import annotations

import re
from base64 import b64encode
from pathlib import Path

import nbformat
import pytest
from nbformat import v4, write

from oddswap.edition.pages import TO_RUN, WIDGET, alts, anchor, linked, page_of, read_notebook, with_places
from oddswap.lessons.machinery.course import alphabet, glossary_table, lessons, themes, words

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"


def cell(source, tags, *outputs):
    made = [v4.new_output("execute_result", data=data, execution_count=1) for data in outputs]
    return v4.new_code_cell(source, execution_count=1, metadata={"tags": list(tags)}, outputs=made, id="here")


def page(tmp_path, *cells):
    path = tmp_path / "01_a_question.ipynb"
    write(v4.new_notebook(cells=[v4.new_markdown_cell("# A question?\n\nHere *it* is: `a <b>`."), *cells]), path)
    return page_of(path, "<p>Play.</p>", {"00": "00_before"})


def test_a_picture_lies_beside_the_page_with_words_for_those_who_do_not_see_it(tmp_path):
    text, pictures = page(
        tmp_path, cell("draw()", ["picture"], {"image/png": b64encode(b"pixels").decode(), "text/plain": "<Figure>"})
    )
    assert pictures == {"01_a_question_here.png": b"pixels"}
    assert ':alt: "A picture to these words: Here it is: a <b>."' in text
    assert "<summary>The code of what stands below</summary>" in text and "<Figure>" not in text


def test_where_a_control_stood_the_reader_is_led_on(tmp_path):
    text, _ = page(tmp_path, cell("knob()", ["knob"], {WIDGET: {}, "text/plain": f"flipped: <1>\nand more\n{TO_RUN}"}))
    assert "<pre>flipped: &lt;1&gt;\nand more</pre>" in text
    assert "<p>Play.</p></aside>" in text and TO_RUN not in text


def test_links_between_notebooks_lead_to_pages_and_code_stays_as_it_is(tmp_path):
    """A notebook that is not in the folder is named, without a link."""
    (tmp_path / "00_before.ipynb").touch()
    markdown = v4.new_markdown_cell("See [there](00_before.ipynb), not [after](02_after.ipynb).")
    code = v4.new_code_cell("x = '```'", execution_count=1, outputs=[v4.new_output("stream", text="a\n```\nb\n")])
    text, _ = page(tmp_path, markdown, code)
    assert "[there](00_before.md), not after." in text
    assert "`````python\nx = '```'\n`````" in text and "`````text\na\n```\nb\n`````" in text


def test_the_words_for_pictures_belong_to_pictures_of_the_lessons():
    for name, told in alts().items():
        cells = nbformat.read(NOTEBOOKS / f"{name}.ipynb", 4).cells
        drawn = {cell.id for cell in cells if any("image/png" in output.get("data", {}) for output in cell.get("outputs", ()))}
        assert set(told) <= drawn, name
        assert all(words[0].isupper() and words.endswith(".") and len(words) > 40 for words in told.values())


def test_no_page_speaks_of_running_cells():
    """What only a notebook's reader can do is marked there, and left out here."""
    words = r"\b[Rr]un\s+(the|this|a|it|all)?\s*(next |first |guess )?cells?\b|Shift\+Enter|quotation marks"
    for path in NOTEBOOKS.glob("*.ipynb"):
        live = {cell.id: "" for cell in read_notebook(path).cells if cell.cell_type == "code"}
        assert not (found := re.search(words, page_of(path, "", {}, live)[0])), (path.name, found)


def test_a_page_without_jupyter_says_nothing_of_it(tmp_path):
    path = tmp_path / "01_a_question.ipynb"
    write(v4.new_notebook(cells=[v4.new_markdown_cell('# Why?\n\nWrite<span class="lab"> and\nrun</span>.')]), path)
    assert "Write." in page_of(path, "", {})[0]


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


def test_in_order_is_no_order():
    cells = ["In which order? Lay the cards in order.", "Its order is 6."]
    first, second = linked(cells, "05")
    assert first == cells[0] and 'href="appendix_glossary.html#word-order"' in second


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
