"""The words that go with colours and hatching, set beneath a picture."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection
from matplotlib.patches import Rectangle

from oddswap.puzzles.puzzle import Puzzle
from oddswap.showing.canvas import write
from oddswap.showing.outline import stripes
from oddswap.showing.painting import HATCHES
from oddswap.showing.palette import BODY, FAINT_INK, PAPER, colours_for, ink_on

MEANINGS = {
    ("twins",): "has a twin that looks the same",
    ("hidden turns",): "can be turned without a trace",
    ("twins", "hidden turns"): "has a twin, and can be turned without a trace",
}
TILE = 0.17
LETTER = 0.062
"""About the width of a letter of these words, on the sheet."""


def draw_colour_key(ax: Axes, puzzle: Puzzle, own: Mapping[str, str], x: float, y: float) -> None:
    """Which of the visitor's ``own`` colours stands where the lessons have which, by facet; centred at ``(x, y)``."""
    visitors, lessons = colours_for(puzzle, own), colours_for(puzzle)
    step, words = 3.0 * TILE, "yours | in our lessons"
    left = x - step * (len(visitors) - 1) / 2 + LETTER * len(words) / 2
    write(ax, left - 2 * TILE, y, words, ha="right", size=7.5, color=FAINT_INK)
    for i, paint in enumerate(visitors):
        at = left + i * step
        for colour, corner in ((visitors[paint], at - TILE), (lessons[paint], at)):
            ax.add_patch(Rectangle((corner, y - TILE / 2), TILE, TILE, facecolor=colour, edgecolor=BODY, lw=0.8))
        write(ax, at - TILE / 2, y, paint.removeprefix("side"), size=6.5, color=ink_on(visitors[paint]))


def draw_hatch_key(ax: Axes, hatched: Mapping[int, tuple[str, ...]], x: float, y: float) -> None:
    """What the hatchings of an x-ray mean, in words; centred at ``(x, y)``."""
    used = [keys for keys in MEANINGS if keys in hatched.values()]
    widths = [0.5 + LETTER * len(MEANINGS[keys]) for keys in used]
    left = x - sum(widths) / 2
    for keys, width in zip(used, widths, strict=True):
        square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]]) * TILE * 1.3 + (left, y - 0.65 * TILE, 0)
        lines = [s for way in dict.fromkeys(w for key in keys for w in HATCHES[key]) for s in stripes(square, way, 0.07, 0.012)]
        polygons = [square, *lines]
        ax.add_collection(
            PolyCollection(
                [p[:, :2] for p in polygons],
                facecolors=[PAPER, *[BODY] * len(lines)],
                edgecolors=[BODY, *["none"] * len(lines)],
                linewidths=0.8,
            ),
            autolim=False,
        )
        write(ax, left + 1.8 * TILE, y, MEANINGS[keys], ha="left", size=7.5, color=FAINT_INK)
        left += width
