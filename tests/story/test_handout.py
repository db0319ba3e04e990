"""Handouts read by PDF libraries that are not ours: pages, paper, fonts, words; and looked at in grey."""

from __future__ import annotations

from io import BytesIO

import numpy as np
import pypdfium2
import pytest
from PIL import Image
from pypdf import PdfReader

from oddswap.showing.ink.canvas import write_pdf
from oddswap.showing.ink.palette import HIGHLIGHT
from oddswap.showing.ink.widgets import png
from oddswap.story.handout import handout_pages
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from tests.story.stories import NOTE, told

CASES = ["lookalike", "not by turning", "cannot tell yet", "tiles"]


@pytest.fixture(scope="module", params=CASES)
def handout(request, tmp_path_factory):
    found = told(request.param)
    times = timeline(story_of(found), found)
    return found, times, write_pdf(handout_pages(found, times), tmp_path_factory.mktemp("handout") / "handout.pdf")


def test_one_or_two_a4_pages_with_the_words_and_no_note(handout):
    found, times, path = handout
    pages = PdfReader(path).pages
    assert 1 <= len(pages) <= 2
    assert all(abs(float(p.mediabox.width) - 595) < 2 and abs(float(p.mediabox.height) - 842) < 2 for p in pages)
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    for beat in times.story.beats:
        assert beat.chapter in text and all(" ".join(s.split()[:3]) in text for s in beat.says)
    if found.way_out and found.way_out.length:
        assert found.way_out.moves.split()[0] in text and "result" in text
    assert "Notes" in text and not any(word in text for word in NOTE.split() if len(word) > 4)


@pytest.mark.parametrize("case", ["slip", "twins"])
def test_what_its_sentences_point_at_is_marked_on_its_picture(case):
    """Both places have a rim that no sticker has."""
    found = told(case)
    (figure, *_) = handout_pages(found, timeline(story_of(found), found))
    page = np.asarray(Image.open(BytesIO(png(figure, 80))).convert("RGB")).astype(int)
    assert (np.abs(page - [int(HIGHLIGHT[i : i + 2], 16) for i in (1, 3, 5)]).max(axis=2) < 30).sum() > 60


def test_fonts_are_embedded(handout):
    embedded = [
        any(key in font["/FontDescriptor"] for key in ("/FontFile", "/FontFile2", "/FontFile3"))
        for page in PdfReader(handout[2]).pages
        for entry in page["/Resources"]["/Font"].values()
        for font in [_last(entry.get_object())]
    ]
    assert embedded and all(embedded)


def _last(font):
    return font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font


def test_nothing_lies_outside_the_page_and_it_reads_in_grey(handout):
    """A margin of a third of an inch stays white; in grey there is ink from black to white."""
    document = pypdfium2.PdfDocument(handout[2])
    try:
        for number in range(len(document)):
            grey = np.asarray(document[number].render(scale=1.0, grayscale=True).to_numpy()).squeeze()
            rim = np.concatenate([grey[:24].ravel(), grey[-24:].ravel(), grey[:, :24].ravel(), grey[:, -24:].ravel()])
            assert rim.min() > 240
            if number == 0:
                assert grey.min() < 60 and grey.max() > 250
    finally:
        document.close()


def test_letter_paper_and_the_same_bytes_again(tmp_path):
    found = told("slip")
    times = timeline(story_of(found), found)
    one, two = (write_pdf(handout_pages(found, times, paper="Letter"), tmp_path / name) for name in ("one.pdf", "two.pdf"))
    assert one.read_bytes() == two.read_bytes()
    page = PdfReader(one).pages[0].mediabox
    assert (round(float(page.width)), round(float(page.height))) == (612, 792)
