"""Sheets, keys, envelopes and cut-outs as pages: their words, and that strips work on every copy at a table."""

from __future__ import annotations

import numpy as np
import pypdfium2
import pytest

from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.ink.paper import write_pdf
from oddswap.words.products.worksheets import QUESTIONS
from oddswap.workshop.worksheet_pages import cut_out_pages, envelope_pages, key_pages, sheet_pages, table_word
from oddswap.workshop.worksheets import worksheet

SHEET = worksheet(load("shape-mod:prism8"), 1, 7, 2)
MIXED = ("cube:3", "shape-mod:prism8", "shape-mod:cube,axis=U,degrees=45", "cube:3,centres=marked")


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
    text = words(key_pages(SHEET))
    for number, question in enumerate(SHEET.questions, 1):
        assert f"{number} {'abcd'[question.right]}) {question.choices[question.right]}" in text
        assert question.proof in text and all(change in text for change in question.changes)


@pytest.mark.parametrize("level", [1, 2, 3])
def test_one_strip_sets_every_copy_up_and_one_resets_it(level):
    puzzles = [load(name) for name in MIXED]
    for table in range(1, 6):
        word, back = table_word(puzzles, level, 3, table)
        assert len(word.split()) <= 6
        for puzzle in puzzles:
            there = puzzle.follow(word)
            assert not looks_solved(puzzle, puzzle.appearance(there))
            assert looks_solved(puzzle, puzzle.appearance(puzzle.follow(back, there)))
    text = words(envelope_pages(puzzles, level, 3, 1))
    assert "set-up strip" in text and "reset strip" in text and "House rules come first." in text


def test_copies_without_common_turns_are_refused():
    with pytest.raises(BadOption, match="in common"):
        table_word([load("cube:3"), load("dodecahedron")], 1, 1, 1)


@pytest.mark.parametrize(("name", "pages"), [("cube:3", 3), ("cuboid:2x3x4", 3), ("dodecahedron", 1)])
def test_nets_where_there_are_six_faces_and_tiles_always(name, pages):
    found = cut_out_pages(load(name))
    assert len(found) == pages
    assert "Tile cards" in words(found[-1:]) and words(found[-1:]).split().count("A") == 3, "two cards and the article"


def test_nothing_is_cut_off_at_the_edge(tmp_path):
    path = write_pdf([*sheet_pages(SHEET), *key_pages(SHEET), *cut_out_pages(load("cuboid:2x3x4"))], tmp_path / "all.pdf")
    document = pypdfium2.PdfDocument(path)
    try:
        for page in document:
            grey = np.asarray(page.render(scale=0.7, grayscale=True).to_numpy()).squeeze()
            rim = np.concatenate([grey[:14].ravel(), grey[-14:].ravel(), grey[:, :14].ravel(), grey[:, -14:].ravel()])
            assert rim.min() > 240 and grey.min() < 120
    finally:
        document.close()
