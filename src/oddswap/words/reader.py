"""To whom a sentence is said: the same finding is told to a visitor in their colours, to an explainer by slots."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from oddswap.describing.tickets import Ticket
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.holding import START, Holding


@dataclass(frozen=True)
class Reader:
    """``colours`` names the visitor's colour of each face, empty where faces are called by their letters.

    ``holding`` is how the reader holds the puzzle. ``plain``: no slots, no names of laws, no words of ours.
    """

    colours: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    holding: Holding = START
    plain: bool = False


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
    return visitor(ticket.puzzle, ticket.colours, ticket.puzzle.settled(ticket.held)[1])


VISITOR = Reader(plain=True)
"""A visitor of whom nothing is known."""
EXPLAINER = Reader()
"""Whoever works at the repair table: slots by their names, laws by theirs."""
