"""Paper cards with a picture and room for words, alone or in rows on a sheet, and the keys of colours and hatching below."""

import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.errors import BadOption
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.camera import Camera, cameras, reach
from oddswap.showing.ink.canvas import lay_polygons, sheet, write
from oddswap.showing.ink.outline import stripes
from oddswap.showing.ink.painting import HATCHES, Inks, Spot, letter_of, paint
from oddswap.showing.ink.palette import BACKDROP, BODY, FAINT_INK, INK, PAPER, colours_for, ink_on
from oddswap.showing.ink.scene import scene
from oddswap.values.position import START, Appearance, Arrangement, Holding

MEANINGS = {
    ("twins",): "has a twin that looks the same",
    ("hidden turns",): "can be turned without a trace",
    ("twins", "hidden turns"): "has a twin, and can be turned without a trace",
}
TILE = 0.17
KEY_LINE, PER_LINE = 0.27, 6
LETTER = 0.062
"""About the width of a letter of these words, on the sheet."""


def colour_key_lines(colours: Mapping[str, str]) -> int:
    """How many lines the key of the colours of so many paints takes."""
    return -(-len(colours) // PER_LINE)


def draw_colour_key(
    ax: Axes, visitors: Mapping[str, str], lessons: Mapping[str, str], x: float, y: float, holding: Holding = START
) -> None:
    """Which of the visitor's colours stands where the lessons have which, by paint, lettered as it is held.

    Centred at ``x``, the lowest of its lines at height ``y``.
    """
    step, words = 3.0 * TILE, "yours | in our lessons"
    left = x - step * (min(len(visitors), PER_LINE) - 1) / 2 + LETTER * len(words) / 2
    top = y + KEY_LINE * (colour_key_lines(visitors) - 1)
    write(ax, left - 2 * TILE, top, words, ha="right", size=7.5, color=FAINT_INK)
    for i, name in enumerate(visitors):
        at, height = left + i % PER_LINE * step, top - i // PER_LINE * KEY_LINE
        for colour, corner in ((visitors[name], at - TILE), (lessons[name], at)):
            ax.add_patch(Rectangle((corner, height - TILE / 2), TILE, TILE, facecolor=colour, edgecolor=BODY, lw=0.8))
        write(ax, at - TILE / 2, height, letter_of(holding.hand(name)), size=6.5, color=ink_on(visitors[name]))


def meanings_of(hatched: Mapping[int, tuple[str, ...]]) -> list[tuple[str, ...]]:
    """The hatchings of an x-ray that occur, in the order of their key."""
    return [keys for keys in MEANINGS if keys in hatched.values()]


def draw_hatch_key(ax: Axes, hatched: Mapping[int, tuple[str, ...]], x: float, y: float) -> None:
    """What the hatchings of an x-ray mean, in words: a line for each, centred at ``x``, the lowest at height ``y``."""
    used = meanings_of(hatched)
    left = x - LETTER * max(len(MEANINGS[keys]) for keys in used) / 2 - TILE
    for line, keys in enumerate(reversed(used)):
        _swatch(ax, keys, left, y + line * KEY_LINE)
        write(ax, left + 1.8 * TILE, y + line * KEY_LINE, MEANINGS[keys], ha="left", size=7.5, color=FAINT_INK)


def _swatch(ax: Axes, keys: tuple[str, ...], x: float, y: float) -> None:
    side = 1.2 * TILE
    square = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]]) * side + (x, y - side / 2, 0)
    lines = [stripe for key in keys for stripe in stripes(square, HATCHES[key], 0.07, 0.012)]
    lay_polygons(
        ax,
        [polygon[:, :2] for polygon in (square, *lines)],
        facecolors=[PAPER, *[BODY] * len(lines)],
        edgecolors=[BODY, *["none"] * len(lines)],
        linewidths=0.8,
    )


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
        if not count:
            raise BadOption("there is nothing to draw here: give one thing or more")
        columns, rows = min(per_row, count), -(-count // per_row)
        apart = gap if apart is None else apart
        across, up = self.width + gap, self.height + apart
        ax = sheet(2 * MARGIN + columns * across - gap, 2 * MARGIN + rows * up - apart + above + below, ax)
        places = (divmod(i, columns) for i in range(count))
        return ax, [(MARGIN + column * across, MARGIN + below + (rows - 1 - row) * up) for row, column in places]


SIDE, PAD, HEAD, LINE = 2.0, 0.09, 0.3, 0.145
LETTERS = 39
"""How many letters of the words fit on a line."""


@dataclass(frozen=True, eq=False)
class Card:
    """One picture with its words. Its inks are as `Inks` has them; without ``camera`` it is seen as on the first print."""

    puzzle: Puzzle
    shown: Arrangement
    headline: str
    words: str = ""
    hatched: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    highlight: frozenset[int] = frozenset()
    camera: Camera | None = None
    letters: bool = False

    @property
    def lines(self) -> list[str]:
        return [line for part in self.words.split("\n") for line in textwrap.wrap(part, LETTERS)]


def draw_cards(cards: Sequence[Card], *, per_row: int = 3, ax: Axes | None = None) -> Figure:
    """The cards in rows, and beneath them the key of the hatching, if there is any."""
    used = dict.fromkeys(keys for card in cards for keys in card.hatched.values())
    hatched = dict(enumerate(used))
    keys = KEY_LINE * len(meanings_of(hatched)) + (MARGIN / 2 if hatched else 0.0)
    foot = HEAD + LINE * max((len(card.lines) for card in cards), default=0) + PAD * any(card.lines for card in cards)
    paper = PaperCard(SIDE, PAD, foot)
    ax, corners = paper.in_rows(len(cards), per_row, 0.2, ax, below=keys)
    for card, (left, low) in zip(cards, corners, strict=True):
        inks = {"hatched": card.hatched, "highlight": card.highlight, "letters": card.letters}
        spot = paper.picture(ax, (left, low), card.puzzle, card.shown, card.camera, **inks)
        write(ax, spot.x, low + foot - HEAD / 2, card.headline, size=10, weight="bold", color=INK)
        style = {"size": 8.5, "color": FAINT_INK, "va": "top", "linespacing": 1.25}
        write(ax, spot.x, low + foot - HEAD, "\n".join(card.lines), **style)
    if hatched:
        draw_hatch_key(ax, hatched, ax.get_xlim()[1] / 2, MARGIN / 2 + KEY_LINE / 2)
    return ax.figure
