"""Sheets, keys and cut-outs as pages: their words, and that none is cut off."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pypdfium2
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.patches import Rectangle

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.canvas import Paper, write_pdf
from oddswap.words.products.worksheets import QUESTIONS, names_explained
from oddswap.workshop.count_sheet import flip_count
from oddswap.workshop.cut_outs import cut_out_pages
from oddswap.workshop.worksheet_pages import _turned_families, key_pages, lay_set_up, sheet_pages, slides
from oddswap.workshop.worksheets import Question, worksheet

SHEET = worksheet(load("shape-mod:prism8"), 1, 7, 2)


def words(pages) -> str:
    return " ".join(text.get_text() for page in pages for axes in page.axes for text in axes.texts).replace("\n", " ")


def test_a_sheet_has_every_question_with_its_choices_and_letters_on_stickers():
    text = words(sheet_pages(SHEET))
    for number, question in enumerate(SHEET.questions, 1):
        assert f"{number} {QUESTIONS[question.sort]}" in text
        for letter, choice in zip("abcd", question.choices, strict=False):
            assert f"{letter}) {choice}" in text
    assert {"U", "F", "R"} <= set(text.split()) and SHEET.questions[0].proof not in text


def test_a_key_has_every_answer_with_its_proof():
    text = words(key_pages(SHEET, [1]))
    for number, question in enumerate(SHEET.questions, 1):
        assert f"{number} {'abcd'[question.right]}) {question.choices[question.right]}" in text
        assert question.proof in text and all(change in text for change in question.changes)


@pytest.mark.parametrize("name", ["cuboid:2x3x4", "dodecahedron", "octahedron", "tetrahedron", "corner-cube"])
def test_words_lie_within_their_page_and_on_nothing_else_where_laws_and_turns_take_much_room(name):
    """Of text that is no letter on a sticker; captions below pictures that are too small would touch."""
    made = worksheet(load(name), 1, 1)
    for page in (*sheet_pages(made, "Letter"), *slides(made.questions)):
        drawn = FigureCanvasAgg(page).get_renderer()
        said = [text for axes in page.axes for text in axes.texts if len(text.get_text()) > 5]
        boxes = [(text.get_text(), text.get_window_extent(drawn)) for text in said]
        small = [
            patch for axes in page.axes for patch in axes.patches if isinstance(patch, Rectangle) and patch.get_width() < 0.3
        ]
        for (one, a), (two, b) in combinations([*boxes, *(("a box", patch.get_window_extent(drawn)) for patch in small)], 2):
            assert not a.overlaps(b), (name, one, two)
        for one, a in boxes:
            assert 0 <= a.x0 < a.x1 <= page.bbox.width and 0 <= a.y0 < a.y1 <= page.bbox.height, (name, one)


def test_what_is_counted_can_be_seen():
    assert _turned_families(load("corner-cube")) == [("corners", 3)]
    assert _turned_families(load("shape-mod:prism8")) == [("corners", 3), ("edges", 2)]


def test_a_strip_stands_on_the_page_of_its_turns_home():
    page = Paper("Letter")
    page.text("much before it " * 30, 11)
    lay_set_up(page, load("corner-cube"), "DFL UBL UFR' UBL' UFR DFL' UFR' UBL UFR UBL'", "1 " + "DFL UBL UFR' " * 5)
    assert sum("Back home" in words([each]) for each in page.pages) == 1
    assert all(("Back home" in words([each])) == ("UBL UFR" in words([each])) for each in page.pages)


def test_a_table_has_its_head_on_each_page():
    page = Paper()
    page.table([["number", "what"], *([str(number), "a row"] for number in range(60))])
    assert len(page.pages) > 1 and all(words([each]).split()[0] == "number" for each in page.pages)
    assert sum(words([each]).count("a row") for each in page.pages) == 60


@pytest.mark.parametrize(
    ("name", "choices", "says"),
    [
        ("cuboid:2x3x4", None, "UL.b2 is the top left edge block in the second layer from the back."),
        ("shape-mod:prism8", ("FR", "U"), "FR is the front right edge and U is the middle block on the top side."),
        ("corner-cube", ("UFR", "F"), "the letters of the sides that meet"),
    ],
)
def test_names_of_places_are_explained_on_their_sheet(name, choices, says):
    puzzle = load(name)
    sort = "culprit" if choices else "law"
    choices = choices or tuple(law.statement for law in puzzle.laws.laws if law.seen)
    told = " ".join(names_explained(puzzle, Question(sort, name, choices, 0, "", puzzle.solved, "")))
    assert says in told and ("Evenly" in told) == (sort == "law")


@pytest.mark.parametrize("name", ["cuboid:2x3x4", "dodecahedron", "corner-cube"])
def test_a_net_twice_two_blocks_a_board_and_tiles(name):
    net, empty, blocks, board, tiles = cut_out_pages([load(name)])
    facets = list(load(name).geometry.facets)
    assert all(words([page]).split().count(facet) >= 1 for page in (net, empty) for facet in facets)
    assert words([blocks]).count("↑") == 2 and words([tiles]).split().count("A") == 2


def test_flips_are_counted_where_a_law_of_flips_can_be_seen_and_turns_always_go():
    names = ("cube:2", "shape-mod:prism8", "cube:3,joined=UF-UFR", "dodecahedron")
    assert flip_count([load(name) for name in names], 1) is None, "nor on so many sides that marks are lost"
    assert flip_count([load(name) for name in (*names, "cube:3")], 1).puzzle.name == "cube:3"


def test_nothing_is_cut_off_at_the_edge(tmp_path):
    path = write_pdf([*sheet_pages(SHEET), *key_pages(SHEET, [1]), *cut_out_pages([load("cuboid:2x3x4")])], tmp_path / "all.pdf")
    document = pypdfium2.PdfDocument(path)
    try:
        for page in document:
            grey = np.asarray(page.render(scale=0.7, grayscale=True).to_numpy()).squeeze()
            rim = np.concatenate([grey[:14].ravel(), grey[-14:].ravel(), grey[:, :14].ravel(), grey[:, -14:].ravel()])
            assert rim.min() > 240 and grey.min() < 120
    finally:
        document.close()
