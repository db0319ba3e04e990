"""The worlds of a puzzle: what turning can reach from one another, with the smallest changes by hand that lead to each."""

from __future__ import annotations

from itertools import product

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.describing.changes import changed
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.law_book import law_book
from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.ink.canvas import sheet, write
from oddswap.showing.ink.painting import Inks, Spot, paint
from oddswap.showing.ink.palette import BACKDROP, FAINT_INK, HIGHLIGHT, PAPER, colours_for
from oddswap.showing.ink.scene import scene
from oddswap.values.arrangement import Arrangement

PICTURE, PAD, GAP, FOOT, MARGIN = 1.3, 0.07, 0.12, 0.42, 0.2
CHANGES = (("", "swap UR UF"), ("", "flip UF"), ("", "twist UFR cw", "twist UFR ccw"))
"""What a hand does at most to come from one world of a cube to any other: one choice of each."""

Values = tuple[int, ...]


def values_seen(puzzle: Puzzle, state: Arrangement) -> Values:
    """The quantity of each law that no lookalike can hide: equal in one world, and 0 where all is solved."""
    permutation = puzzle.homed(puzzle.permutation(state))
    return tuple(law.value(permutation) for law in law_book(puzzle).laws if law.seen)


def worlds(puzzle: Puzzle) -> dict[Values, tuple[str, ...]]:
    """For each world of a cube of two or three slabs: its quantities, and the fewest of `CHANGES` that lead there."""
    families = {kind.family for kind in puzzle.kinds}
    found: dict[Values, tuple[str, ...]] = {}
    for choice in product(*CHANGES):
        changes = tuple(change for change in choice if change)
        if "edges" in families or not any(change.startswith(("swap", "flip")) for change in changes):
            values = values_seen(puzzle, changed(puzzle, changes))
            found[values] = min(found.get(values, changes), changes, key=len)
    return found


def draw_worlds(puzzle: Puzzle, *, ax: Axes | None = None) -> Figure:
    """A small picture of each world, numbered, at most six in a row; the changed pieces are outlined."""
    cards = list(worlds(puzzle).values())
    columns = min(6, len(cards))
    size = PICTURE + 2 * PAD, PICTURE + PAD + FOOT
    rows = -(-len(cards) // columns)
    ax = sheet(2 * MARGIN + columns * (size[0] + GAP) - GAP, 2 * MARGIN + rows * (size[1] + GAP) - GAP, ax)
    for i, changes in enumerate(cards):
        left, base = MARGIN + i % columns * (size[0] + GAP), MARGIN + (rows - 1 - i // columns) * (size[1] + GAP)
        ax.add_patch(Rectangle((left, base), *size, facecolor=PAPER, lw=0))
        ax.add_patch(Rectangle((left + PAD, base + FOOT), PICTURE, PICTURE, facecolor=BACKDROP, lw=0))
        spot = Spot(left + size[0] / 2, base + FOOT + PICTURE / 2, PICTURE / 2 / (1.08 * reach(puzzle)))
        state = changed(puzzle, changes)
        inks = Inks(colours_for(puzzle), highlight=state.displaced())
        paint(ax, scene(puzzle, state, cameras(puzzle)[0]), inks, spot)
        write(ax, left + 0.16, base + FOOT + PICTURE - 0.12, str(i + 1), size=8.5, weight="bold", color=HIGHLIGHT)
        write(ax, spot.x, base + FOOT / 2, "\n".join(changes) or "solved", size=7.5, color=FAINT_INK, linespacing=1.25)
    return ax.figure
