"""How the cost of a proof of length grows with the depth: the figure, and where its measurements are kept."""

from __future__ import annotations

import json
from pathlib import Path

from matplotlib.figure import Figure

from oddswap.showing.ink.canvas import FONT
from oddswap.showing.ink.palette import FAINT_INK, INK, PALETTE, PAPER

MEASURED = Path(__file__).with_name("growth_of_search.json")
"""Cost by depth; measured anew by ``python -m tests.benchmarks.test_growth_of_search``."""

CURVES = {
    "states": ("states generated", PALETTE["blue"], "o"),
    "bytes": ("bytes kept", PALETTE["vermillion"], "s"),
    "seconds": ("processor seconds", PALETTE["bluish green"], "^"),
}


def growth_of_search() -> Figure:
    """States, bytes and seconds to prove a way out shortest, by its length, on a cube with marked centres."""
    rows = json.loads(MEASURED.read_text("utf-8"))["rows"]
    figure = Figure(figsize=(7.2, 3.6), facecolor=PAPER)
    for number, (key, (words, colour, marker)) in enumerate(CURVES.items()):
        ax = figure.add_axes((0.075 + 0.325 * number, 0.15, 0.255, 0.67))
        depths, values = zip(*((row["depth"], row[key]) for row in rows if row[key] > 0), strict=True)
        ax.plot(depths, values, color=colour, marker=marker, markersize=4, linewidth=1.4)
        ax.set_yscale("log")
        ax.set_xticks(range(1, rows[-1]["depth"] + 1, 2))
        ax.set_title(words, loc="left", size=10, family=FONT, color=INK)
        ax.set_xlabel("turns", family=FONT, color=INK)
        ax.grid(axis="y", color=FAINT_INK, alpha=0.25, linewidth=0.6)
        ax.spines[["top", "right"]].set_visible(False)
    title = "what it costs to prove a way out the shortest, by its length (cube with marked centres)"
    figure.text(0.075, 0.93, title, size=10, family=FONT, color=INK)
    return figure
