"""The fork: from what is known two photographs branch, and after one of them the question may be settled, after the other not.

Ways are counted as they look: what nobody can see, such as a hidden turn, does not make two ways of one. All numbers are exact
counts of `oddswap.reasoning.verdicts.counting`.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import gcd
from typing import NamedTuple

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import FancyArrowPatch, Rectangle

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.counting import count_explanations
from oddswap.reasoning.verdicts.views import View, after_view
from oddswap.showing.ink.camera import Camera, cameras, reach
from oddswap.showing.ink.canvas import sheet, wrapped, write
from oddswap.showing.ink.painting import Inks, Spot, paint
from oddswap.showing.ink.palette import CUT, FAINT_INK, HIGHLIGHT, INK, PALETTE, colours_for
from oddswap.showing.ink.paper_card import PaperCard
from oddswap.showing.ink.scene import scene
from oddswap.showing.pictures.next_view import photographer
from oddswap.values.appearance import Appearance
from oddswap.values.grammar import capital, read_number

SIDE, PAD, GAP, MARGIN, WORDS, WAY = 1.7, 0.08, 0.22, 0.2, 1.95, 0.75
ROOT, BRANCH = PaperCard(SIDE, PAD, foot=PAD), PaperCard(SIDE, PAD, foot=PAD, beside=WORDS)
BOXES = 24
"""So many boxes are drawn at most; where more would be needed, one bar is filled to its share."""
BAR, REACHED = 0.16, PALETTE["blue"]


class Left(NamedTuple):
    """In how many ways the whole may look, and to how many of them turning leads."""

    possible: int
    total: int

    @property
    def verdict(self) -> str:
        if not self.possible:
            return "decided: no turning leads there"
        return "decided: turning leads there" if self.possible == self.total else "still mixed"


def ways_left(puzzle: Puzzle, seen: Appearance) -> Left:
    """How much what is seen leaves open; `ValueError` where the classes could not be counted.

    >>> from oddswap.puzzles.catalogue import load
    >>> board = load("tiles:2x3")
    >>> ways_left(board, Appearance(board.name, (frozenset(range(6)),) * 6))
    Left(possible=360, total=720)
    """
    count = count_explanations(puzzle, seen)
    if count.possible is None:
        raise ValueError(count.reason)
    alike = lookalikes(puzzle).order
    return Left(count.possible // alike, count.total // alike)


def fork(puzzle: Puzzle, seen: Appearance, whole: Appearance, views: Sequence[View], *, ax: Axes | None = None) -> Figure:
    """What is ``seen``, and one branch for each of ``views``: what is known after such a photograph of ``whole``.

    Each bar is all ways in which the whole may look, filled where turning leads to them.
    """
    wide, high = BRANCH.width, BRANCH.height
    rows = len(views)
    width = 2 * MARGIN + high + WAY + wide
    height = 2 * MARGIN + max(rows * (high + GAP) - GAP, high + 0.98)
    ax = sheet(width, height, ax)
    root = (MARGIN, (height - high + 0.98) / 2)
    _picture(ax, puzzle, seen, cameras(puzzle)[0], ROOT.lay(ax, *root, 1.08 * reach(puzzle)))
    _told(ax, ways_left(puzzle, seen), root[0], root[1] - 0.12, high, "what is known")
    for i, view in enumerate(views):
        at = (MARGIN + high + WAY, (height + rows * (high + GAP) - GAP) / 2 - high - i * (high + GAP))
        _branch(ax, puzzle, after_view(puzzle, view, seen, whole), photographer(puzzle, view), at, view.words)
        _arrow(ax, (root[0] + high, root[1] + high / 2), (at[0], at[1] + high / 2))
    return ax.figure


def draw_left(puzzle: Puzzle, seen: Appearance, *, ax: Axes | None = None) -> Figure:
    """What is ``seen``, and beside it how much that leaves open, as one branch of a `fork` shows it."""
    ax = sheet(2 * MARGIN + BRANCH.width, 2 * MARGIN + BRANCH.height, ax)
    _branch(ax, puzzle, seen, cameras(puzzle)[0], (MARGIN, MARGIN), "what is known")
    return ax.figure


def _branch(ax: Axes, puzzle: Puzzle, seen: Appearance, camera: Camera, at: tuple[float, float], words: str) -> None:
    """A picture with what it leaves open on its right; ``at`` is the lower left corner."""
    high = BRANCH.height
    _picture(ax, puzzle, seen, camera, BRANCH.lay(ax, *at, 1.08 * reach(puzzle)))
    _told(ax, ways_left(puzzle, seen), at[0] + high, at[1] + high - 0.1, WORDS - PAD, words)


def _picture(ax: Axes, puzzle: Puzzle, shown: Appearance, camera: Camera, spot: Spot) -> None:
    paint(ax, scene(puzzle, shown, camera).open(), Inks(colours_for(puzzle), letters=True), spot, size=6.5)


def _told(ax: Axes, left: Left, x: float, top: float, wide: float, words: str) -> None:
    """From ``top`` downwards: the words, the bar, the numbers, and whether it is decided."""
    style = {"ha": "left", "va": "top", "linespacing": 1.2}
    lines = wrapped(capital(words), wide, 8.5)
    write(ax, x, top, lines, size=8.5, color=FAINT_INK, **style)
    top -= 0.15 * (1 + lines.count("\n")) + 0.1
    _bar(ax, left, x, top - BAR, wide)
    ways = "1 way is left" if left.total == 1 else f"{read_number(left.total)} ways are left"
    ways += f"; turning\nleads to {read_number(left.possible)} of them"
    write(ax, x, top - BAR - 0.07, ways, size=8.5, color=INK, **style)
    write(ax, x, top - BAR - 0.45, wrapped(left.verdict, wide, 9.5, "bold"), size=9.5, weight="bold", color=HIGHLIGHT, **style)


def _bar(ax: Axes, left: Left, x: float, y: float, wide: float) -> None:
    """Boxes of as many ways each as the share of those that turning leads to needs; the first ones are filled."""
    each = gcd(left.possible, left.total) or 1
    count, filled = left.total // each, left.possible // each
    if count > BOXES:
        ax.add_patch(Rectangle((x, y), wide * left.possible / left.total, BAR, facecolor=REACHED, lw=0))
        count, filled = 1, 0
    for i in range(count):
        ink = REACHED if i < filled else "none"
        ax.add_patch(Rectangle((x + i * wide / count, y), wide / count, BAR, facecolor=ink, edgecolor=CUT, lw=1.0))


def _arrow(ax: Axes, start: tuple[float, float], end: tuple[float, float]) -> None:
    bend = f"arc3,rad={0.18 if end[1] < start[1] else -0.18 if end[1] > start[1] else 0}"
    look = {"color": CUT, "lw": 2.4, "mutation_scale": 16, "shrinkA": 4, "shrinkB": 3}
    ax.add_patch(FancyArrowPatch(start, end, arrowstyle="-|>", connectionstyle=bend, **look))
