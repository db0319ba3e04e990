"""Pages that fill from the top, turn where they are full, and become the same file each time."""

from __future__ import annotations

import pytest
from pypdf import PdfReader

from oddswap.showing.ink.paper import EDGE, PAPERS, Paper, write_pdf


@pytest.mark.parametrize("paper", PAPERS)
def test_text_stays_inside_and_goes_on_overleaf(paper, tmp_path):
    page = Paper(paper)
    for number in range(60):
        page.text(f"line {number} " + "of many words that must be broken into lines " * 4)
        assert EDGE - 0.2 <= page.y <= page.height - EDGE
    path = write_pdf(page.pages, tmp_path / "text.pdf")
    found = PdfReader(path).pages
    assert len(found) == len(page.pages) > 1
    text = " ".join(one.extract_text() for one in found)
    assert all(f"line {number} " in text for number in range(60))
    wide, high = PAPERS[paper]
    assert abs(float(found[0].mediabox.width) / 72 - wide) < 0.01 and abs(float(found[0].mediabox.height) / 72 - high) < 0.01


def test_a_heading_is_not_left_alone_at_the_foot():
    page = Paper()
    page.y = EDGE + 0.5
    page.heading("Next")
    assert len(page.pages) == 2


def test_a_box_lies_below_what_is_there_or_overleaf():
    page = Paper()
    before = page.y
    axes = page.box(2.0)
    assert page.y == before - 2.0 and abs(axes.get_position().y0 * page.height - page.y) < 1e-9
    page.box(page.height - 2 * EDGE - 0.1)
    assert len(page.pages) == 2


def test_a_fault_leaves_no_file(tmp_path):
    with pytest.raises(ValueError):
        write_pdf([Paper().pages[0], None], tmp_path / "half.pdf")
    assert list(tmp_path.iterdir()) == []
