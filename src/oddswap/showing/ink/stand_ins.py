"""Colours in the visitor's own words: what is drawn for a word that no screen knows, and how that is said."""

import re
from collections.abc import Mapping

from oddswap.errors import UnknownColour
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.flat import colours_by_paint
from oddswap.showing.ink.palette import CLOSE, PALETTE, difference, read_colour
from oddswap.words.pictures import drawn_in


def stand_ins(colours: Mapping[str, str]) -> dict[str, str]:
    """The colours that can be drawn, by facet.

    A word that is no colour's name gives way to the last word in it that is one, as *green* is in *mint green*, unless another
    facet has nearly that colour; else its facet is left out, and whoever draws chooses.

    >>> stand_ins({"U": "white", "F": "mint green"})
    {'U': 'white', 'F': 'green'}
    """
    drawn = {facet: word for facet, word in colours.items() if _known(word)}
    for facet, word in colours.items():
        near = next(filter(_known, reversed(re.findall(r"[a-z]+", word.lower()))), None)
        others = (read_colour(other) for other in drawn.values())
        if facet not in drawn and near and all(difference(read_colour(near), other) >= CLOSE for other in others):
            drawn[facet] = near
    return {facet: drawn[facet] for facet in colours if facet in drawn}


def drawn_otherwise(puzzle: Puzzle, colours: Mapping[str, str]) -> tuple[str, ...]:
    """In what each colour is drawn that no screen knows, a sentence each without its full stop.

    >>> from oddswap.puzzles.catalogue import load
    >>> drawn_otherwise(load("cube:3"), {"U": "white", "F": "mint green", "R": "lemon"})
    ('mint green is drawn in green', 'lemon is drawn in yellow')
    """
    drawn, names = stand_ins(colours), {ink: name for name, ink in PALETTE.items()}
    inks, paints = colours_by_paint(puzzle, drawn), puzzle.geometry.paints if puzzle.geometry else {}
    unknown = (facet for facet, word in colours.items() if drawn.get(facet) != word)
    return tuple(drawn_in(colours[one], drawn.get(one) or names.get(inks.get(paints.get(one, one)))) for one in unknown)


def _known(word: str) -> bool:
    try:
        return bool(read_colour(word))
    except UnknownColour:
        return False
