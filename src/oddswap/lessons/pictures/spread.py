"""How far a puzzle spreads: how many of its arrangements can be reached by one slide, by two, and so on until no more come."""

from __future__ import annotations

from collections.abc import Sequence

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.showing.ink.canvas import FONT
from oddswap.showing.ink.palette import BODY, FAINT_INK, INK, PALETTE, PAPER, TABLE

SIZE = (7.0, 3.3)


def draw_levels(counts: Sequence[int], of: int, upto: int | None = None, *, note: str = "") -> Figure:
    """``counts[d]`` arrangements need d slides; those up to ``upto`` slides (all, when left out) are coloured and added up.

    ``of`` is how many positions there would be if tiles could also be lifted; ``note`` is a further sentence.
    """
    upto = len(counts) - 1 if upto is None else upto
    figure = Figure(figsize=SIZE, facecolor=TABLE)
    ax = figure.add_axes((0.08, 0.17, 0.89, 0.57), facecolor=TABLE)
    inks = [PALETTE["sky blue"] if d <= upto else PAPER for d in range(len(counts))]
    ax.bar(range(len(counts)), counts, color=inks, edgecolor=BODY, linewidth=0.8, width=0.86)
    ax.set_xlim(-0.7, max(len(counts), upto + 1) - 0.3)
    ax.set_xticks(range(0, len(counts), 1 + len(counts) // 24))
    ax.spines[["top", "right"]].set_visible(False)
    ax.tick_params(labelsize=8, colors=INK)
    for label in (*ax.get_xticklabels(), *ax.get_yticklabels()):
        label.set_family(FONT)
    _words(ax, 0.5, -0.24, "fewest slides that lead there", ha="center", size=8.5, color=FAINT_INK)
    _words(ax, 0.0, 1.25, told(counts, of, upto), size=11, weight="bold")
    _words(ax, 0.0, 1.1, note, size=9.5)
    return figure


def told(counts: Sequence[int], of: int, upto: int) -> str:
    """What up to so many slides reach, in words.

    >>> told([1, 2, 3, 5], 720, 2)
    'after at most 2 slides: 6 arrangements of 720'
    """
    reached = sum(counts[: upto + 1])
    return f"after at most {upto} slide{'s' * (upto != 1)}: {reached} arrangement{'s' * (reached != 1)} of {of}"


def _words(ax: Axes, x: float, y: float, text: str, **style) -> None:
    style = {"color": INK, "va": "center", **style}
    ax.text(x, y, text, family=FONT, parse_math=False, transform=ax.transAxes, **style)
