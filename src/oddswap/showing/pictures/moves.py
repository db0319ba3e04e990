"""One move, large: the position with its slabs on their way, from the two points of view of the prints."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.showing.ink.arrows import draw_arrow
from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.ink.canvas import sheet, write
from oddswap.showing.ink.painting import Inks, Spot, paint
from oddswap.showing.ink.palette import BACKDROP, FAINT_INK, PAPER, colours_for
from oddswap.showing.ink.scene import scene
from oddswap.showing.pictures.strip import BEGUN
from oddswap.values.arrangement import Arrangement

SIDE, PAD, FOOT, GAP, MARGIN = 2.0, 0.09, 0.34, 0.1, 0.2


def draw_move(
    puzzle: Puzzle,
    arrangement: Arrangement,
    turns: Sequence[Turn] = (),
    *,
    colours: Mapping[str, str] | None = None,
    ax: Axes | None = None,
) -> Figure:
    """``arrangement`` with ``turns`` begun, which turn about one axis, each with its arrow; at rest without turns."""
    inks = Inks(colours_for(puzzle, colours), lifted=bool(turns))
    turning = [(turn, BEGUN / abs(turn.angle)) for turn in turns]
    width = SIDE + 2 * PAD
    ax = sheet(2 * MARGIN + 2 * width + GAP, 2 * MARGIN + SIDE + PAD + FOOT, ax)
    for i, camera in enumerate(cameras(puzzle)):
        left = MARGIN + i * (width + GAP)
        ax.add_patch(Rectangle((left, MARGIN), width, SIDE + PAD + FOOT, facecolor=PAPER, lw=0))
        ax.add_patch(Rectangle((left + PAD, MARGIN + FOOT), SIDE, SIDE, facecolor=BACKDROP, lw=0))
        spot = Spot(left + width / 2, MARGIN + FOOT + SIDE / 2, SIDE / 2 / (1.17 * reach(puzzle)))
        paint(ax, scene(puzzle, arrangement, camera, turning), inks, spot)
        for turn in turns:
            draw_arrow(ax, puzzle, arrangement, turn, camera, spot, zorder=3)
        write(ax, spot.x, MARGIN + FOOT / 2, camera.words, size=8.5, color=FAINT_INK)
    return ax.figure
