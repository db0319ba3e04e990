"""A puzzle as two photographs on a table would show it, from opposite sides; a third print for what both leave hidden.

A puzzle without a solid is drawn flat.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, FancyBboxPatch, Polygon

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.verdicts.views import View
from oddswap.showing.ink.arrows import THICK, lay_arrow
from oddswap.showing.ink.camera import AWAY, Camera, directions, frame_of, reach
from oddswap.showing.ink.canvas import sheet, wrapped, write
from oddswap.showing.ink.cards import KEY_LINE, colour_key_lines, draw_colour_key, draw_hatch_key, meanings_of
from oddswap.showing.ink.flat import draw_flat
from oddswap.showing.ink.painting import Inks, Spot, fitting, hatched_pieces, paint, slot_numbers
from oddswap.showing.ink.palette import ARROW, BACKDROP, BLACK, FAINT_INK, PAPER, colours_for
from oddswap.showing.ink.scene import Scene, scene
from oddswap.showing.ink.sight import views
from oddswap.values.grammar import capital
from oddswap.values.position import START, Appearance, Arrangement, Holding

SIDE = 2.0
"""The picture on a print is a square of this side; around it is the paper."""
BORDER, CAPTION, OVERLAP, MARGIN = 0.09, 0.34, 0.12, 0.22
ROOMY = 1.14
"""How much broader a print is than what is on it."""
TILTS = (1.6, -1.2, 0.9)


@dataclass(frozen=True, eq=False)
class Print:
    """A picture with its ``words``: the ``points`` (k, 2) of what is ``seen`` fill a square of this ``side``.

    ``arrows`` are paths (k, 2) with how thick they are, in half-edges.
    """

    seen: Scene
    inks: Inks
    words: str
    points: np.ndarray
    side: float = SIDE / ROOMY
    arrows: tuple[tuple[np.ndarray, float], ...] = ()

    def paint(self, ax: Axes, middle: tuple[float, float], tilt: float = 0.0, zorder: float = 2.0) -> None:
        """Lay the picture on a sheet, without its paper."""
        spot = fitting(self.points, middle, self.side, tilt)
        paint(ax, self.seen, self.inks, spot, zorder=zorder)
        for path, thick in self.arrows:
            _stand(ax, spot.place(path), spot.scale * thick, zorder)

    def alone(self) -> Figure:
        """The picture on its backdrop, for a page that makes the paper and the words."""
        ax = sheet(SIDE, SIDE)
        ax.figure.set_facecolor(BACKDROP)
        self.paint(ax, (SIDE / 2, SIDE / 2))
        return ax.figure


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
    ``highlight`` are outlined. It is seen as by hands that hold it as in ``holding``. Without a ``caption`` there is no key to
    colours, either. What has no solid is one picture from above, as `draw_flat` makes it.

    >>> from oddswap import draw
    >>> figure = draw.draw_prints("shape-mod:prism8", "flip UF", highlight=["UF"])
    """
    shown = shown or puzzle.solved
    if puzzle.geometry is None:
        how = {"colours": colours, "letters": letters, "xray": xray, "highlight": highlight, "caption": caption}
        return draw_flat(puzzle, shown, **how, ax=ax)
    hatched = hatched_pieces(puzzle, xray)
    inks = Inks(
        colours=colours_for(puzzle, colours),
        hatched=hatched,
        highlight=frozenset(slot_numbers(puzzle, highlight)),
        letters=letters,
        holding=holding,
    )
    taken = prints_of(puzzle, shown, inks)
    colour_lines, hatch_lines = colour_key_lines(inks.colours) if colours and caption else 0, len(meanings_of(hatched))
    keys = KEY_LINE * (colour_lines + hatch_lines) + (MARGIN / 2 if colour_lines or hatched else 0.0)
    foot = CAPTION if caption else BORDER
    step = SIDE + 2 * BORDER - OVERLAP
    width = 2 * MARGIN + len(taken) * step + OVERLAP
    height = 2 * MARGIN + SIDE + BORDER + foot + keys
    ax = sheet(width, height, ax)
    for i, one in enumerate(taken):
        middle = (MARGIN + BORDER + SIDE / 2 + i * step, MARGIN + keys + foot + SIDE / 2 + (-0.02, 0.03, -0.01)[i])
        lay_print(ax, Spot(*middle, 1.0, TILTS[i]), foot, one.words if caption else "", zorder=10.0 * (i + 1))
        one.paint(ax, middle, TILTS[i], zorder=10.0 * i + 12)
    lowest = MARGIN / 2 + KEY_LINE / 2
    if colour_lines:
        draw_colour_key(ax, inks.colours, colours_for(puzzle), width / 2, lowest + KEY_LINE * hatch_lines, holding)
    if hatched:
        draw_hatch_key(ax, hatched, width / 2, lowest)
    return ax.figure


def prints_of(puzzle: Puzzle, shown: Arrangement | Appearance, inks: Inks) -> list[Print]:
    """The prints that show every outer face of a solid, all at one scale."""
    taken = [(scene(puzzle, shown, camera).open(), words) for camera, words in views(puzzle, shown, inks.holding)]
    wide = max(np.abs(np.concatenate(seen.outlines())).max() for seen, _ in taken)
    return [Print(seen, inks, words, np.array([[-wide, -wide], [wide, wide]])) for seen, words in taken]


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


FOOT, GAP, LINES = 0.3, 0.2, 0.38
ASIDE = 48.0
"""So many degrees at least the bystander's line of sight is from the photographer's, so that the arrow is not seen end on."""
NEAR, FAR = 1.06, 1.75
"""Where the arrow ends and starts, in shares of how far the solid reaches out towards the photographer."""
GLYPH = 0.13
"""Half the breadth of the small camera, in units of the sheet."""


def draw_next_view(
    puzzle: Puzzle,
    known: Appearance,
    view: View,
    *,
    colours: Mapping[str, str] | None = None,
    holding: Holding = START,
    words: str = "",
    ax: Axes | None = None,
) -> Figure:
    """What is ``known`` with an arrow from where to take the photograph, and beside it what that would have in sight.

    Stickers that are not known bear a question mark, the others their facet's name, as hands have it that hold the puzzle as in
    ``holding``. With the visitor's own ``colours`` by facet there is a key to them. Below stand the ``words`` for the view, by
    default those for an explainer.

    >>> import oddswap
    >>> from oddswap import draw
    >>> cube = oddswap.load("cube:3")
    >>> figure = draw.draw_next_view(cube, oddswap.covered(cube, ["UF", "UR"]), oddswap.views(cube)[1])
    """
    inks = Inks(colours=colours_for(puzzle, colours), letters=True, holding=holding)
    keys = KEY_LINE * colour_key_lines(inks.colours) + MARGIN / 2 if colours else 0.0
    step = SIDE + 2 * BORDER + GAP
    width, low = 2 * MARGIN + 2 * step - GAP, MARGIN + keys + LINES
    ax = sheet(width, low + FOOT + SIDE + BORDER + MARGIN, ax)
    for i, (one, tilt) in enumerate(zip(next_prints(puzzle, known, view, inks), (-1.0, 1.2), strict=True)):
        middle = (MARGIN + BORDER + SIDE / 2 + i * step, low + FOOT + SIDE / 2)
        lay_print(ax, Spot(*middle, 1.0, tilt), FOOT, one.words, zorder=10.0 * (i + 1))
        one.paint(ax, middle, tilt, zorder=10.0 * i + 12)
    said = wrapped(capital(words or view.words), width - 2 * MARGIN, 10.0)
    write(ax, width / 2, MARGIN + keys + LINES / 2 - 0.06, said, size=10.0)
    if colours:
        draw_colour_key(ax, inks.colours, colours_for(puzzle), width / 2, MARGIN / 2 + KEY_LINE / 2, holding)
    return ax.figure


def next_prints(puzzle: Puzzle, known: Appearance, view: View, inks: Inks) -> list[Print]:
    """Where to stand for the next photograph, and what it will show."""
    aside, taken = (scene(puzzle, known, camera(puzzle, view, inks.holding)).open() for camera in (bystander, photographer))
    arrow = aside.camera.project(shaft(puzzle, view))
    points = np.concatenate([*aside.outlines(), arrow])
    here = Print(aside, inks, "stand here", points, SIDE / ROOMY - 2 * GLYPH, ((arrow, THICK * reach(puzzle)),))
    return [here, Print(taken, inks, "what the photograph will show", np.concatenate(taken.outlines()))]


def photographer(puzzle: Puzzle, view: View, holding: Holding = START) -> Camera:
    """The camera that takes the photograph, a little to the front where that looks straight up or down."""
    direction, frame = np.array(view.direction), frame_of(holding)
    if abs(direction @ frame[:, 1]) > 0.98:
        direction = direction + 0.2 * frame[:, 2]
    return Camera(direction / np.linalg.norm(direction), AWAY * reach(puzzle), frame)


def bystander(puzzle: Puzzle, view: View, holding: Holding = START) -> Camera:
    """Who sees the photographer well aside, and the facets of the view as squarely as can be."""
    frame = frame_of(holding)
    grid, towards = directions(4.0) @ frame.T, np.array(view.direction)
    cosines = grid @ towards
    aside = grid[(cosines < np.cos(np.radians(ASIDE))) & (cosines > np.cos(np.radians(ASIDE + 17)))]
    shown = np.array([puzzle.geometry.facets[facet] for facet in view.facets])
    squareness = np.sort(aside @ shown.T, axis=1)[:, ::-1][:, :3] @ (0.2, 0.6, 1.0)
    return Camera(aside[int((squareness + 0.3 * aside @ frame @ (0.2, 0.4, 0.9)).argmax())], AWAY * reach(puzzle), frame)


def shaft(puzzle: Puzzle, view: View) -> np.ndarray:
    """The arrow's points (k, 3), from the photographer to the puzzle, in half-edges."""
    direction = np.array(view.direction)
    out = max(float((face.vertices @ direction).max()) for body in puzzle.geometry.bodies for face in body.faces)
    return np.linspace(FAR, NEAR, 24)[:, None] * out * direction


def _stand(ax: Axes, path: np.ndarray, thick: float, zorder: float) -> None:
    """The arrow along ``path`` (k, 2), with a small camera at its tail."""
    lay_arrow(ax, path, thick, zorder=zorder + 3)
    x, y = path[0]
    style = {"zorder": zorder + 4, "facecolor": ARROW, "edgecolor": PAPER, "linewidth": 1.2}
    top = FancyBboxPatch((x - GLYPH / 3, y), 2 * GLYPH / 3, GLYPH * 0.95, boxstyle="round,pad=0,rounding_size=0.02", **style)
    body = FancyBboxPatch(
        (x - GLYPH, y - 0.75 * GLYPH), 2 * GLYPH, 1.5 * GLYPH, boxstyle="round,pad=0,rounding_size=0.04", **style
    )
    lens = Circle((x, y), 0.5 * GLYPH, zorder=zorder + 4.1, facecolor=PAPER)
    pupil = Circle((x, y), 0.27 * GLYPH, zorder=zorder + 4.2, facecolor=ARROW)
    for patch in (top, body, lens, pupil):
        ax.add_patch(patch)
