"""One move, large: the position with its slabs on their way, from the two points of view of the prints."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.showing.ink.arrows import draw_arrow
from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.ink.canvas import write
from oddswap.showing.ink.painting import Inks, paint
from oddswap.showing.ink.palette import FAINT_INK, colours_for
from oddswap.showing.ink.paper_card import MARGIN, PaperCard
from oddswap.showing.ink.scene import scene
from oddswap.showing.pictures.strip import BEGUN
from oddswap.values.arrangement import Arrangement

CARD = PaperCard(side=2.0, pad=0.09, foot=0.34)


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
    ax, corners = CARD.in_rows(2, 2, 0.1, ax)
    for camera, corner in zip(cameras(puzzle), corners, strict=True):
        spot = CARD.lay(ax, *corner, 1.17 * reach(puzzle))
        paint(ax, scene(puzzle, arrangement, camera, turning), inks, spot)
        for turn in turns:
            draw_arrow(ax, puzzle, arrangement, turn, camera, spot, zorder=3)
        write(ax, spot.x, MARGIN + CARD.foot / 2, camera.words, size=8.5, color=FAINT_INK)
    return ax.figure
