"""The map of the ways as a picture: each family of closed boxes with its shortest excursion, turn by turn."""

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.errors import BadOption
from oddswap.reasoning.opening.ways_map import MapEntry, WaysMap
from oddswap.showing.ink.canvas import sheet, wrapped, write
from oddswap.showing.ink.palette import BODY, FAINT_INK, INK, PALETTE, PAPER, UNKNOWN, mix
from oddswap.values.grammar import capital
from oddswap.words.ways.ways_map import family_words, turns_in_words

MOST = 14
"""So many families have room on the sheet; those with the shortest excursions come first."""

MARGIN, WORDS, CELL, HIGH, GAP, HEAD, FOOT, AFTER = 0.2, 2.5, 0.46, 0.34, 0.16, 0.62, 0.42, 1.3
OPEN_INK = mix(PALETTE["orange"], PAPER, 0.45)
"""A turn after which the box stands open."""
SIZE = 8.5


def draw_ways(found: WaysMap, *, ax: Axes | None = None) -> Figure:
    """The families, those with the shortest excursions first; `BadOption` where there is none.

    A cell is a turn, orange while the box stands open after it and white where it closes; hatched cells are lengths at which
    there is proved to be none.

    >>> import oddswap
    >>> from oddswap import draw
    >>> figure = draw.draw_ways(oddswap.ways_map("cuboid:2x3x4", 4))
    """
    if not found.ways:
        raise BadOption(f"{found.puzzle.title} has no families to draw: turns that keep the outline lead everywhere")
    shown = sorted(found.ways, key=lambda way: (way.moves is None, way.at_least or 0))[:MOST]
    labels = [wrapped(capital(family_words(way)), WORDS, SIZE) for way in shown]
    heights = [max(HIGH, 0.135 * (1 + label.count("\n")) + 0.02) + GAP for label in labels]
    cells = max(len(way.moves) if way.moves else (way.at_least or 1) - 1 for way in shown)
    left = MARGIN + WORDS + 0.15
    ax = sheet(left + cells * CELL + AFTER, HEAD + sum(heights) + FOOT, ax)
    top = HEAD + sum(heights) + FOOT
    write(ax, MARGIN, top - 0.2, f"Out of the box and back: {found.puzzle.title}", ha="left", size=11, weight="bold")
    for turn in range(cells):
        write(ax, left + (turn + 0.5) * CELL, top - 0.48, str(turn + 1), size=7.5, color=FAINT_INK)
    low = top - HEAD
    for way, label, height in zip(shown, labels, heights, strict=True):
        low -= height
        middle = low + height / 2
        write(ax, MARGIN, middle, label, ha="left", size=SIZE)
        _row(ax, found, way, left, middle)
    _key(ax, any(way.moves is None for way in shown), len(found.ways) - len(shown))
    return ax.figure


def _row(ax: Axes, found: WaysMap, way: MapEntry, left: float, middle: float) -> None:
    if way.moves is None:
        cells = max(0, (way.at_least or 1) - 1)
        if cells:
            _cell(ax, left, middle, cells, facecolor=PAPER, hatch="////", edgecolor=UNKNOWN)
        write(ax, left + cells * CELL + 0.1, middle, turns_in_words(way), ha="left", size=SIZE, color=FAINT_INK)
        return
    states = found.box.outlines(" ".join(way.moves))[1:]
    for turn, (name, outline) in enumerate(zip(way.moves, states, strict=True)):
        shut = turn == len(way.moves) - 1 or (outline == found.box.filled).all()
        _cell(ax, left + turn * CELL, middle, 1, facecolor=PAPER if shut else OPEN_INK, edgecolor=BODY)
        write(ax, left + (turn + 0.5) * CELL, middle, name, size=SIZE)


def _cell(ax: Axes, x: float, middle: float, cells: int, **style) -> None:
    ax.add_patch(Rectangle((x, middle - HIGH / 2), cells * CELL, HIGH, lw=0.8, **style))


def _key(ax: Axes, hatched: bool, left_out: int) -> None:
    words = "a cell is a turn: orange, the box stands open after it; white, it is closed"
    words += "; hatched, proved to be none so short" if hatched else ""
    write(ax, MARGIN, 0.2, words, ha="left", size=7.5, color=INK)
    if left_out:
        write(ax, MARGIN, 0.06, f"and {left_out} more families", ha="left", size=7.5, color=FAINT_INK)
