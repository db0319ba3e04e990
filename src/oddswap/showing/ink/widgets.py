"""Small parts that lessons and widgets share: kind notes, errors told so, text as it stands, pictures that stay small."""

import gc
import textwrap
from base64 import b64encode
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import wraps
from html import escape
from io import BytesIO

import anywidget
import ipywidgets as widgets
import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from PIL import Image

from oddswap.errors import OddswapError
from oddswap.showing.ink.palette import BACKDROP, INK, PAPER
from oddswap.words.products.notebooks import NOT_MADE, NOT_READ

WIDTH = 88
BOX = f"color:{INK};background:{PAPER};border-left:6px solid {BACKDROP};padding:0.4em 0.8em;max-width:56em;line-height:1.45"


@dataclass(frozen=True)
class Note:
    """Some paragraphs of plain text; what stands in them is shown as it is.

    >>> Note("Both edges are the wrong way round.")
    Both edges are the wrong way round.
    """

    text: str

    def __repr__(self) -> str:
        lines = ((line, " " * (len(line) - len(line.lstrip()))) for line in self.text.split("\n"))
        return "\n".join(textwrap.fill(line, WIDTH, subsequent_indent=indent) for line, indent in lines)

    def _repr_html_(self) -> str:
        lines = "<br>".join(escape(line).replace("  ", "&ensp;") for line in self.text.split("\n"))
        return f'<div style="{BOX}">{lines}</div>'


class Hint(Exception):
    """One sentence that answers what somebody wrote at once, from wherever it is read."""


def kindly(check: Callable[..., Note]) -> Callable[..., Note]:
    """Let a checker answer with a note where what somebody wrote cannot be read, or where a `Hint` is raised."""

    @wraps(check)
    def checked(*arguments, **options) -> Note:
        try:
            return check(*arguments, **options)
        except Hint as hint:
            return Note(str(hint))
        except OddswapError as error:
            return unread(error)

    return checked


def unread(error: OddswapError) -> Note:
    """What is said of something written that cannot be read."""
    return Note(NOT_READ.format(error))


def be_kind() -> None:
    """From now on, in this notebook, input that cannot be used is answered by one sentence in place of a traceback.

    So is a name that a cell further up should have made. Any other error is shown as ever: it is ours to mend.
    """
    from IPython import get_ipython

    shell = get_ipython()
    if shell is not None:
        shell.set_custom_exc((NameError, OddswapError), _told_kindly)


def _told_kindly(shell, kind, error, trace, tb_offset=None):
    if isinstance(error, OddswapError):
        print(unread(error))
    elif isinstance(error, NameError) and _raised_in_cell(trace):
        print(Note(NOT_MADE.format(f"`{error.name}`" if error.name else "something")))
    else:
        shell.showtraceback((kind, error, trace), tb_offset=tb_offset)
    return []


def _raised_in_cell(trace) -> bool:
    """Whether the last frame of a traceback is the notebook's own and no module's."""
    while trace.tb_next:
        trace = trace.tb_next
    return trace.tb_frame.f_globals.get("__name__") == "__main__"


def label(text: str, *, strong: bool = False) -> widgets.HTML:
    """Plain text that may wrap, with nothing in it read as markup."""
    words = escape(text)
    return widgets.HTML(f'<div style="line-height:1.45">{f"<b>{words}</b>" if strong else words}</div>')


class Sheet(widgets.VBox):
    """Widgets one below the other; where they cannot be shown, on paper say, stands all of their ``repr``."""

    def _repr_mimebundle_(self, **kwargs):
        return {**super()._repr_mimebundle_(**kwargs), "text/plain": repr(self)}


class OwnWidget(anywidget.AnyWidget):
    """A widget of one ES module; where it cannot be shown, on paper say, stands its ``repr``."""

    def _repr_mimebundle_(self, **kwargs):
        found = super()._repr_mimebundle_(**kwargs)
        data, *rest = found if isinstance(found, tuple) else (found,)
        text = {**(data or {}), "text/plain": repr(self)}
        return (text, *rest) if rest else text


@contextmanager
def undisturbed() -> Iterator[None]:
    """While a hand waits, no search for waste among all that a notebook has made: it takes longer than a picture."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def png(figure: Figure, dpi: float) -> bytes:
    """A figure as PNG, made quickly."""
    return reduced_png(figure, dpi, Image.Image.copy)


def small_png(figure: Figure, dpi: float = 160) -> bytes:
    """A figure as PNG with a palette of 255 colours: a third of the usual size where colours are flat."""
    return reduced_png(figure, dpi, lambda drawn: drawn.quantize(255, Image.Quantize.FASTOCTREE))


def reduced_png(figure: Figure, dpi: float, reduce: Callable[[Image.Image], Image.Image]) -> bytes:
    """A figure as PNG, its colours reduced by a function from image to image."""
    before = figure.dpi
    figure.set_dpi(dpi)
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    figure.set_dpi(before)
    held = BytesIO()
    reduce(Image.fromarray(np.asarray(canvas.buffer_rgba())[..., :3])).save(held, format="png")
    return held.getvalue()


def address_of(picture: bytes) -> str:
    """A PNG as the address of an ``img``, so that it stands within the HTML."""
    return "data:image/png;base64," + b64encode(picture).decode("ascii")


def shown(figure: Figure) -> tuple[bytes, dict[str, int]]:
    """A figure as a notebook shows it: sharp, at its size on paper at 100 pixels an inch."""
    width, height = (round(100 * inches) for inches in figure.get_size_inches())
    return small_png(figure), {"width": width, "height": height}
