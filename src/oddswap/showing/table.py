"""The repair table as plain functions: a ticket on the table, changed by hand, answered, and walked along its way out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Protocol

import mistune
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.errors import BadTicket, UnknownSlot
from oddswap.puzzles.changes import changed
from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.lookalikes import first_sight
from oddswap.showing.moves import draw_move
from oddswap.showing.prints import draw_prints
from oddswap.showing.report import answer_markdown
from oddswap.showing.strip import FRAME, draw_strip, made_by
from oddswap.values.appearance import Appearance
from oddswap.values.arrangement import Arrangement


class TicketLike(Protocol):
    """What the table needs of a ticket; all of it as `oddswap.tickets.Ticket` has it."""

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


def moves_of(found: Answer) -> tuple[str, ...]:
    """The way out, move by move; empty where there is none."""
    return tuple((found.way_out.moves or "").split()) if found.way_out else ()


def draw_stop(case: Case, found: Answer, stop: int = 0) -> Figure:
    """Stop 0 is the puzzle as it was brought, stop k the k-th move of the way out as it begins, the last one the result."""
    if stop == 0:
        return draw_prints(case.puzzle, case.appearance, colours=case.colours)
    moves = moves_of(found)
    before = case.puzzle.follow(" ".join(moves[: stop - 1]), found.diagnosis.explanation)
    made = [*made_by(case.puzzle, case.puzzle.read(" ".join(moves)).steps)[0], ()]
    return draw_move(case.puzzle, before, made[stop - 1], colours=case.colours)


def draw_way(case: Case, found: Answer, per_row: int = 7) -> Figure | None:
    """The strip of the way out; None where there is none."""
    moves = " ".join(moves_of(found))
    if not moves:
        return None
    return draw_strip(case.puzzle, found.diagnosis.explanation, moves, per_row=per_row, colours=case.colours)


def answer_sections(found: Answer) -> tuple[tuple[str, str], ...]:
    """The answer as ``(heading, HTML)`` pairs; the headline has the empty heading."""
    head, *parts = answer_markdown(found).split("\n## ")
    sections = [("", head.removeprefix("# ")), *(tuple(part.split("\n", 1)) for part in parts)]
    return tuple((heading, str(mistune.html(text))) for heading, text in sections)


def frames_of(strip: Figure) -> tuple[tuple[float, float, float, float], ...]:
    """Where the pictures stand on a strip, in its order: ``(left, top, width, height)`` as shares of the whole figure."""
    ax = strip.axes[0]
    (x0, x1), (y0, y1) = ax.get_xlim(), ax.get_ylim()
    frames = [p for p in ax.patches if isinstance(p, Rectangle) and p.get_width() == p.get_height() == FRAME]
    return tuple(
        ((p.get_x() - x0) / (x1 - x0), (y1 - p.get_y() - FRAME) / (y1 - y0), FRAME / (x1 - x0), FRAME / (y1 - y0))
        for p in frames
    )


def stop_words(found: Answer, stop: int) -> str:
    """Where on the way out one is, in words."""
    moves = moves_of(found)
    if stop == 0:
        return "as it was brought"
    return "the result" if stop > len(moves) else f"move {stop} of {len(moves)}: {moves[stop - 1]}"
