"""Pictures beside each other on one sheet, each with words beneath."""

from collections.abc import Callable, Iterable, Mapping
from functools import partial

from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.canvas import INCHES, sheet, write
from oddswap.showing.ink.flat import draw_flat
from oddswap.showing.ink.palette import TABLE
from oddswap.showing.pictures.strings import board_strings
from oddswap.values.position import Appearance, Arrangement

FOOT = 0.36
"""The height of the words beneath, on the sheet."""


def draw_beside(parts: Mapping[str, Callable[..., object]]) -> Figure:
    """Each of ``parts`` is called with ``ax``, axes to draw on, as every picture takes it; its key is written beneath.

    >>> from functools import partial
    >>> from oddswap import draw
    >>> figure = draw.draw_beside(
    ...     {moves: partial(draw.draw_flat, "tiles:2x3", moves) for moves in ("r2c2", "r1c3")}
    ... )
    """
    figure = Figure(facecolor=TABLE)
    drawn = []
    for words, draw in parts.items():
        ax = figure.add_axes((0, 0, 1, 1), label=words)
        draw(ax=ax)
        drawn.append((words, ax, ax.get_xlim()[1], ax.get_ylim()[1]))
    width, height = sum(w for _, _, w, _ in drawn), FOOT + max(h for *_, h in drawn)
    figure.set_size_inches(width * INCHES, height * INCHES)
    page = sheet(width, height, figure.add_axes((0, 0, 1, 1), label="words", zorder=-1))
    left = 0.0
    for words, ax, w, h in drawn:
        ax.set_position((left / width, (FOOT + (height - FOOT - h) / 2) / height, w / width, h / height))
        write(page, left + w / 2, FOOT * 0.62, words, size=10)
        left += w
    return figure


def draw_boards(
    boards: Mapping[str, tuple[Puzzle, Arrangement | Appearance]], *, highlight: Iterable[str] = (), xray: bool = False
) -> Figure:
    """Flat puzzles beside each other. The pieces in the slots of ``highlight`` are outlined in each.

    >>> from oddswap import draw
    >>> figure = draw.draw_boards({"at home": ("tiles:2x3", []), "one slide": ("tiles:2x3", "r2c2")})
    """
    drawer = partial(draw_flat, highlight=tuple(highlight), xray=xray)
    return draw_beside({words: partial(drawer, puzzle, shown) for words, (puzzle, shown) in boards.items()})


def draw_board_and_strings(puzzle: Puzzle, state: Arrangement) -> Figure:
    """A flat puzzle, and beside it the strings from solved to ``state``.

    >>> from oddswap import draw
    >>> figure = draw.draw_board_and_strings("tiles:3x3", "r3c2 r2c2")
    """
    parts = {"as it lies": draw_flat, "its strings": board_strings}
    return draw_beside({words: partial(draw, puzzle, state) for words, draw in parts.items()})
