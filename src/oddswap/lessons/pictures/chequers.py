"""The chequering of a board, and the blank's walk over it: each slide takes the blank to a slot of the other colour."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.patches import FancyArrowPatch
from matplotlib.patheffects import withStroke

from oddswap.errors import BadOption
from oddswap.puzzles.base.layout import rounded_box
from oddswap.puzzles.flat.graphs import GraphPuzzle
from oddswap.showing.ink.canvas import INCHES, sheet, write
from oddswap.showing.ink.palette import BODY, HIGHLIGHT, PAPER, ink_on

LIGHT, DARK = "#F7F4EC", "#6B7480"
"""The two colours of slots: the blank's home is light."""
STEP, MARGIN = 0.62, 0.3


def chequers(puzzle: GraphPuzzle) -> tuple[int, ...]:
    """For each slot 0 if it has the colour of the blank's home, else 1, so that no two neighbours agree.

    `BadOption` where no such colouring exists: where a walk of an odd number of slides comes back.

    >>> from oddswap.puzzles.catalogue import load
    >>> chequers(load("tiles:2x3"))
    (1, 0, 1, 0, 1, 0)
    """
    colour = {puzzle.blank: 0}
    for slot in (queue := [puzzle.blank]):
        for other in puzzle.neighbours[slot]:
            if other not in colour:
                colour[other] = 1 - colour[slot]
                queue.append(other)
    for one, other in puzzle.edges:
        if colour[one] == colour[other]:
            raise BadOption(f"{puzzle.name} cannot be chequered: {puzzle.slots[one]} and {puzzle.slots[other]} would agree")
    return tuple(colour[slot] for slot in range(len(puzzle.slots)))


def draw_chequers(puzzle: GraphPuzzle, moves: str = "", *, ax: Axes | None = None) -> Figure:
    """The slots of a board of tiles in two colours, and the blank's walk by ``moves`` from its home.

    Each slot bears the numbers of slides after which the blank was there.
    """
    walk = blank_walk(puzzle, moves)
    low, high = puzzle.flat.positions.min(axis=0) - 0.5, puzzle.flat.positions.max(axis=0) + 0.5
    size = STEP * (high - low) + 2 * MARGIN
    ax = sheet(*size, ax)
    at = MARGIN + STEP * (puzzle.flat.positions - low)
    inks = [(LIGHT, DARK)[colour] for colour in chequers(puzzle)]
    cell = STEP * rounded_box(1.0, 1.0, 0.02)
    ax.add_collection(PolyCollection([cell + middle for middle in at], facecolors=inks, edgecolors=BODY, linewidths=1.0))
    for one, other in pairwise(walk):
        _arrow(ax, at[one], at[other])
    for slot, middle in enumerate(at):
        numbers = [str(i) for i, there in enumerate(walk) if there == slot]
        text = "\n".join(", ".join(numbers[i : i + 2]) for i in range(0, len(numbers), 2))
        write(ax, *middle, text, size=72 * INCHES * STEP * (0.3 if len(numbers) < 3 else 0.2), color=ink_on(inks[slot]), zorder=4)
    return ax.figure


def blank_walk(puzzle: GraphPuzzle, moves: str) -> tuple[int, ...]:
    """The slots where the blank is, from its home on, after each of the moves."""
    walk = [puzzle.blank]
    for turn in puzzle.settled(moves)[0]:
        (there,) = turn.slots - {walk[-1]}
        walk.append(there)
    return tuple(walk)


def _arrow(ax: Axes, one: np.ndarray, other: np.ndarray) -> None:
    """From the rim of the number in one cell to that in the next, a little to the left of the straight way."""
    along = (other - one) / np.linalg.norm(other - one)
    aside = 0.13 * STEP * np.array([-along[1], along[0]])
    ends = one + 0.3 * STEP * along + aside, other - 0.3 * STEP * along + aside
    style = {"arrowstyle": "-|>", "mutation_scale": 11, "shrinkA": 0, "shrinkB": 0, "zorder": 3}
    cased = [withStroke(linewidth=4.5, foreground=PAPER)]
    ax.add_patch(FancyArrowPatch(*ends, color=HIGHLIGHT, lw=2.0, path_effects=cased, **style))
