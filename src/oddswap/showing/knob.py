"""One knob: a control and what a plain function makes of its value, a picture or some words."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import ipywidgets as widgets
from matplotlib.figure import Figure

from oddswap.errors import OddswapError
from oddswap.showing.notes import Note
from oddswap.showing.widgets import png


class Knob(widgets.VBox):
    """``show(control.value)`` beneath the control, made anew when that changes; every value is computed once."""

    def __init__(self, show: Callable, control: widgets.ValueWidget):
        self.control = control
        self._show = lru_cache(maxsize=64)(show)
        self._picture = widgets.Image(format="png", layout={"max_width": "100%", "align_self": "flex-start"})
        self._words = widgets.HTML()
        self.outcome: Figure | Note = Note("")
        super().__init__([control, self._picture, self._words])
        control.observe(lambda _: self._turned(), "value")
        self._turned()

    def _turned(self) -> None:
        try:
            made = self._show(self.control.value)
        except OddswapError as error:
            made = Note(f"That cannot be shown yet: {error}.")
        self.outcome = made if isinstance(made, Figure | Note) else Note(str(made))
        pictured = isinstance(self.outcome, Figure)
        if pictured:
            self._picture.value = png(self.outcome, 120)
            self._picture.layout.width = f"{100 * self.outcome.get_figwidth():.0f}px"
        else:
            self._words.value = self.outcome._repr_html_()
        self._picture.layout.display, self._words.layout.display = (None, "none") if pictured else ("none", None)

    def __repr__(self) -> str:
        told = self.outcome if isinstance(self.outcome, Note) else "a picture"
        return f"{self.control.description}: {self.control.value}\n{told}"


def knob(show: Callable, control: widgets.ValueWidget) -> Knob:
    """A knob round a pure function of one value that returns a figure, a `Note`, or a text."""
    return Knob(show, control)
