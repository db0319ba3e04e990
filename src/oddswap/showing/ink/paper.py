"""Pages to print: text and pictures from the top down, a new page where one is full; PDF with fonts embedded, no dates in it."""

from collections.abc import Iterable, Mapping, Sequence
from io import BytesIO
from pathlib import Path

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from oddswap.reasoning.search.kept_files import write_whole
from oddswap.showing.ink.canvas import INCHES, sheet, text_size, wrapped, write
from oddswap.showing.ink.palette import BODY

PAPERS: Mapping[str, tuple[float, float]] = {"A4": (8.27, 11.69), "Letter": (8.5, 11.0)}
"""Width and height in inches."""
EDGE = 0.6 / INCHES
"""What is left free round a page, in units of the sheet."""
LEADING = 1.42
PAD = 0.07
"""What is left free round the words of a table."""


class Paper:
    """Pages of one document. Lengths are units of the sheet; ``y`` is where the next thing begins, from below."""

    def __init__(self, paper: str = "A4"):
        self.width, self.height = (side / INCHES for side in PAPERS[paper])
        self.pages: list[Figure] = []
        self.turn()

    @property
    def inner(self) -> float:
        """The breadth between the edges."""
        return self.width - 2 * EDGE

    def turn(self) -> None:
        """Begin a new page."""
        self.ax: Axes = sheet(self.width, self.height, None)
        self.ax.figure.set_facecolor("white")
        self.pages.append(self.ax.figure)
        self.y = self.height - EDGE

    def room(self, high: float) -> None:
        """Make sure that so much is free, on a new page if need be."""
        if self.y - high < EDGE:
            self.turn()

    def text(self, text: str, size: float = 10, *, weight: str = "normal", indent: float = 0.0, after: float = 0.1) -> None:
        """A paragraph, broken into lines."""
        lines = wrapped(text, self.inner - indent, size, weight)
        high = height_of(lines, size)
        self.room(high)
        write(self.ax, EDGE + indent, self.y, lines, ha="left", va="top", size=size, weight=weight, linespacing=1.35)
        self.y -= high + after

    def heading(self, text: str, size: float = 13) -> None:
        """A heading, which does not stand alone at the foot of a page."""
        self.room(height_of(text, size) + 0.6)
        self.text(text, size, weight="bold", after=0.06)

    def table(self, rows: Sequence[Sequence[str]], size: float = 11) -> None:
        """Rows of cells, the first one bold, with a rule below each; columns are as broad as their words ask for."""
        asked = [max(text_size(row[i], "bold")[0] * size / 72 / INCHES for row in rows) + 3 * PAD for i in range(len(rows[0]))]
        broad = [min(width, self.inner / 2) for width in asked]
        broad = [width * self.inner / sum(broad) for width in broad]
        for number, row in enumerate(rows):
            weight = "normal" if number else "bold"
            cells = [wrapped(cell, width - 2 * PAD, size, weight) for cell, width in zip(row, broad, strict=True)]
            high = max(height_of(cell, size) for cell in cells) + PAD
            self.room(high)
            for i, cell in enumerate(cells):
                left = EDGE + sum(broad[:i])
                write(self.ax, left, self.y, cell, ha="left", va="top", size=size, weight=weight, linespacing=1.35)
            self.y -= high
            self.rule()
            self.y -= PAD

    def rule(self, left: float = EDGE, width: float = 0.8) -> None:
        """A line from ``left`` to the right edge, where the next thing begins."""
        self.ax.add_line(Line2D([left, self.width - EDGE], [self.y] * 2, color=BODY, lw=width))

    def box(self, high: float) -> Axes:
        """Axes across the page, so high, below what is there."""
        self.room(high)
        self.y -= high
        return self.ax.figure.add_axes((EDGE / self.width, self.y / self.height, self.inner / self.width, high / self.height))


def height_of(lines: str, size: float) -> float:
    """How high lines of text stand."""
    return (lines.count("\n") + 1) * size * LEADING / 72 / INCHES


def write_pdf(pages: Iterable[Figure], path: Path) -> Path:
    """The pages as one file that appears complete or not at all; the same pages give the same bytes."""
    dateless = {"CreationDate": None, "Creator": None, "Producer": None}
    held = BytesIO()
    with mpl.rc_context({"pdf.fonttype": 42}), PdfPages(held, metadata=dateless) as document:
        for page in pages:
            document.savefig(page)
    return write_whole(path, held.getvalue())
