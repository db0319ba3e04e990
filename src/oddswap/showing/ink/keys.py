"""The words that go with colours and hatching, set beneath a picture."""

from collections.abc import Mapping

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from oddswap.showing.ink.canvas import lay_polygons, write
from oddswap.showing.ink.outline import stripes
from oddswap.showing.ink.painting import HATCHES, letter_of
from oddswap.showing.ink.palette import BODY, FAINT_INK, PAPER, ink_on
from oddswap.values.position import START, Holding

MEANINGS = {
    ("twins",): "has a twin that looks the same",
    ("hidden turns",): "can be turned without a trace",
    ("twins", "hidden turns"): "has a twin, and can be turned without a trace",
}
TILE = 0.17
KEY_LINE, PER_LINE = 0.27, 6
LETTER = 0.062
"""About the width of a letter of these words, on the sheet."""


def colour_key_lines(colours: Mapping[str, str]) -> int:
    """How many lines the key of the colours of so many paints takes."""
    return -(-len(colours) // PER_LINE)


def draw_colour_key(
    ax: Axes, visitors: Mapping[str, str], lessons: Mapping[str, str], x: float, y: float, holding: Holding = START
) -> None:
    """Which of the visitor's colours stands where the lessons have which, by paint, lettered as it is held.

    Centred at ``x``, the lowest of its lines at height ``y``.
    """
    step, words = 3.0 * TILE, "yours | in our lessons"
    left = x - step * (min(len(visitors), PER_LINE) - 1) / 2 + LETTER * len(words) / 2
    top = y + KEY_LINE * (colour_key_lines(visitors) - 1)
    write(ax, left - 2 * TILE, top, words, ha="right", size=7.5, color=FAINT_INK)
    for i, paint in enumerate(visitors):
        at, height = left + i % PER_LINE * step, top - i // PER_LINE * KEY_LINE
        for colour, corner in ((visitors[paint], at - TILE), (lessons[paint], at)):
            ax.add_patch(Rectangle((corner, height - TILE / 2), TILE, TILE, facecolor=colour, edgecolor=BODY, lw=0.8))
        write(ax, at - TILE / 2, height, letter_of(holding.hand(paint)), size=6.5, color=ink_on(visitors[paint]))


def meanings_of(hatched: Mapping[int, tuple[str, ...]]) -> list[tuple[str, ...]]:
    """The hatchings of an x-ray that occur, in the order of their key."""
    return [keys for keys in MEANINGS if keys in hatched.values()]


def draw_hatch_key(ax: Axes, hatched: Mapping[int, tuple[str, ...]], x: float, y: float) -> None:
    """What the hatchings of an x-ray mean, in words: a line for each, centred at ``x``, the lowest at height ``y``."""
    used = meanings_of(hatched)
    left = x - LETTER * max(len(MEANINGS[keys]) for keys in used) / 2 - TILE
    for line, keys in enumerate(reversed(used)):
        _swatch(ax, keys, left, y + line * KEY_LINE)
        write(ax, left + 1.8 * TILE, y + line * KEY_LINE, MEANINGS[keys], ha="left", size=7.5, color=FAINT_INK)


def _swatch(ax: Axes, keys: tuple[str, ...], x: float, y: float) -> None:
    side = 1.2 * TILE
    square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]]) * side + (x, y - side / 2, 0)
    lines = [stripe for key in keys for stripe in stripes(square, HATCHES[key], 0.07, 0.012)]
    lay_polygons(
        ax,
        [polygon[:, :2] for polygon in (square, *lines)],
        facecolors=[PAPER, *[BODY] * len(lines)],
        edgecolors=[BODY, *["none"] * len(lines)],
        linewidths=0.8,
    )
