"""Puzzles side by side as small pictures, so that somebody who has one can find what it is called."""

import re
from collections.abc import Iterable

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.cards import Card, draw_cards
from oddswap.values.grammar import capital
from oddswap.words.products.visitor_page import plain_title


def draw_shelf(names: Iterable[str], *, per_row: int = 4, ax: Axes | None = None) -> Figure:
    """A card for each puzzle: its picture, what it is, and the name by which tickets and commands call it.

    >>> from oddswap import draw
    >>> figure = draw.draw_shelf(["cube:4", "shape-mod:prism6,slabs=4", "corner-cube"])
    """
    puzzles = [(name, load(name)) for name in names]
    cards = [Card(p, p.solved, capital(re.split(", turned| on the ", plain_title(p))[0]), name) for name, p in puzzles]
    return draw_cards(cards, per_row=per_row, ax=ax)
