"""A puzzle as two photographs on a table would show it, from opposite sides; a third print for what both leave hidden.

A puzzle without a solid is drawn flat.
"""

from collections.abc import Iterable, Mapping

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.canvas import sheet, write
from oddswap.showing.ink.flat import draw_flat
from oddswap.showing.ink.keys import KEY_LINE, colour_key_lines, draw_colour_key, draw_hatch_key, meanings_of
from oddswap.showing.ink.marking import hatched_pieces, slot_numbers
from oddswap.showing.ink.painting import Inks, Spot, paint
from oddswap.showing.ink.palette import BACKDROP, BLACK, FAINT_INK, PAPER, colours_for
from oddswap.showing.ink.scene import scene
from oddswap.showing.ink.sight import views
from oddswap.values.position import START, Appearance, Arrangement, Holding

SIDE = 2.0
"""The picture on a print is a square of this side; around it is the paper."""
BORDER, CAPTION, OVERLAP, MARGIN = 0.09, 0.34, 0.12, 0.22
ROOMY = 1.14
"""How much broader a print is than what is on it."""
TILTS = (1.6, -1.2, 0.9)


def draw_prints(
    puzzle: Puzzle,
    shown: Arrangement | Appearance | None = None,
    *,
    colours: Mapping[str, str] | None = None,
    letters: bool = False,
    xray: bool | Iterable[str | int] = False,
    highlight: Iterable[str | int] = (),
    caption: bool = True,
    holding: Holding = START,
    ax: Axes | None = None,
) -> Figure:
    """The prints of a puzzle, in lesson colours or, with a key, in the visitor's own ``colours`` by facet.

    It is solved when ``shown`` is left out. ``letters`` writes each sticker's facet on it. ``xray`` hatches the pieces that
    have lookalikes: all of them, or those at home in the slots given (names or numbers). The pieces that sit in the slots of
    ``highlight`` are outlined. It is seen as by hands that hold it as in ``holding``. What has no solid is one picture from above
    and without a ``caption``, as `draw_flat` makes it.

    >>> from oddswap import draw
    >>> figure = draw.draw_prints("shape-mod:prism8", "flip UF", highlight=["UF"])
    """
    shown = shown or puzzle.solved
    if puzzle.geometry is None:
        return draw_flat(puzzle, shown, colours=colours, letters=letters, xray=xray, highlight=highlight, ax=ax)
    hatched = hatched_pieces(puzzle, xray)
    inks = Inks(
        colours=colours_for(puzzle, colours),
        hatched=hatched,
        highlight=frozenset(slot_numbers(puzzle, highlight)),
        letters=letters,
        holding=holding,
    )
    taken = views(puzzle, shown, holding)
    scenes = [scene(puzzle, shown, camera).open() for camera, _ in taken]
    wide = max(np.abs(np.concatenate(seen.outlines())).max() for seen in scenes)
    colour_lines, hatch_lines = colour_key_lines(inks.colours) if colours else 0, len(meanings_of(hatched))
    keys = KEY_LINE * (colour_lines + hatch_lines) + (MARGIN / 2 if colours or hatched else 0.0)
    foot = CAPTION if caption else BORDER
    step = SIDE + 2 * BORDER - OVERLAP
    width = 2 * MARGIN + len(taken) * step + OVERLAP
    height = 2 * MARGIN + SIDE + BORDER + foot + keys
    ax = sheet(width, height, ax)
    for i, (seen, (_, words)) in enumerate(zip(scenes, taken, strict=True)):
        spot = Spot(
            MARGIN + BORDER + SIDE / 2 + i * step,
            MARGIN + keys + foot + SIDE / 2 + (-0.02, 0.03, -0.01)[i],
            SIDE / 2 / (ROOMY * wide),
            TILTS[i],
        )
        lay_print(ax, spot, foot, words if caption else "", zorder=10.0 * (i + 1))
        paint(ax, seen, inks, spot, zorder=10.0 * i + 12)
    lowest = MARGIN / 2 + KEY_LINE / 2
    if colours:
        draw_colour_key(ax, inks.colours, colours_for(puzzle), width / 2, lowest + KEY_LINE * hatch_lines, holding)
    if hatched:
        draw_hatch_key(ax, hatched, width / 2, lowest)
    return ax.figure


def lay_print(ax: Axes, spot: Spot, foot: float, words: str, zorder: float) -> None:
    """A sheet of photographic paper with its picture's backdrop, its shadow, and the words on its border, ``foot`` high."""
    lay = Spot(spot.x, spot.y, 1.0, spot.tilt).place
    half = SIDE / 2
    paper = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * (half + BORDER)
    paper[:2, 1] = -half - foot
    for drop, alpha in ((0.05, 0.05), (0.03, 0.08), (0.012, 0.12)):
        ax.add_patch(Polygon(lay(paper) + (drop / 2, -drop), color=BLACK, alpha=alpha, lw=0, zorder=zorder))
    ax.add_patch(Polygon(lay(paper), facecolor=PAPER, lw=0, zorder=zorder + 0.1))
    picture = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * half
    ax.add_patch(Polygon(lay(picture), facecolor=BACKDROP, lw=0, zorder=zorder + 0.2))
    at = lay(np.array([0.0, -half - foot / 2]))
    write(ax, *at, words, rotation=spot.tilt, size=8.5, color=FAINT_INK, zorder=zorder + 0.3)
