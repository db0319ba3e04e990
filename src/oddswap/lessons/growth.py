"""How the cost of proofs grows, with the size of a puzzle and with the length of a way: figures of measurements that are kept."""

import json
from operator import itemgetter
from pathlib import Path

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter

from oddswap.showing.ink.canvas import FONT, write
from oddswap.showing.ink.palette import FAINT_INK, INK, PALETTE, PAPER

BY_SIZE = Path(__file__).with_name("growth.json")
"""Seconds by number of slabs; measured anew by ``python -m tests.benchmarks.test_growth``."""
BY_LENGTH = Path(__file__).with_name("growth_of_search.json")
"""Cost by depth; measured anew by ``python -m tests.benchmarks.test_growth_of_search``."""

PROOFS = {
    "GAP": ("GAP, Size", PALETTE["vermillion"], "^"),
    "GAP told the order": ("GAP, chain told\nthe order", PALETTE["orange"], "v"),
    "chain": ("our chain told\nthe order", PALETTE["blue"], "s"),
    "structure": ("proof by structure", PALETTE["bluish green"], "o"),
}
COSTS = {
    "states": ("states generated", PALETTE["blue"], "o"),
    "bytes": ("bytes kept", PALETTE["vermillion"], "s"),
    "seconds": ("processor seconds", PALETTE["bluish green"], "^"),
}
"""Words, colour and marker of each curve."""


def growth_of_cost() -> Figure:
    """The seconds that it takes to prove the order of a cube's group, by the number of its slabs, in four ways."""
    rows = json.loads(BY_SIZE.read_text("utf-8"))["rows"]
    figure = Figure(figsize=(7.2, 4.4), facecolor=PAPER)
    title = "processor time to prove how many arrangements the turns of a cube reach"
    ax = _axes(figure, (0.1, 0.13, 0.66, 0.8), title, range(3, 26, 2), "slabs each way")
    for key, (words, colour, marker) in PROOFS.items():
        points = [(row["slabs"], row[key]) for row in rows if key in row]
        ax.plot(*zip(*points, strict=True), color=colour, marker=marker, markersize=4.5, linewidth=1.4)
        if key == "GAP":
            x, y = max(points, key=itemgetter(1))
            write(ax, x, 1.4 * y, words, va="baseline")
        else:
            write(ax, points[-1][0] + 0.5, points[-1][1], words, ha="left")
    ax.yaxis.set_major_formatter(FuncFormatter(lambda value, _: f"{value:g} s" if value >= 1 else f"{1000 * value:g} ms"))
    return figure


def growth_of_search() -> Figure:
    """States, bytes and seconds to prove a way out shortest, by its length, on a cube with marked centres."""
    rows = json.loads(BY_LENGTH.read_text("utf-8"))["rows"]
    figure = Figure(figsize=(7.2, 3.6), facecolor=PAPER)
    for number, (key, (words, colour, marker)) in enumerate(COSTS.items()):
        ax = _axes(figure, (0.075 + 0.325 * number, 0.15, 0.255, 0.67), words, range(1, rows[-1]["depth"] + 1, 2), "turns")
        depths, values = zip(*((row["depth"], row[key]) for row in rows if row[key] > 0), strict=True)
        ax.plot(depths, values, color=colour, marker=marker, markersize=4, linewidth=1.4)
    title = "what it costs to prove a way out the shortest, by its length (cube with marked centres)"
    figure.text(0.075, 0.93, title, size=10, family=FONT, color=INK)
    return figure


def _axes(figure: Figure, place: tuple[float, float, float, float], title: str, ticks: range, across: str) -> Axes:
    ax = figure.add_axes(place, yscale="log", xticks=ticks)
    ax.set_title(title, loc="left", size=10, family=FONT, color=INK)
    ax.set_xlabel(across, family=FONT, color=INK)
    ax.grid(axis="y", color=FAINT_INK, alpha=0.25, linewidth=0.6)
    ax.spines[["top", "right"]].set_visible(False)
    return ax
