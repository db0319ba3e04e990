"""Two small parts of the intake that need a browser: a chooser of pictures, and a photograph that never leaves it."""

from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path

import anywidget
import traitlets

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.palette import coloured
from oddswap.showing.ink.widgets import address_of, png
from oddswap.showing.pictures.prints import draw_prints

MODULE = coloured(Path(__file__).with_name("picture_parts.js").read_text("utf-8"))


class Chooser(anywidget.AnyWidget):
    """Pictures of puzzles to choose from; ``value`` is the name of the one chosen."""

    _esm = MODULE

    part = traitlets.Unicode("chooser").tag(sync=True)
    options = traitlets.List().tag(sync=True)
    value = traitlets.Unicode("").tag(sync=True)

    def __init__(self, names: Iterable[str]):
        names = list(names)
        super().__init__(options=[[name, load(name).title, _address(name)] for name in names], value=names[0])


class Photo(anywidget.AnyWidget):
    """A place for a photograph from the reader's own disk; it is shown and nothing else: Python never has it."""

    _esm = MODULE

    part = traitlets.Unicode("photo").tag(sync=True)


@lru_cache(maxsize=64)
def _address(name: str) -> str:
    """A small picture of the solved puzzle as a data address."""
    puzzle = load(name)
    return address_of(png(draw_prints(puzzle, caption=False), dpi=26))
