"""Sheets, keys and cut-outs as pages: their words, and that none is cut off."""

from __future__ import annotations

import numpy as np
import pypdfium2
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.canvas import write_pdf
from oddswap.words.products.worksheets import QUESTIONS
from oddswap.workshop.count_sheet import flip_count
from oddswap.workshop.cut_outs import cut_out_pages
from oddswap.workshop.worksheet_pages import key_pages, sheet_pages
from oddswap.workshop.worksheets import worksheet

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


@pytest.mark.parametrize("name", ["cuboid:2x3x4", "dodecahedron", "corner-cube"])
def test_a_net_twice_two_blocks_a_board_and_tiles(name):
    net, empty, blocks, board, tiles = cut_out_pages([load(name)])
    facets = list(load(name).geometry.facets)
    assert all(words([page]).split().count(facet) >= 1 for page in (net, empty) for facet in facets)
    assert words([blocks]).count("↑") == 2 and words([tiles]).split().count("A") == 2


def test_flips_are_counted_where_a_law_of_flips_can_be_seen_and_turns_always_go():
    names = ("cube:2", "shape-mod:prism8", "cube:3,joined=UF-UFR")
    assert flip_count([load(name) for name in names], 1) is None
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
