"""Small parts that lessons and widgets share: text as it stands, and pictures as bytes that stay small."""

import gc
from base64 import b64encode
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from html import escape
from io import BytesIO

import anywidget
import ipywidgets as widgets
import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from PIL import Image


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
