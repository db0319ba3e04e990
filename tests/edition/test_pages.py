"""Cells and outputs as a page."""

from __future__ import annotations

import re
from base64 import b64encode
from pathlib import Path

import nbformat
from nbformat import v4, write

from oddswap.edition.pages import TO_RUN, WIDGET, alts, page_of, read_notebook

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"


def cell(source, tags, *outputs):
    made = [v4.new_output("execute_result", data=data, execution_count=1) for data in outputs]
    return v4.new_code_cell(source, execution_count=1, metadata={"tags": list(tags)}, outputs=made, id="here")


def page(tmp_path, *cells):
    path = tmp_path / "01_a_question.ipynb"
    write(v4.new_notebook(cells=[v4.new_markdown_cell("# A question?\n\nHere *it* is: `a <b>`."), *cells]), path)
    return page_of(path, "<p>Play.</p>", {"00": "00_before"})


def test_a_picture_lies_beside_the_page_with_words_for_those_who_do_not_see_it(tmp_path):
    made = page(tmp_path, cell("draw()", ["picture"], {"image/png": b64encode(b"pixels").decode(), "text/plain": "<Figure>"}))
    assert made.pictures == {"01_a_question_here.png": b"pixels"}
    assert ':alt: "A picture to these words: Here it is: a <b>."' in made.text
    assert "<summary>The code of what stands below</summary>" in made.text and "<Figure>" not in made.text


def test_where_a_control_stood_the_reader_is_led_on(tmp_path):
    made = page(tmp_path, cell("knob()", ["knob"], {WIDGET: {}, "text/plain": f"flipped: <1>\n{TO_RUN}"}))
    assert "<em>flipped: &lt;1&gt;</em>" in made.text and "<p>Play.</p></aside>" in made.text and TO_RUN not in made.text


def test_links_between_notebooks_lead_to_pages_and_code_stays_as_it_is(tmp_path):
    """A notebook that is not in the folder is named, without a link."""
    (tmp_path / "00_before.ipynb").touch()
    markdown = v4.new_markdown_cell("See [there](00_before.ipynb), not [after](02_after.ipynb).")
    code = v4.new_code_cell("x = '```'", execution_count=1, outputs=[v4.new_output("stream", text="a\n```\nb\n")])
    made = page(tmp_path, markdown, code)
    assert "[there](00_before.md), not after." in made.text
    assert "`````python\nx = '```'\n`````" in made.text and "`````text\na\n```\nb\n`````" in made.text


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
        assert not (found := re.search(words, page_of(path, "", {}, live).text)), (path.name, found)


def test_a_page_without_jupyter_says_nothing_of_it(tmp_path):
    path = tmp_path / "01_a_question.ipynb"
    write(v4.new_notebook(cells=[v4.new_markdown_cell('# Why?\n\nWrite<span class="lab"> and\nrun</span>.')]), path)
    assert "Write." in page_of(path, "", {}).text
