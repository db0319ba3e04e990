"""The same sight on several puzzles, with the verdict on each."""

import textwrap
from collections.abc import Iterable
from functools import lru_cache

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.showing.ink.canvas import write
from oddswap.showing.ink.palette import FAINT_INK, HIGHLIGHT
from oddswap.showing.ink.paper_card import MARGIN, PaperCard
from oddswap.values.position import Arrangement

CARD = PaperCard(side=2.0, pad=0.09, foot=0.78)
LINES = 34
"""How many letters of a title fit on a line."""


def draw_verdicts(
    sights: Iterable[tuple[Puzzle, Arrangement]], *, highlight: Iterable[str] = (), ax: Axes | None = None
) -> Figure:
    """A card for each puzzle with an arrangement of it: the picture, what it is, and the verdict on what is seen.

    The pieces in the slots of ``highlight`` are outlined.

    >>> from oddswap import draw
    >>> figure = draw.draw_verdicts(
    ...     [(name, "flip UF") for name in ("cube:3", "shape-mod:prism8")], highlight=["UF"]
    ... )
    """
    cards, highlight = list(sights), list(highlight)
    ax, corners = CARD.in_rows(len(cards), len(cards), 0.2, ax)
    for (puzzle, shown), corner in zip(cards, corners, strict=True):
        spot = CARD.picture(ax, corner, puzzle, shown, highlight=frozenset(map(puzzle.slot, highlight)))
        title = textwrap.fill(puzzle.title, LINES)
        write(ax, spot.x, MARGIN + 0.51, title, size=8.5, color=FAINT_INK, linespacing=1.2)
        write(ax, spot.x, MARGIN + 0.15, verdict_of(puzzle, shown), size=11, weight="bold", color=HIGHLIGHT)
    return ax.figure


@lru_cache(maxsize=1024)
def verdict_of(puzzle: Puzzle, shown: Arrangement) -> str:
    """The verdict on what is seen of an arrangement, kept for the next time that a control comes back to it.

    >>> from oddswap import draw
    >>> draw.verdict_of("cube:3", "flip UF"), draw.verdict_of("shape-mod:prism8", "flip UF")
    ('not by turning', 'lookalike')
    """
    return judged(puzzle, puzzle.appearance(shown)).verdict
