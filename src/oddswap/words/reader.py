"""To whom a sentence is said: the same finding is told to a visitor in their colours, to an explainer by slots."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from oddswap.describing.copies import OwnCopy
from oddswap.describing.ticket import Ticket
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.in_hand import from_solved
from oddswap.values.holding import START, Holding


@dataclass(frozen=True)
class Reader:
    """``colours`` names the visitor's colour of each face, empty where faces are called by their letters.

    ``holding`` is how the reader holds the puzzle. ``plain``: no slots, no names of laws, no words of ours. ``mine`` is the own
    copy of whoever answers this reader, for what they set up and film.
    """

    colours: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    holding: Holding = START
    plain: bool = False
    mine: OwnCopy = OwnCopy()


def visitor(puzzle: Puzzle, colours: Mapping[str, str] | None = None, holding: Holding = START) -> Reader:
    """Somebody who has the puzzle in their hands: ``colours`` are their words by facet."""
    paints = puzzle.geometry.paints if puzzle.geometry else {}
    return Reader(MappingProxyType({paints[facet]: word for facet, word in (colours or {}).items()}), holding, plain=True)


def reader_of(ticket: Ticket) -> Reader:
    r"""Whoever wrote a ticket: in their colours, as they hold the puzzle.

    >>> import oddswap
    >>> ticket = oddswap.parse_ticket('puzzle = "cube:2"\nafter = "R U"\n[colours]\nU = "white"')
    >>> dict(oddswap.reader_of(ticket).colours)
    {'U': 'white'}
    """
    return replace(visitor(ticket.puzzle, ticket.colours, ticket.puzzle.settled(ticket.held_last)[1]), mine=ticket.mine)


def at_work(answer: Answer, reader: Reader) -> tuple[Answer, Reader]:
    """The answer as the explainer's own copy can make it, and the explainer as its reader: in the colours of that copy, as they
    hold it; as the one whom they answer, where they did not say.
    """
    own, mine = answer.own or answer, reader.mine
    paints = visitor(answer.puzzle, mine.colours).colours or reader.colours
    return own, replace(reader, colours=paints, holding=from_solved(own, mine.holding) if mine.holding else reader.holding)


VISITOR = Reader(plain=True)
"""A visitor of whom nothing is known."""
EXPLAINER = Reader()
"""Whoever works at the repair table: slots by their names, laws by theirs."""
