"""Colours in the visitor's own words: what is drawn for a word that no screen knows, and how that is said."""

import re
from collections.abc import Mapping

from oddswap.errors import UnknownColour
from oddswap.showing.ink.palette import CLOSE, difference, read_colour
from oddswap.words.pictures import drawn_in


def stand_ins(colours: Mapping[str, str]) -> tuple[dict[str, str], tuple[str, ...]]:
    """The colours that can be drawn, by facet, and a sentence for each word that is no colour's name.

    Such a word gives way to the last word in it that is one, as *green* is in *mint green*, unless another facet has nearly
    that colour; else its facet is left out, and whoever draws chooses.

    >>> stand_ins({"U": "white", "F": "mint green"})
    ({'U': 'white', 'F': 'green'}, ('F, mint green, is drawn in green',))
    """
    drawn, unknown = {}, {}
    for facet, word in colours.items():
        (drawn if _known(word) else unknown)[facet] = word
    said = []
    for facet, word in unknown.items():
        near = next(filter(_known, reversed(re.findall(r"[a-z]+", word.lower()))), None)
        if near is not None and all(difference(read_colour(near), read_colour(other)) >= CLOSE for other in drawn.values()):
            drawn[facet] = near
        said.append(drawn_in(facet, word, drawn.get(facet)))
    return {facet: drawn[facet] for facet in colours if facet in drawn}, tuple(said)


def _known(word: str) -> bool:
    try:
        return bool(read_colour(word))
    except UnknownColour:
        return False
