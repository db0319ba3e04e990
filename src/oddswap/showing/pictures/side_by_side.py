"""Puzzles side by side on cards: verdicts on one sight, x-rays, the ways of a box, and a shelf to find one by its name."""

import re
import textwrap
from collections import Counter
from collections.abc import Iterable
from functools import lru_cache

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.describing.changes import changed
from oddswap.errors import BadOption
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.opening.ways_map import MapEntry, WaysMap
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.showing.ink.canvas import write
from oddswap.showing.ink.cards import MARGIN, Card, PaperCard, draw_cards
from oddswap.showing.ink.painting import hatched_pieces
from oddswap.showing.ink.palette import FAINT_INK, HIGHLIGHT
from oddswap.values.grammar import capital, counted, listed
from oddswap.values.position import Arrangement
from oddswap.words.open_boxes import family_words, length_words
from oddswap.words.products.visitor_page import plain_title

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


def draw_xrays(shapes: Iterable[tuple[str, Puzzle]], *, per_row: int = 3, ax: Axes | None = None) -> Figure:
    """A card for each ``(headline, puzzle)``: the solved puzzle with its lookalikes hatched, and how many of which sort.

    >>> from oddswap import draw, load
    >>> shapes = [(name, load(name)) for name in ("cube:2", "shape-mod:prism8")]
    >>> figure = draw.draw_xrays(shapes)
    """
    cards = [Card(p, p.solved, headline, lookalikes_counted(p), hatched=hatched_pieces(p, True)) for headline, p in shapes]
    return draw_cards(cards, per_row=per_row, ax=ax)


def lookalikes_counted(puzzle: Puzzle) -> str:
    """How many pieces of each family have hidden turns, and how many have twins, on a line each.

    >>> from oddswap.puzzles.catalogue import load
    >>> print(lookalikes_counted(load("shape-mod:prism8")))
    hidden turns: 4 edges and 6 centres
    twins: none
    """
    alike = lookalikes(puzzle)
    sorts = {"hidden turns": alike.hidden_turns, "twins": [piece for pieces in alike.twins for piece in pieces]}
    return "\n".join(f"{sort}: {_families(puzzle, pieces)}" for sort, pieces in sorts.items())


def _families(puzzle: Puzzle, pieces: Iterable[int]) -> str:
    numbers = Counter(puzzle.kind_of[piece].family for piece in sorted(pieces))
    words = [counted(n, family) for family, n in numbers.items()]
    return listed(words) if words else "none"


MOST = 12
"""So many families have room on the sheet; those with the shortest excursions come first."""


def draw_ways(found: WaysMap, *, ax: Axes | None = None) -> Figure:
    """A card for each family, those with the shortest excursions first; `BadOption` where there is none.

    It shows the closed box as it is afterwards, with what looks wrong marked.

    >>> import oddswap
    >>> from oddswap import draw
    >>> figure = draw.draw_ways(oddswap.ways_map("cuboid:2x3x4", 4))
    """
    if not found.ways:
        raise BadOption(f"{found.puzzle.title} has no families to draw: turns that keep the outline lead everywhere")
    shown = sorted(found.ways, key=lambda way: (way.moves is None, way.at_least or 0))[:MOST]
    return draw_cards([_card(found, way) for way in shown], per_row=4, ax=ax)


def _card(found: WaysMap, way: MapEntry) -> Card:
    """Families that no few changes by hand lead to are shown as their excursion leaves the box, or as it was."""
    box, moves = found.box, " ".join(way.moves or ())
    after = box.follow(moves) if way.family.changes is None else changed(box, way.family.changes)
    words = "\n".join(filter(None, [capital(family_words(way)), moves]))
    return Card(box, after, length_words(way), words, highlight=frozenset(after.displaced()))


def draw_shelf(names: Iterable[str], *, per_row: int = 4, ax: Axes | None = None) -> Figure:
    """A card for each puzzle: its picture, what it is, and the name by which tickets and commands call it.

    >>> from oddswap import draw
    >>> figure = draw.draw_shelf(["cube:4", "shape-mod:prism6,slabs=4", "corner-cube"])
    """
    puzzles = [(name, load(name)) for name in names]
    cards = [Card(p, p.solved, capital(re.split(", turned| on the ", plain_title(p))[0]), name) for name, p in puzzles]
    return draw_cards(cards, per_row=per_row, ax=ax)
