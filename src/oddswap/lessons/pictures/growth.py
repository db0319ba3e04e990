"""How the cost of a proof grows with the puzzle: the figure, and where its measurements are kept."""

from __future__ import annotations

import json
from operator import itemgetter
from pathlib import Path

from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter

from oddswap.showing.ink.canvas import FONT
from oddswap.showing.ink.palette import FAINT_INK, INK, PALETTE, PAPER

MEASURED = Path(__file__).with_name("growth.json")
"""Seconds by number of slabs; measured anew by ``python -m tests.benchmarks.test_growth``."""

CURVES = {
    "GAP": ("GAP, Size", PALETTE["vermillion"], "^", "above"),
    "GAP told the order": ("GAP, chain told\nthe order", PALETTE["orange"], "v", "beside"),
    "chain": ("our chain told\nthe order", PALETTE["blue"], "s", "beside"),
    "structure": ("proof by structure", PALETTE["bluish green"], "o", "beside"),
}
"""Words, colour, marker, and where the words stand: beside the last point or above the highest."""


def growth_of_cost() -> Figure:
    """The seconds that it takes to prove the order of a cube's group, by the number of its slabs, in four ways."""
    rows = json.loads(MEASURED.read_text("utf-8"))["rows"]
    figure = Figure(figsize=(7.2, 4.4), facecolor=PAPER)
    ax = figure.add_axes((0.1, 0.13, 0.66, 0.8))
    for key, (words, colour, marker, where) in CURVES.items():
        points = [(row["slabs"], row[key]) for row in rows if key in row]
        ax.plot(*zip(*points, strict=True), color=colour, marker=marker, markersize=4.5, linewidth=1.4)
        if where == "beside":
            x, y = points[-1]
            ax.text(x + 0.5, y, words, va="center", color=INK, size=9, family=FONT)
        else:
            x, y = max(points, key=itemgetter(1))
            ax.text(x, 1.4 * y, words, ha="center", color=INK, size=9, family=FONT)
    ax.set_yscale("log")
    ax.yaxis.set_major_formatter(FuncFormatter(_seconds))
    ax.set_xticks(range(3, 26, 2))
    ax.set_xlabel("slabs each way", family=FONT, color=INK)
    title = "processor time to prove how many arrangements the turns of a cube reach"
    ax.set_title(title, loc="left", size=10, family=FONT, color=INK)
    ax.grid(axis="y", color=FAINT_INK, alpha=0.25, linewidth=0.6)
    ax.spines[["top", "right"]].set_visible(False)
    return figure


def _seconds(value: float, _) -> str:
    return f"{value:g} s" if value >= 1 else f"{1000 * value:g} ms"
