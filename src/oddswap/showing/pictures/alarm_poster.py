"""The table of alarms as a page to hang on a wall: what looks wrong, whether it is, and why.

One picture for each sort of anomaly, gathered by reason. Nothing is told by colour alone: what looks wrong is outlined, bears
letters and stands out from a pale puzzle, what is not what it seems is hatched, and each verdict has its sign.
"""

from __future__ import annotations

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.showing.ink.canvas import sheet, write
from oddswap.showing.ink.palette import BACKDROP, BODY, FAINT_INK, PAPER
from oddswap.showing.pictures.alarm_blocks import (
    BETWEEN,
    GAP,
    HEAD,
    HEIGHT,
    LINE,
    MARGIN,
    ROOM,
    RULE,
    SMALL,
    TITLE,
    WIDTH,
    Block,
    fitted,
    height_of,
)
from oddswap.showing.pictures.typical import lay_typical, typical
from oddswap.values.grammar import capital
from oddswap.words.alarms import HEADING, KEY, NONE_OF_THIS
from oddswap.words.verdicts import WORDINGS

LOOSE = 0.3
"""How much further apart lines of blocks may be than they must, where the page has room."""
SIGNS = {ORDINARY: "✓", LOOKALIKE: "≈", OTHER_TURNS: "↻", NOT_BY_TURNING: "✗"}


def draw_alarms(puzzle: Puzzle, *, ax: Axes | None = None) -> Figure:
    """The table of alarms of a puzzle, solid or flat, on one page of A4.

    `BadOption` where there are too many sorts of anomaly for one page.
    """
    sections = fitted(puzzle)
    lines = sum(map(len, sections.values()))
    loose = min((ROOM - height_of(sections)) / (lines + len(sections)), LOOSE)
    page = sheet(WIDTH, HEIGHT, ax)
    if ax is None:
        page.figure.set_facecolor(PAPER)
    top = HEIGHT - MARGIN
    write(page, MARGIN, top - 0.14, HEADING, ha="left", size=19, weight="bold")
    write(page, MARGIN, top - 0.42, capital(puzzle.title), ha="left", size=12, color=FAINT_INK)
    top -= TITLE
    for verdict, section in sections.items():
        _lay_heading(page, verdict, top)
        top -= HEAD
        if not section:
            write(page, MARGIN, top, NONE_OF_THIS, ha="left", va="top", size=SMALL, color=FAINT_INK)
            top -= LINE + BETWEEN
        for line in section:
            left = MARGIN
            for block in line:
                _lay_block(page, puzzle, block, left, top)
                left += block.breadth + 2 * GAP
            top -= max(block.height for block in line) + BETWEEN + loose
        top -= loose
    write(page, MARGIN, MARGIN, KEY, ha="left", va="bottom", size=SMALL, color=FAINT_INK, linespacing=1.35)
    return page.figure


def _lay_heading(ax: Axes, verdict: str, top: float) -> None:
    """The sign of a verdict, light on dark, and what it means."""
    size = HEAD - 0.14
    ax.add_patch(Rectangle((MARGIN, top - size), WIDTH - 2 * MARGIN, size, facecolor=BACKDROP, lw=0))
    ax.add_patch(Rectangle((MARGIN, top - size), 1.3 * size, size, facecolor=BODY, lw=0))
    write(ax, MARGIN + 0.65 * size, top - size / 2, SIGNS[verdict], size=12, weight="bold", color=PAPER)
    write(ax, MARGIN + 1.3 * size + 0.1, top - size / 2, capital(WORDINGS[verdict].alarm), ha="left", size=11, weight="bold")


def _lay_block(ax: Axes, puzzle: Puzzle, block: Block, left: float, top: float) -> None:
    side = block.side
    beside = left + side + GAP if block.single else left
    for i, (words, (_, members)) in enumerate(zip(block.words, block.sorts, strict=True)):
        x, y = left + i % block.columns * (side + GAP), top - i // block.columns * block.row
        ax.add_patch(Rectangle((x, y - side), side, side, facecolor=BACKDROP, lw=0))
        lay_typical(ax, puzzle, typical(puzzle, members), x + side / 2, y - side / 2, side)
        at = (beside, top) if block.single else (x, y - side - 0.4 * LINE)
        write(ax, *at, words, ha="left", va="top", size=SMALL, weight="bold", linespacing=1.3)
    top -= block.top
    ax.add_line(Line2D([beside, left + block.breadth], [top - 0.3 * LINE] * 2, color=BODY, lw=0.6))
    write(ax, beside, top - RULE * LINE, block.text, ha="left", va="top", size=SMALL, linespacing=1.3)
