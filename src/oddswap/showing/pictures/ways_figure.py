"""The map of the ways as a picture: what leaving the box and coming back can do, and a shortest excursion for each."""

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.describing.changes import changed
from oddswap.errors import BadOption
from oddswap.reasoning.opening.ways_map import MapEntry, WaysMap
from oddswap.showing.ink.cards import Card, draw_cards
from oddswap.values.grammar import capital
from oddswap.words.open_boxes import family_words, length_words

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
