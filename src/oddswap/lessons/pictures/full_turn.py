"""Twists as arrows on a dial: one after the other they close a full turn, or they do not."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle

from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.showing.ink.arrows import ribbon
from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.ink.canvas import write
from oddswap.showing.ink.painting import Inks, paint
from oddswap.showing.ink.palette import ARROW, BACKDROP, FAINT_INK, HIGHLIGHT, colours_for
from oddswap.showing.ink.paper_card import MARGIN, PaperCard
from oddswap.showing.ink.scene import scene
from oddswap.values.arrangement import Arrangement

PICTURE, PAD, FOOT = 1.5, 0.08, 0.5
CARD = PaperCard(PICTURE, PAD, foot=FOOT + PICTURE + PAD)
RIM, APART, TAG = 0.42, 0.09, 0.15
"""The radius of the dial, how far outside it the next arrow runs where another is already, and how far the names stand off."""
SHARES = {2: "half", 3: "third", 4: "quarter", 5: "fifth"}


@dataclass(frozen=True)
class DialArrow:
    """One twist on the dial: from the mark ``start`` by ``step`` (+1 clockwise, -1 back), on the ``lap``-th circle."""

    slot: str
    start: int
    step: int
    lap: int


def dial_arrows(puzzle: Puzzle, shown: Arrangement, kind: Kind) -> tuple[DialArrow, ...]:
    """The twists of a kind one after the other, each beginning where the one before it ended.

    A twist of more than half a turn clockwise is shown as one the other way. An arrow moves to the next circle where
    another lies already.
    """
    arrows, taken, mark = [], [], 0
    for slot in kind.places:
        twist = shown.twists[slot]
        steps = twist if 2 * twist <= kind.twist else twist - kind.twist
        for _ in range(abs(steps)):
            step = 1 if steps > 0 else -1
            part = min(mark, mark + step) % kind.twist
            arrows.append(DialArrow(puzzle.slots[slot], mark, step, taken.count(part)))
            taken.append(part)
            mark += step
    return tuple(arrows)


def full_turn(puzzle: Puzzle, shown: Iterable[Arrangement], family: str = "corners", *, ax: Axes | None = None) -> Figure:
    """A card for each arrangement: the puzzle with its twisted pieces outlined, and below it their twists on a dial."""
    states = list(shown)
    kind = next(kind for kind in puzzle.kinds if kind.family == family)
    ax, corners = CARD.in_rows(len(states), len(states), 0.14, ax)
    for state, corner in zip(states, corners, strict=True):
        spot = CARD.lay(ax, *corner, 1.08 * reach(puzzle))
        twisted = frozenset(slot for slot in kind.places if state.twists[slot])
        paint(ax, scene(puzzle, state, cameras(puzzle)[0]), Inks(colours_for(puzzle), highlight=twisted), spot)
        arrows = dial_arrows(puzzle, state, kind)
        _dial(ax, np.array([spot.x, MARGIN + FOOT + PICTURE / 2]), arrows, kind.twist)
        headline, words = summed_up(arrows, kind.twist)
        write(ax, spot.x, MARGIN + 0.36, headline, size=10.5, weight="bold", color=HIGHLIGHT)
        write(ax, spot.x, MARGIN + 0.16, words, size=8.5, color=FAINT_INK)
    return ax.figure


def summed_up(arrows: Iterable[DialArrow], order: int) -> tuple[str, str]:
    """Whether the arrows close, and what they come to, in words.

    >>> summed_up([DialArrow("UFR", 0, 1, 0), DialArrow("UFL", 1, 1, 0)], 3)
    ('open', 'two thirds left over')
    """
    total = sum(arrow.step for arrow in arrows)
    over, whole = total % order, abs(total) // order
    if over:
        number = {1: "one", 2: "two"}.get(over, str(over))
        return "open", f"{number} {SHARES.get(order, f'{order}th')}{'s' * (over > 1)} left over"
    return "closed", "back at the start" if not whole else "a whole turn" if whole == 1 else f"{whole} whole turns"


def _dial(ax: Axes, middle: np.ndarray, arrows: tuple[DialArrow, ...], order: int) -> None:
    ax.add_patch(Circle(middle, RIM, facecolor="none", edgecolor=BACKDROP, lw=1.5, zorder=1))
    for mark in range(order):
        ends = np.stack([_point(middle, mark / order, radius) for radius in (RIM - 0.07, RIM + 0.07)])
        ax.add_line(Line2D(*ends.T, color=FAINT_INK, lw=2.5 if mark == 0 else 1.2, zorder=1.5))
    for arrow in arrows:
        radius = RIM + APART * arrow.lap
        shares = np.linspace(arrow.start, arrow.start + arrow.step, 48)[1:] / order
        path = np.stack([_point(middle, share, radius) for share in shares])
        colour = ARROW if arrow.step > 0 else HIGHLIGHT
        ax.add_collection(PolyCollection([ribbon(path, 0.04)], facecolors=colour, lw=0, zorder=3), autolim=False)
        inside = arrow.lap == 0
        at = _point(middle, (arrow.start + arrow.step / 2) / order, radius + (-TAG if inside else TAG))
        write(ax, *at, arrow.slot, size=7.5, zorder=4)


def _point(middle: np.ndarray, share: float, radius: float) -> np.ndarray:
    """The point at a share of a full turn, clockwise from the top."""
    angle = np.pi / 2 - 2 * np.pi * share
    return middle + radius * np.array([np.cos(angle), np.sin(angle)])
