"""What to send next, asked of a visitor: where to look, in their colours where these tell it."""

from dataclasses import replace

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.finding import Finding
from oddswap.reasoning.verdicts.findings import SlotAsked
from oddswap.reasoning.verdicts.views import View
from oddswap.words.reader import Reader
from oddswap.words.table import say
from oddswap.words.to_visitors.places import place_words


def asked_of_anybody(puzzle: Puzzle, asked: Finding, reader: Reader) -> str:
    """Say what to send, without a capital letter.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.verdicts.views import views
    >>> from oddswap.words.reader import VISITOR
    >>> cube = load("cube:3")
    >>> asked_of_anybody(cube, views(cube)[0], VISITOR)
    'a photograph of the top front left corner, on which the three sides beside it show'
    """
    if isinstance(asked, SlotAsked):
        return f"a photograph that shows {place_words(puzzle, asked.slot, reader.holding)}"
    if not isinstance(asked, View):
        return say(asked, reader)
    corner = next((slot for slot in puzzle.slots if asked.corner and sorted(slot) == sorted(asked.facets)), None)
    if corner and puzzle.alphabet.is_box:
        return f"a photograph of {place_words(puzzle, corner, reader.holding)}, on which the three sides beside it show"
    paints = {} if puzzle.rotations else puzzle.geometry.paints
    return say(replace(asked, facets=tuple(reader.colours.get(paints.get(name), name) for name in asked.facets)), reader)
