"""Every way that a puzzle can look, as a square each: coloured where moves lead, white where they do not."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure

from oddswap.showing.ink.canvas import sheet, write
from oddswap.showing.ink.palette import BODY, PALETTE, PAPER

SIDE, PER_ROW, MOST = 0.12, 45, 16
"""The side of a square on the sheet; how many stand in a row; how many rows there is room for."""
MARGIN, HEAD = 0.2, 0.36


def draw_looks(reached: Sequence[bool], words: str, *, ax: Axes | None = None) -> Figure:
    """``reached`` says of each appearance whether moves lead there; ``words`` stand before the numbers."""
    rows = max(MOST, -(-len(reached) // PER_ROW))
    ax = sheet(2 * MARGIN + SIDE * PER_ROW, 2 * MARGIN + HEAD + SIDE * rows, ax)
    top = MARGIN + SIDE * rows
    at = np.array([(MARGIN + SIDE * (i % PER_ROW), top - SIDE * (1 + i // PER_ROW)) for i in range(len(reached))])
    square = 0.82 * SIDE * np.array([[0, 0], [1, 0], [1, 1], [0, 1]])
    inks = [PALETTE["sky blue"] if there else PAPER for there in reached]
    ax.add_collection(
        PolyCollection([square + corner for corner in at], facecolors=inks, edgecolors=BODY, linewidths=0.6), autolim=False
    )
    write(ax, MARGIN, top + HEAD / 2, told(reached, words), size=11, weight="bold", ha="left")
    return ax.figure


def told(reached: Sequence[bool], words: str) -> str:
    """How many appearances there are and how many of them are reached.

    >>> told([True, False], "ABC")
    'ABC: 2 ways to look, 1 of them reached'
    """
    there, every = sum(map(bool, reached)), len(reached)
    return f"{words}: {every} ways to look, {'all' if there == every else there} of them reached"
