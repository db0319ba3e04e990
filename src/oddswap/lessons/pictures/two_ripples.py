"""Two ripples that meet: all positions of a small puzzle, each as far from the start and from solved as turns are needed.

A position that is a turns from the start and b turns from solved lies where the circle of radius a round the start and
that of radius b round solved cross. They always cross: no side of a triangle is longer than the other two together, and
distances in turns obey the same law. The positions on the straight line between the ends are those of the shortest ways.
"""

from __future__ import annotations

from collections import Counter
from math import sqrt

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.search.shortest import levels_around
from oddswap.showing.ink.canvas import FONT
from oddswap.showing.ink.palette import FAINT_INK, INK, PALETTE, PAPER, UNKNOWN

DEEPEST = 60
"""Levels are walked so far; a puzzle to be drawn has few."""
LARGEST_DOT = 420.0
"""Points², for the place where most positions lie."""


def distances(puzzle: Puzzle, moves: str) -> Counter[tuple[int, int]]:
    """How many positions are a turns from the one that ``moves`` make and b from solved, by (a, b).

    >>> from oddswap.puzzles.catalogue import load
    >>> sum(distances(load("cube:2,turns=half"), "R2 U2").values())
    24
    """
    far = [
        {row.tobytes(): depth for depth, level in enumerate(ball.levels) for row in level.rows}
        for ball in (levels_around(puzzle, DEEPEST, puzzle.appearance(puzzle.follow(moves))), levels_around(puzzle, DEEPEST))
    ]
    return Counter((a, far[1][state]) for state, a in far[0].items() if state in far[1])


def ripple_counts(found: Counter[tuple[int, int]], out: int, back: int) -> tuple[int, int, int]:
    """Positions within ``out`` turns of the start, within ``back`` of solved, and within both."""
    return (
        sum(n for (a, _), n in found.items() if a <= out),
        sum(n for (_, b), n in found.items() if b <= back),
        sum(n for (a, b), n in found.items() if a <= out and b <= back),
    )


def two_ripples(puzzle: Puzzle, moves: str, out: int, back: int) -> Figure:
    """The ripples after ``out`` turns from the position that ``moves`` make, and ``back`` turns from solved."""
    found = distances(puzzle, moves)
    between = next(b for (a, b) in found if a == 0)
    figure = Figure(figsize=(8.4, 4.8), facecolor=PAPER)
    ax = figure.add_axes((0.02, 0.02, 0.96, 0.86))
    for centre, radius, colour in ((0, out, PALETTE["blue"]), (between, back, PALETTE["vermillion"])):
        for r in range(1, radius + 1):
            ax.add_patch(Circle((centre, 0), r, fill=r == radius, facecolor=(*_rgb(colour), 0.12), edgecolor=colour, lw=1.4))
    _dots(ax, found, between, out, back)
    for x, words in ((0, "start"), (between, "solved")):
        box = {"facecolor": PAPER, "edgecolor": "none", "pad": 1.5}
        ax.annotate(words, (x, 0), (0, -9), textcoords="offset points", ha="center", va="top", family=FONT, color=INK, bbox=box)
    ax.set_title(_verdict(found, between, out, back), family=FONT, color=INK, size=11)
    ax.set_aspect("equal")
    ax.autoscale_view()
    ax.margins(0.04)
    ax.set_axis_off()
    return figure


def _rgb(colour: str) -> tuple[float, float, float]:
    return tuple(int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))


def _dots(ax: Axes, found: Counter[tuple[int, int]], between: int, out: int, back: int) -> None:
    """One dot for all positions at the same two distances, as large as they are many; off the line half are below."""
    most = max(found.values())
    dots: dict[str, list[tuple]] = {"o": [], "D": []}
    for (a, b), count in found.items():
        x = (a * a - b * b + between * between) / (2 * between) if between else float(a)
        y = sqrt(max(0.0, a * a - x * x))
        reached = (a <= out) + 2 * (b <= back)
        edge = (FAINT_INK, PALETTE["blue"], PALETTE["vermillion"], INK)[reached]
        fill = (UNKNOWN, PAPER, PAPER, PALETTE["yellow"])[reached]
        for height, shown in ((y, count if y == 0 else (count + 1) // 2), (-y, 0 if y == 0 else count // 2)):
            if not shown:
                continue
            size = 60 + LARGEST_DOT * shown / most
            dots["D" if reached == 3 else "o"].append((x, height, size, fill, edge))
            if shown > 1:
                ax.text(x, height, str(shown), ha="center", va="center", size=8, family=FONT, zorder=4, color=INK)
    for marker, drawn in dots.items():
        if drawn:
            x, y, sizes, fills, edges = zip(*drawn, strict=True)
            ax.scatter(x, y, s=sizes, c=fills, edgecolors=edges, linewidths=1.8, zorder=3, marker=marker)


def _verdict(found: Counter[tuple[int, int]], between: int, out: int, back: int) -> str:
    left, right, both = ripple_counts(found, out, back)
    seen = left + right - both
    if both:
        alone = ripple_counts(found, between, -1)[0]
        said = f"The ripples meet after {out} and {back} turns, with {seen} of {found.total()} positions looked at"
        return f"{said}; from the start alone, {alone}."
    return f"They have not met: no way has {_turns(out + back)} or fewer. {seen} of {found.total()} positions were looked at."


def _turns(count: int) -> str:
    return "1 turn" if count == 1 else f"{count} turns"
