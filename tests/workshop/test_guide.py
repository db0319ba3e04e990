"""The script: the notebooks that it names exist, the cautions are in it, and without a law of flips none are counted."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.workshop.guide import guide_markdown, guide_pages, planned

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"


@pytest.fixture(scope="module")
def text():
    return guide_markdown(planned([load("cube:2")], 2, 5, 3, 3, 8, Budget().start()))


def test_it_is_filled_in(text):
    assert "{" not in text and "Level 2" in text and "cube of 2 layers. 8 people at 3 tables" in text
    assert "Count the flips" not in text and "in what circles" in text


def test_the_notebooks_that_cure_a_thought_are_there_by_their_titles(text):
    named = re.findall(r"\| ([^|]+\?) \|$", text.split("which lesson cures it")[1].split("##")[0], re.M)
    lessons = " ".join(path.read_text(encoding="utf-8") for path in NOTEBOOKS.glob("*.ipynb"))
    assert len(named) >= 8 and all(title in lessons for title in named)


def test_cautions_and_the_places_own_rules(text):
    for words in ("house rules", "never force", "magnets", "children", "owns the", "scissors only under supervision"):
        assert words in text.lower(), words


def test_it_can_be_printed(text):
    pages = guide_pages(text)
    printed = " ".join(t.get_text() for page in pages for axes in page.axes for t in axes.texts).replace("\n", " ")
    assert "Ninety minutes" in printed and not set("|`*") & set(printed)


def test_a_table_has_its_head_on_every_page_and_no_heading_stands_at_the_foot():
    long = guide_markdown(planned([load("cube:2")], 2, 5, 20, 20, 40, Budget().start()))
    pages = [sorted(page.axes[0].texts, key=lambda t: -t.get_position()[1]) for page in guide_pages(long)]
    bold = [[t.get_text() for t in page if t.get_weight() == "bold"] for page in pages]
    assert sum(words.count("question 3") for words in bold) > 1
    for page in pages:
        assert page[-1].get_weight() != "bold"
        if page[0].get_text().isdigit() or page[1].get_text().isdigit():
            raise AssertionError("a page begins with a row of a table")
