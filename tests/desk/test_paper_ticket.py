"""Paper tickets for solids with faces, other solids, and boards: questions, and something to colour in."""

import numpy as np
import pypdfium2
import pytest
from pypdf import PdfReader

from oddswap.desk.paper_ticket import QUESTIONS, write_paper_ticket
from oddswap.puzzles.catalogue import load


@pytest.mark.parametrize("name", ["cube:3", "cuboid:2x3x4", "shape-mod:prism8", "tiles:3x3"])
def test_a_page_with_questions_and_a_drawing_without_colour(name, tmp_path):
    path = write_paper_ticket(load(name), tmp_path / "ticket.pdf")
    (page,) = PdfReader(path).pages
    text = " ".join(page.extract_text().split())
    assert load(name).title in text and all(question.split("?")[0] in text for question in QUESTIONS)
    document = pypdfium2.PdfDocument(path)
    try:
        pixels = np.asarray(document[0].render(scale=0.7).to_numpy())[..., :3].astype(int)
        assert (pixels.max(axis=2) - pixels.min(axis=2)).max() < 60, "nothing is coloured yet"
        assert (pixels.min(axis=2) < 90).sum() > 300
    finally:
        document.close()
