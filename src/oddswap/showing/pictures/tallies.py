"""A tally as a picture: a row for each law, a column for each move, and every value that has changed stands out."""

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon, Rectangle

from oddswap.reasoning.laws.tally import Tally
from oddswap.showing.ink.canvas import sheet, write
from oddswap.showing.ink.palette import BACKDROP, FAINT_INK, HIGHLIGHT, INK, PAPER, mix
from oddswap.words.laws import rows_in_words

LINE, MARGIN, GAP = 0.28, 0.2, 0.24
Rows = list[tuple[str, tuple[str, ...]]]
LETTER = 0.066
"""About the width of a letter of the table, on the sheet."""


def draw_tally(tally: Tally, *, per_row: int = 12, ax: Axes | None = None) -> Figure:
    """The tally as a table, ``per_row`` columns to a block; a changed value is bold, tinted and has a marked corner.

    >>> import oddswap
    >>> figure = oddswap.draw_tally(oddswap.tally("cube:3", "R U2"))
    """
    heads, rows = ["start", *tally.moves], rows_in_words(tally)
    names = LETTER * max((len(name) for name, _ in rows), default=0) + 0.25
    texts = [*heads, *(text for _, row in rows for text in row)]
    column = max(LETTER * max(map(len, texts)) + 0.2, 0.42)
    blocks = [range(at, min(at + per_row, len(heads))) for at in range(0, len(heads), per_row)]
    height = LINE * (len(rows) + 1)
    width = 4 * MARGIN + names + column * len(blocks[0])
    ax = sheet(width, len(blocks) * (height + GAP) - GAP + 4 * MARGIN, ax)
    top = ax.get_ylim()[1] - 2 * MARGIN
    ax.add_patch(Rectangle((MARGIN, MARGIN), width - 2 * MARGIN, top, facecolor=PAPER, lw=0))
    for block in blocks:
        _draw_block(ax, rows, heads, block, 2 * MARGIN + names, column, top)
        top -= height + GAP
    return ax.figure


def _draw_block(ax: Axes, rows: Rows, heads: list[str], block: range, left: float, column: float, top: float):
    right = left + column * len(block)
    for place, j in enumerate(block):
        middle = left + column * (place + 0.5)
        write(ax, middle, top - LINE / 2, heads[j], size=8.5, weight="bold" if j else "normal", color=INK)
    for i, (law, row) in enumerate(rows):
        y = top - LINE * (i + 1)
        ax.add_line(Line2D([2 * MARGIN, right], [y, y], color=BACKDROP, lw=0.8, zorder=1))
        write(ax, left - 0.15, y - LINE / 2, law, ha="right", size=8, color=FAINT_INK)
        for place, j in enumerate(block):
            changed = j > 0 and row[j] != row[j - 1]
            x = left + column * place
            if changed:
                _mark(ax, x, y, column)
            weight = "bold" if changed else "normal"
            write(ax, x + column / 2, y - LINE / 2, row[j], size=8.5, color=INK, weight=weight, zorder=3)


def _mark(ax: Axes, x: float, y: float, column: float) -> None:
    """A tint and a corner in the colour of what the text speaks of."""
    tint = mix(HIGHLIGHT, PAPER, 0.86)
    ax.add_patch(Rectangle((x + 0.02, y - LINE + 0.02), column - 0.04, LINE - 0.04, facecolor=tint, lw=0, zorder=2))
    corner = [(x + 0.02, y - 0.02), (x + 0.12, y - 0.02), (x + 0.02, y - 0.12)]
    ax.add_patch(Polygon(corner, facecolor=HIGHLIGHT, lw=0, zorder=2.1))
