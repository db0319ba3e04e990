"""What a box should look like after every turn that changes its shape."""

from __future__ import annotations

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.ink.canvas import sheet, write
from oddswap.showing.ink.painting import Inks, Spot, paint
from oddswap.showing.ink.palette import BACKDROP, FAINT_INK, PAPER, colours_for
from oddswap.showing.ink.scene import scene
from oddswap.values.arrangement import Arrangement

SIDE, PAD, GAP, MARGIN, FOOT, HEAD = 1.6, 0.08, 0.16, 0.2, 0.42, 0.4
PER_ROW = 5


def shape_changes(box: BoxPuzzle, start: Arrangement, moves: str) -> tuple[tuple[int, str, Arrangement], ...]:
    """The turns of ``moves`` that change the outline: their number from 1, their name, and the arrangement after each."""
    image, changes = box.permutation(start), []
    outlines = box.outlines(moves, start)
    for i, turn in enumerate(box.settled(moves, start)[0]):
        image = turn.permutation[image]
        if (outlines[i] != outlines[i + 1]).any():
            changes.append((i + 1, turn.name, box.arrangement(image)))
    return tuple(changes)


def draw_shapes_on_the_way(box: BoxPuzzle, start: Arrangement, moves: str, *, colours=None, ax: Axes | None = None) -> Figure:
    """A picture after every turn that changes the outline, with the number and name of the turn, from ``start`` on.

    ``colours`` are the visitor's own, by facet.
    """
    changes = shape_changes(box, start, moves)
    rows = max(1, -(-len(changes) // PER_ROW))
    columns = min(len(changes), PER_ROW) or 1
    width, height = SIDE + 2 * PAD, SIDE + PAD + FOOT
    ax = sheet(2 * MARGIN + columns * (width + GAP) - GAP, 2 * MARGIN + HEAD + rows * (height + GAP) - GAP, ax)
    inks = Inks(colours_for(box, colours))
    top = MARGIN + rows * (height + GAP) - GAP
    words = "If it catches, line it up, do not push."
    write(ax, MARGIN + (columns * (width + GAP) - GAP) / 2, top + HEAD / 2, words, size=8.5, color=FAINT_INK)
    for i, (number, name, after) in enumerate(changes):
        left, low = MARGIN + i % PER_ROW * (width + GAP), top - (i // PER_ROW + 1) * (height + GAP) + GAP
        ax.add_patch(Rectangle((left, low), width, height, facecolor=PAPER, lw=0))
        ax.add_patch(Rectangle((left + PAD, low + FOOT), SIDE, SIDE, facecolor=BACKDROP, lw=0))
        spot = Spot(left + width / 2, low + FOOT + SIDE / 2, SIDE / 2 / (1.08 * reach(box)))
        paint(ax, scene(box, after, cameras(box)[0]), inks, spot)
        write(ax, spot.x, low + 0.28, f"after turn {number}: {name}", size=9, weight="bold")
        write(ax, spot.x, low + 0.12, "it should now look like this", size=7, color=FAINT_INK)
    return ax.figure
