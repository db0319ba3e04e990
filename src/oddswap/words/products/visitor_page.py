"""What the page says on which a visitor says what they see: its sentences stand in a file of data."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.verdicts.alarms import Sort, Swapped
from oddswap.values.grammar import capital, listed
from oddswap.words import say
from oddswap.words.texts import read_texts
from oddswap.words.to_visitors.places import FAMILIES

TEXTS: Mapping[str, Mapping[str, str]] = read_texts("products/visitor_page")
"""The sentences of the ``page``, what it ``says`` as it goes, the ``copies`` by their turns, the ``sides`` of the hands."""
COLOURS = tuple("white black red orange gold yellow lime green teal turquoise skyblue blue navy purple magenta pink".split())
FURTHER = tuple("brown tan grey silver maroon olive crimson".split())
"""Words for colours that a page begins with, and others that visitors may choose from."""


def usual_words(puzzle: Puzzle, sort: Sort, pieces: Sequence[int] = ()) -> str:
    """What looks wrong on a picture, by names of pieces that need no explanation: which ones they are, the picture shows.

    Of ``pieces`` that bear writing it is said as well, as they look all the same from afar.

    >>> from oddswap.puzzles.catalogue import load
    >>> usual_words(load("cuboid:2x3x4"), Swapped("wings like UL.b2", 1, 0))
    'Two edge blocks swapped'
    >>> usual_words(load("tiles:4x4"), Swapped("tiles", 1, 0), [13, 14])
    'Tiles 14 and 15 swapped'
    """
    part = "kind" if isinstance(sort, Swapped) else "family"
    family = next((kind.family for kind in puzzle.kinds if kind.name == getattr(sort, part)), getattr(sort, part))
    words, written = FAMILIES.get(family, family), [puzzle.flat.tokens[piece].text for piece in pieces] if puzzle.flat else []
    said = say(replace(sort, **{part: words}))
    return capital(said.replace(f"two {words}", f"{words} {listed(written)}") if len(written) == 2 and all(written) else said)
