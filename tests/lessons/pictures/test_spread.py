"""The columns of a spread: as high as the counts, coloured as far as was gone."""

from matplotlib.colors import to_hex

from oddswap.lessons.pictures.spread import draw_levels, told
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.palette import PALETTE
from tests.common.walking import depths

COUNTS = [len(level) for level in depths(load("tiles:2x3"))]
"""From a walk over all 360 arrangements; the farthest takes 21 slides (OEIS A087725)."""


def test_columns_up_to_so_many_slides_are_coloured():
    for upto in (0, 12, 21, 30):
        bars = draw_levels(COUNTS, 720, upto).axes[0].patches
        assert [bar.get_height() for bar in bars] == COUNTS
        coloured = [to_hex(bar.get_facecolor()).upper() == PALETTE["sky blue"] for bar in bars]
        assert coloured == [d <= upto for d in range(22)]


def test_the_words_add_up_what_was_reached():
    words = [text.get_text() for text in draw_levels(COUNTS, 720, 30, note="Nothing new.").axes[0].texts]
    assert "after at most 30 slides: 360 arrangements of 720" in words and "Nothing new." in words
    assert told(COUNTS, 720, 0) == "after at most 0 slides: 1 arrangement of 720"
    assert told(COUNTS, 720, 1) == "after at most 1 slide: 3 arrangements of 720"
