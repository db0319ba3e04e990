"""One knob: a control and what a plain function makes of its value, a picture or some words."""

from collections.abc import Callable
from functools import lru_cache

import ipywidgets as widgets
from matplotlib.figure import Figure

from oddswap.errors import OddswapError
from oddswap.showing.ink.notes import Note
from oddswap.showing.ink.widgets import Sheet, png, undisturbed
from oddswap.words.products.notebooks import TO_RUN


class Knob(Sheet):
    """``show(control.value)`` beneath the control, made anew when that changes; every value is computed once."""

    def __init__(self, show: Callable, control: widgets.ValueWidget):
        self.control = control
        self._made = lru_cache(maxsize=64)(lambda value: _made(show, value))
        self._picture = widgets.Image(format="png", layout={"max_width": "100%", "align_self": "flex-start"})
        self._words = widgets.HTML()
        super().__init__([control, self._picture, self._words])
        control.observe(lambda _: self._turned(), "value")
        self._turned()

    @property
    def outcome(self) -> Figure | Note:
        """What is shown just now."""
        return self._made(self.control.value)[0]

    @undisturbed()
    def _turned(self) -> None:
        outcome, picture = self._made(self.control.value)
        if isinstance(outcome, Figure):
            self._picture.value, self._picture.layout.width = picture, f"{100 * outcome.get_figwidth():.0f}px"
            self._picture.layout.display, self._words.layout.display = None, "none"
        else:
            self._words.value = outcome._repr_html_()
            self._picture.layout.display, self._words.layout.display = "none", None

    def __repr__(self) -> str:
        told = self.outcome if isinstance(self.outcome, Note) else TO_RUN
        return f"{self.control.description}: {self.control.value}\n{told}"


def _made(show: Callable, value) -> tuple[Figure | Note, bytes]:
    """What a function makes of a value, with the picture's bytes if it is one."""
    try:
        made = show(value)
    except OddswapError as error:
        made = Note(f"That cannot be shown yet: {error}.")
    if isinstance(made, Figure):
        return made, png(made, 110)
    return made if isinstance(made, Note) else Note(str(made)), b""


def knob(show: Callable, control: widgets.ValueWidget) -> Knob:
    """A knob round a pure function of one value that returns a figure, a `Note`, or a text.

    >>> from ipywidgets import IntSlider
    >>> knob(lambda n: f"{n} squared is {n * n}", IntSlider(value=3, description="n"))
    n: 3
    3 squared is 9
    """
    return Knob(show, control)
