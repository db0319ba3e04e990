"""The facilitator's guide: its times add up, the notebooks that it names exist, and the cautions are in it."""

from __future__ import annotations

import re
from pathlib import Path

from oddswap.workshop.guide import guide_markdown, guide_pages

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
TEXT = guide_markdown(2, ["cube of 3 slabs", "prism"], {"cube of 3 slabs": (5.51, 2.66), "prism": (4.0, 3.0)}, 4)


def section(head: str) -> str:
    return TEXT.split(f"## {head}\n")[1].split("\n## ")[0]


def test_the_minutes_add_up():
    for head, whole in (("Ninety minutes", 90), ("Thirty minutes", 30)):
        assert sum(int(n) for n in re.findall(r"^\| (\d+) \|", section(head), re.M)) == whole


def test_it_is_filled_in():
    assert "{" not in TEXT and "Level 2" in TEXT and "cube of 3 slabs and prism" in TEXT and "4 tables" in TEXT
    assert "| cube of 3 slabs | 5.5 | 2.7 |" in TEXT


def test_the_notebooks_that_cure_a_thought_are_there_by_their_titles():
    named = re.findall(r"\| (\d\d) ([^|]+\?) \|", TEXT)
    assert len(named) >= 8
    for number, title in named:
        (path,) = NOTEBOOKS.glob(f"{number}_*.ipynb")
        assert title in path.read_text(encoding="utf-8"), title


def test_cautions_and_the_places_own_rules():
    for words in ("house rules", "never force", "magnets", "children", "owns the"):
        assert words in TEXT.lower().replace("\n", " "), words


def test_it_can_be_printed():
    pages = guide_pages(TEXT)
    text = " ".join(t.get_text() for page in pages for axes in page.axes for t in axes.texts).replace("\n", " ")
    assert 2 <= len(pages) <= 4 and "Ninety minutes" in text and "5.5" in text and "|" not in text
