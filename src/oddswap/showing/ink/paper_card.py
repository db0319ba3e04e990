"""The paper card: a square picture on paper with room for words, alone or in rows on a sheet."""

from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.camera import Camera, cameras, reach
from oddswap.showing.ink.canvas import sheet
from oddswap.showing.ink.painting import Inks, Spot, paint
from oddswap.showing.ink.palette import BACKDROP, PAPER, colours_for
from oddswap.showing.ink.scene import scene
from oddswap.values.position import Appearance, Arrangement

MARGIN = 0.2
"""What is left free round a sheet of cards."""


@dataclass(frozen=True)
class PaperCard:
    """A picture of ``side`` by ``side``, with ``pad`` free on three sides, ``foot`` below it and ``beside`` more to its right."""

    side: float
    pad: float
    foot: float
    beside: float = 0.0

    @property
    def width(self) -> float:
        return self.side + 2 * self.pad + self.beside

    @property
    def height(self) -> float:
        return self.side + self.pad + self.foot

    def lay(self, ax: Axes, left: float, low: float, room: float) -> Spot:
        """Lay the card with this lower left corner; returns where a picture goes that is ``room`` half-edges in radius."""
        ax.add_patch(Rectangle((left, low), self.width, self.height, facecolor=PAPER, lw=0))
        ax.add_patch(Rectangle((left + self.pad, low + self.foot), self.side, self.side, facecolor=BACKDROP, lw=0))
        half = self.side / 2
        return Spot(left + (self.width - self.beside) / 2, low + self.foot + half, half / room)

    def picture(
        self,
        ax: Axes,
        corner: tuple[float, float],
        puzzle: Puzzle,
        shown: Arrangement | Appearance,
        camera: Camera | None = None,
        *,
        size: float = 8.0,
        **inks,
    ) -> Spot:
        """Lay the card with its lower left corner there, a solid painted on it; ``inks`` beside the colours as `Inks` has them.

        Without ``camera`` it is seen as on the first of its prints; ``size`` is that of the letters. Returns where it is.
        """
        spot = self.lay(ax, *corner, 1.08 * reach(puzzle))
        seen = scene(puzzle, shown, camera or cameras(puzzle)[0]).open()
        paint(ax, seen, Inks(colours_for(puzzle), **inks), spot, size=size)
        return spot

    def in_rows(
        self,
        count: int,
        per_row: int,
        gap: float,
        ax: Axes | None = None,
        *,
        apart: float | None = None,
        above: float = 0.0,
        below: float = 0.0,
    ) -> tuple[Axes, list[tuple[float, float]]]:
        """A sheet for so many cards, ``gap`` apart, and the lower left corner of each; ``above`` and ``below`` stay free.

        Rows are ``gap`` apart as well, unless told how far ``apart``.
        """
        columns, rows = min(per_row, count) or 1, max(1, -(-count // per_row))
        apart = gap if apart is None else apart
        across, up = self.width + gap, self.height + apart
        ax = sheet(2 * MARGIN + columns * across - gap, 2 * MARGIN + rows * up - apart + above + below, ax)
        places = (divmod(i, columns) for i in range(count))
        return ax, [(MARGIN + column * across, MARGIN + below + (rows - 1 - row) * up) for row, column in places]
