"""The repair table as plain functions: a ticket changed by hand or told of another puzzle, and its answer in parts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Protocol

from oddswap.describing.changes import changed
from oddswap.errors import BadTicket, UnknownSlot
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.laws.lookalikes import first_sight
from oddswap.showing.pages.markdown import as_html
from oddswap.showing.pages.report import answer_markdown
from oddswap.values.appearance import Appearance
from oddswap.values.arrangement import Arrangement


class TicketLike(Protocol):
    """What the table needs of a ticket; all of it as `oddswap.describing.tickets.Ticket` has it."""

    name: str
    puzzle: Puzzle
    appearance: Appearance
    colours: Mapping[str, str]
    note: str


@dataclass(frozen=True)
class Case:
    """What lies on the table: a puzzle, what is seen of it, the visitor's colours, and what is known of its story."""

    puzzle: Puzzle
    appearance: Appearance
    colours: Mapping[str, str] = field(default_factory=dict, hash=False)
    note: str = ""


def case_of(ticket: TicketLike, changes: str = "", puzzle: Puzzle | None = None) -> Case:
    """The case of a ticket, after ``changes`` by hand (separated by commas) and told of another ``puzzle``, if given.

    An `OddswapError` says which change or slot does not fit.
    """
    if not ticket.appearance.complete and not ticket.appearance.foreign:
        raise BadTicket("this ticket leaves something open: look at the puzzle once more and fill it in")
    wanted = [change.strip() for change in changes.split(",") if change.strip()]
    puzzle = puzzle or ticket.puzzle
    if puzzle.geometry is None:
        raise BadTicket(f"{puzzle.title} is no solid, and the table shows solids only: choose another puzzle")
    if not wanted and puzzle is ticket.puzzle:
        return Case(puzzle, ticket.appearance, ticket.colours, ticket.note)
    start = told_of(puzzle, ticket.puzzle, _arranged(ticket))
    colours = ticket.colours if puzzle is ticket.puzzle else {}
    return Case(puzzle, puzzle.appearance(changed(puzzle, wanted, start)), colours, ticket.note)


def _arranged(ticket: TicketLike) -> Arrangement:
    sighted = first_sight(ticket.puzzle, ticket.appearance) if ticket.appearance.complete else None
    if sighted is None:
        raise BadTicket("this ticket shows a piece that its puzzle does not have, so it cannot be changed: choose another")
    return sighted[0]


def told_of(puzzle: Puzzle, before: Puzzle, arrangement: Arrangement) -> Arrangement:
    """The same told of another puzzle: the pieces that it has in common go to the slots of the same names.

    `UnknownSlot` if one that is out of place has no counterpart.
    """
    if puzzle is before:
        return arrangement
    pieces, twists = list(range(len(puzzle.slots))), [0] * len(puzzle.slots)
    for slot in arrangement.displaced():
        here, piece = before.slots[slot], before.slots[arrangement.pieces[slot]]
        try:
            target = puzzle.slot(here)
            pieces[target], twists[target] = puzzle.slot(piece), arrangement.twists[slot]
        except UnknownSlot:
            raise UnknownSlot(f"{puzzle.title} has no {here}, so this ticket cannot be told of it") from None
        if puzzle.kind_of[target].twist != before.kind_of[slot].twist:
            raise UnknownSlot(f"what sits at {here} turns otherwise on {puzzle.title}, so this ticket cannot be told of it")
    return Arrangement(puzzle.name, tuple(pieces), tuple(twists))


def answer_sections(found: Answer) -> tuple[tuple[str, str], ...]:
    """The answer as ``(heading, HTML)`` pairs; the headline has the empty heading."""
    head, *parts = answer_markdown(found).split("\n## ")
    sections = [("", head.removeprefix("# ")), *(tuple(part.split("\n", 1)) for part in parts)]
    return tuple((heading, as_html(text)) for heading, text in sections)
