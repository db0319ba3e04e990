"""Where things go on the print of a clip, and the words on it: large ones beside the puzzle, captions on the foot."""

from collections.abc import Sequence
from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.showing.ink.canvas import sheet, text_size, wrapped, write
from oddswap.showing.ink.palette import FAINT_INK, INK, PAPER

SMALLEST, MODEST = 28, 15
"""The least size of words, and the largest beside a piece that is out, as shares of the sheet's height."""
MARGIN, GAP = 0.08, 0.15
"""Between the puzzle and the edge of its field, and between that and the words, in units."""
PLACES, STRIP = 5, 1.7
"""So many turns of the strip are seen, and how much room it takes with what stands below it."""

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Format:
    """Where things go, in units: sizes of the sheet, and boxes (x, y, width, height) from the lower left corner.

    ``pair`` are where two puzzles stand beside each other; ``sizes`` are the largest headline and second line, ``lines`` those
    of a headline, and ``caption`` the middle, the breadth and the size of a caption.
    """

    width: float
    height: float
    puzzle: Box
    picture: Box | None = None
    words: Box = (0.0, 0.0, 0.0, 0.0)
    pair: tuple[Box, ...] = ()
    sizes: tuple[float, float] = (0.0, 0.0)
    caption: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    lines: int = 2

    @property
    def field(self) -> Box:
        """Where the puzzle may be seen: on the picture, clear of the words on its right or above it."""
        if not self.picture:
            return self.puzzle
        (x, y, wide, high), (left, low, *_) = self.picture, self.words
        right, top = (left - GAP, y + high) if left > self.width / 2 else (x + wide, low - GAP)
        return x + MARGIN, y + MARGIN, right - x - 2 * MARGIN, top - y - 2 * MARGIN

    @property
    def below_words(self) -> float:
        """Where it is free below a headline and a second line of a line each, as large as they are beside a piece that is out."""
        _, y, _, high = self.words
        return y + high - sum(1.35 * min(size, self.height / MODEST) + 0.25 for size in self.sizes)


BESIDE = ((0.6, 2.75, 7.2, 5.95), (8.2, 2.75, 7.2, 5.95))
WIDE = Format(
    16.0, 9.0, (0.35, 1.63, 8.6, 7.07), (0.2, 1.53, 15.6, 7.27), (9.1, 2.1, 6.1, 6.0), BESIDE, (1.1, 0.6), (8.0, 0.88, 14.4, 0.47)
)
COVER = Format(16.0, 9.0, (0.35, 0.4, 8.9, 8.2), (0.2, 0.2, 15.6, 8.6), (9.4, 1.2, 6.1, 6.4), BESIDE, (1.6,), lines=3)
"""One still with the sight and its headline, and no foot."""
ABOVE = ((0.6, 10.55, 7.8, 4.95), (0.6, 4.5, 7.8, 4.95))
TALL = Format(
    9.0, 16.0, (0.4, 3.7, 8.2, 8.3), (0.2, 3.52, 8.6, 12.28), (0.6, 12.1, 7.8, 3.4), ABOVE, (0.9, 0.62), (4.5, 2.55, 8.1, 0.58), 3
)
PAIR = ((0.5, 3.1, 5.4, 5.9), (6.1, 3.1, 5.4, 5.9))
SQUARE = Format(
    12.0, 12.0, (1.4, 2.15, 9.2, 6.6), (0.2, 2.0, 11.6, 9.8), (0.7, 8.9, 10.6, 2.6), PAIR, (0.9, 0.6), (6.0, 1.1, 10.8, 0.6), 3
)
CLEAR = Format(9.0, 9.0, (0.0, 0.0, 9.0, 9.0))
"""The puzzle alone on a transparent ground, to be laid over one's own footage."""


def _broad(text: str, weight: str = "normal") -> float:
    """How broad the longest line of a text is at size 1."""
    return max(text_size(line, weight)[0] for line in text.split("\n"))


def foot_with(layout: Format, text: str, dots: float) -> Figure:
    """The foot of the print with a caption on it."""
    x, y, wide, size = layout.caption
    ax = sheet(layout.width, layout.picture[1], None, inches=1.0)
    ax.figure.set_dpi(dots)
    ax.figure.patch.set_facecolor(PAPER)
    least = layout.height / SMALLEST
    lines = text
    if layout.lines > 2:  # lines as even as can be
        ways = [wrapped(text, share * wide / 1.3, 72 * size) for share in (1.0, 0.9, 0.8, 0.7, 0.6)]
        lines = [way for way in ways if way.count("\n") == ways[0].count("\n")][-1]
    size = max(least, min(size, wide / (_broad(lines) or 1.0)))
    y = min(y, layout.picture[1] - MARGIN - 0.6 * size * (lines.count("\n") + 1))
    write(ax, x, y, lines, size=72 * size, linespacing=1.2)
    return ax.figure


def lay_words(ax: Axes, layout: Format, large: Sequence[str], *, beside: bool, above: bool) -> None:
    """A headline, and a second line below it, as large as fits ``beside`` a piece that is out, or ``above`` the strip."""
    x, y, wide, high = layout.words
    aside = 1.7 if beside and layout.lines < 3 else 0.0
    x, wide, top, least = x + aside, wide - aside, y + high, layout.height / SMALLEST
    for text, most, weight, lines in zip(large, layout.sizes, ("bold", "normal"), (layout.lines, 2), strict=False):
        size = min(most, layout.height / MODEST) if beside else most
        while size > least:
            laid = wrapped(text, wide / 1.3, 72 * size, weight)
            low = top - (laid.count("\n") + 1) * 1.2 * size
            if laid.count("\n") < lines and _broad(laid, weight) * size <= wide and low >= y + STRIP * above:
                break
            size = max(least, 0.95 * size)
        write(ax, x, top, laid, ha="left", va="top", size=72 * size, weight=weight, linespacing=1.2)
        top -= (laid.count("\n") + 1) * 1.35 * size + 0.25


def lay_turns(ax: Axes, layout: Format, names: Sequence[str], current: int, told: str, back: float = 0.0) -> None:
    """Five turns of the strip, the present one dark in its middle, and below it which one it is; ``back`` so many places yet."""
    x, y, wide, _ = layout.words
    cell, high, low = wide / PLACES, 0.8, y + 0.65
    size = min(0.5, 0.9 * cell / max(_broad(name, "bold") for name in names))
    strip = Rectangle((x, low), wide, high, facecolor=PAPER, lw=0, zorder=1)
    now = Rectangle((x + PLACES // 2 * cell, low - 0.1), cell, high + 0.2, facecolor=INK, lw=0, zorder=1.2)
    for patch in (strip, now)[: 1 + (current >= 0)]:
        ax.add_patch(patch)
    for i, name in enumerate(names):
        aside, paper = i - max(current, 0) + back, {"color": FAINT_INK if i < current else INK}
        inked = [(strip, paper)] * (abs(aside) < PLACES / 2 + 0.5 and (aside != 0 or current < 0))
        for within, style in inked + [(now, {"color": PAPER, "weight": "bold"})] * (abs(aside) < 1 and current >= 0):
            at = x + wide / 2 + aside * cell, low + high / 2
            write(ax, *at, name, size=72 * size, zorder=within.zorder + 0.1, clip_on=True, **style).set_clip_path(within)
    write(ax, x, y + 0.2, told, ha="left", size=72 * layout.height / SMALLEST, color=FAINT_INK, zorder=1.2)


def lay_below_pair(ax: Axes, layout: Format, told: Sequence[tuple[str, str]]) -> None:
    """A sign, if any, and words below each of two puzzles."""
    rooms = (
        wide / (_broad(words, "bold") + 1.4 * bool(sign))
        for (_, _, wide, _), (sign, words) in zip(layout.pair, told, strict=True)
    )
    size = min(layout.width / MODEST, layout.height / MODEST, *rooms)
    for (x, y, wide, _), (sign, words) in zip(layout.pair, told, strict=True):
        room, low = 1.4 * size * bool(sign), y - 0.6
        left = x + (wide - _broad(words, "bold") * size - room) / 2
        if sign:
            ax.add_patch(Rectangle((left, low - 0.6 * size), 1.1 * size, 1.1 * size, facecolor=INK, lw=0, zorder=1))
            write(ax, left + 0.55 * size, low, sign, size=50 * size, color=PAPER, zorder=1.1)
        write(ax, left + room, low, words, ha="left", size=72 * size, weight="bold", zorder=1)
