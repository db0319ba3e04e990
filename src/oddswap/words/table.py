"""To whom a sentence is said, and which function makes the text of which finding; the subjects' files fill this in on use."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, is_dataclass, replace
from functools import partial
from importlib import import_module
from string import Formatter
from types import MappingProxyType
from typing import Any

from oddswap.describing.ticket import OwnCopy, Ticket
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.in_hand import from_solved
from oddswap.values.grammar import read_number
from oddswap.values.position import START, Holding
from oddswap.words.texts import read_texts


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


Words = Callable[[Any], str]
Table = dict[type, Words]

SUBJECTS: tuple[str, ...] = (
    *("laws", "alarms", "culprits", "findings", "open_boxes", "searches"),
    *("ways.ways_out", "ways.trials", "ways.plans"),
)
"""The files of this room that say something of findings; they are loaded one after another until one speaks of what is asked."""

FINDINGS = read_texts("findings")
"""What findings say whose sentence needs nothing but their fields, by their codes."""
_SENTENCES: Table = {}
_NAMES: Table = {}


def says(*kinds: type) -> Callable[[Words], Words]:
    """Decorate the function that makes the text of these kinds of findings, where a row of ``findings.toml`` does not."""
    return partial(_keep, _SENTENCES, kinds)


class _Fields(Formatter):
    """Formats findings as their texts, and tuples with what stands behind the colon between their parts, unless that says how."""

    def format_field(self, value: Any, spec: str) -> str:
        if spec in FORMS:
            return FORMS[spec](value)
        if isinstance(value, tuple):
            return spec.join(self.format_field(part, "") for part in value)
        return say(value) if is_dataclass(value) else super().format_field(value, spec)


def names(*kinds: type) -> Callable[[Words], Words]:
    """Decorate the function that makes the short names of things of these kinds, for lists and tables."""
    return partial(_keep, _NAMES, kinds)


def _keep(table: Table, kinds: tuple[type, ...], words: Words) -> Words:
    table.update(dict.fromkeys(kinds, words))
    return words


def say(finding: object) -> str:
    """Return the text of a finding, as whoever works at the table reads it: a row of ``findings.toml``, or made by a function.

    `KeyError` for a kind of finding that neither speaks of.
    """
    row = FINDINGS.get(getattr(type(finding), "code", type(finding).__name__.lower()))
    return _Fields().format(row, finding) if row else _words_of(_SENTENCES, type(finding))(finding)


def worded(kind: type) -> Words | None:
    """Return what makes the text of a kind of finding, as far as its subject is loaded."""
    return _SENTENCES.get(kind)


def name_of(thing: object) -> str:
    """Return the short name of a law, a sector or a quantity. `KeyError` for a thing that no subject names."""
    return _words_of(_NAMES, type(thing))(thing)


FORMS: Mapping[str, Callable[[Any], str]] = {
    "name": name_of,
    "names": lambda things: "; ".join(map(name_of, things)),
    "read": read_number,
}


def _words_of(table: Table, kind: type) -> Words:
    for subject in SUBJECTS:
        if kind not in table:
            import_module(f"oddswap.words.{subject}")
    return table[kind]
