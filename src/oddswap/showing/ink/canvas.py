"""The sheet that every picture is drawn on, and pages to print: no global state, plain text, files the same each time."""

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from io import BytesIO
from pathlib import Path

import matplotlib as mpl
import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.lines import Line2D
from matplotlib.text import Text
from matplotlib.textpath import text_to_path

from oddswap.errors import BadOption, quoted
from oddswap.reasoning.search.kept_files import write_whole
from oddswap.showing.ink.palette import BODY, INK, TABLE
from oddswap.values.numbers import AtLeastOne

FONT = "DejaVu Sans"
"""Comes with matplotlib, so that a picture looks the same everywhere."""
HINTING = 1.03
INCHES = 1.3
"""How long one unit of a sheet is on paper."""


def sheet(width: float, height: float, ax: Axes | None = None, *, inches: float = INCHES) -> Axes:
    """Axes that show x from 0 to ``width`` and y from 0 to ``height``, equal in scale; new, or the ``ax`` given."""
    if ax is None:
        figure = Figure(figsize=(width * inches, height * inches), facecolor=TABLE)
        ax = figure.add_axes((0, 0, 1, 1))
    ax.set_axis_off()
    ax.set_aspect("equal")
    ax.set_xlim(0, width)
    ax.set_ylim(0, height)
    return ax


def lay_polygons(ax: Axes, polygons: Sequence[np.ndarray], **style) -> None:
    """Lay polygons (k, 2) on a sheet, all at once and in this order; the sheet shows what it showed."""
    ax.add_collection(PolyCollection(polygons, **style), autolim=False)


def write(ax: Axes, x: float, y: float, text: str, **style) -> Text:
    """Put ``text`` as it stands, with no mathematics read into it; ``size`` is in points."""
    style = {"ha": "center", "va": "center", "color": INK, "size": 9.0, **style}
    return ax.text(x, y, text, family=FONT, parse_math=False, **style)


@lru_cache(maxsize=4096)
def text_size(text: str, weight: str = "normal") -> tuple[float, float]:
    """Width and height of a line of text as `write` puts it, in points at size 1."""
    if not text.strip():
        return 0.0, 0.0
    font = FontProperties(family=FONT, weight=weight, size=1)
    width, height, _ = text_to_path.get_text_width_height_descent(text, font, ismath=False)
    return float(width), float(height)


def wrapped(text: str, width: float, size: float, weight: str = "normal") -> str:
    """The words of ``text`` in lines no wider than ``width`` units of a sheet at ``size`` points, but for longer words.

    What stands on lines of its own stays so. A little is left for letters that a raster makes broader.

    >>> wrapped("one two three", 0.6, 9.0).split(chr(10))
    ['one two', 'three']
    """
    if "\n" in text:
        return "\n".join(wrapped(line, width, size, weight) for line in text.split("\n"))
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".lstrip()
        if lines[-1] and text_size(longer, weight)[0] * size * HINTING > width * 72 * INCHES:
            lines.append(word)
        else:
            lines[-1] = longer
    return "\n".join(lines)


def save(figure: Figure, path: str | Path, *, width: AtLeastOne | None = None, transparent: bool = False) -> Path:
    """Write a figure as SVG or PNG by the path's suffix; the same figure gives the same bytes.

    ``width`` is that of a PNG in pixels. The file appears complete or not at all.

    >>> from pathlib import Path
    >>> from tempfile import mkdtemp
    >>> from oddswap import draw
    >>> draw.save(draw.draw_prints("cube:2", "R"), Path(mkdtemp()) / "turned.svg").name
    'turned.svg'
    """
    path = Path(path)
    kind = path.suffix[1:].lower()
    if kind not in ("svg", "png"):
        raise BadOption(f"{quoted(path.name)} is no name of a picture: let it end in .svg or .png")
    metadata = {"Date": None, "Creator": None} if kind == "svg" else {"Software": None}
    dpi = width / figure.get_figwidth() if width else 160
    held = BytesIO()
    with mpl.rc_context({"svg.hashsalt": "oddswap", "svg.fonttype": "path", "path.simplify": False}):
        figure.savefig(held, format=kind, dpi=dpi, metadata=metadata, transparent=transparent)
    return write_whole(path, _shortened(held.getvalue()) if kind == "svg" else held.getvalue())


def _shortened(svg: bytes) -> bytes:
    """The same picture with every point of a path to a hundredth, which nobody sees and which is a third shorter."""
    return re.sub(rb'(?<= d=")[^"]*', lambda path: re.sub(rb"(\.\d\d)\d+", rb"\1", path[0]), svg)


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
        """Rows of cells with a rule below each; columns are as broad as their words ask for. The first heads each page."""
        asked = [max(text_size(row[i], "bold")[0] * size / 72 / INCHES for row in rows) + 3 * PAD for i in range(len(rows[0]))]
        broad = [min(width, self.inner / 2) for width in asked]
        broad = [width * self.inner / sum(broad) for width in broad]

        def lay(row: Sequence[str], weight: str) -> None:
            cells = [wrapped(cell, width - 2 * PAD, size, weight) for cell, width in zip(row, broad, strict=True)]
            high = max(height_of(cell, size) for cell in cells) + PAD
            if self.y - high < EDGE:
                self.turn()
                if row is not rows[0]:
                    lay(rows[0], "bold")
            for i, cell in enumerate(cells):
                left = EDGE + sum(broad[:i])
                write(self.ax, left, self.y, cell, ha="left", va="top", size=size, weight=weight, linespacing=1.35)
            self.y -= high
            self.rule()
            self.y -= PAD

        for number, row in enumerate(rows):
            lay(row, "normal" if number else "bold")

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
