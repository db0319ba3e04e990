"""The sheet that every picture is drawn on: figures without global state, plain text, files that are the same each time."""

import re
from collections.abc import Sequence
from functools import lru_cache
from io import BytesIO
from pathlib import Path

import matplotlib as mpl
import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.text import Text
from matplotlib.textpath import text_to_path

from oddswap.reasoning.search.kept_files import write_whole
from oddswap.showing.ink.palette import INK, TABLE

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


def save(figure: Figure, path: str | Path, *, width: int | None = None, transparent: bool = False) -> Path:
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
    metadata = {"Date": None, "Creator": None} if kind == "svg" else {"Software": None}
    dpi = width / figure.get_figwidth() if width else 160
    held = BytesIO()
    with mpl.rc_context({"svg.hashsalt": "oddswap", "svg.fonttype": "path", "path.simplify": False}):
        figure.savefig(held, format=kind, dpi=dpi, metadata=metadata, transparent=transparent)
    return write_whole(path, _shortened(held.getvalue()) if kind == "svg" else held.getvalue())


def _shortened(svg: bytes) -> bytes:
    """The same picture with every point of a path to a hundredth, which nobody sees and which is a third shorter."""
    return re.sub(rb'(?<= d=")[^"]*', lambda path: re.sub(rb"(\.\d\d)\d+", rb"\1", path[0]), svg)
