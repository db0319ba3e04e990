"""A ticket retold of another puzzle, as if the visitor had brought that one."""

from dataclasses import replace

from oddswap.describing.tickets import Ticket
from oddswap.errors import BadTicket, UnknownSlot
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.lookalikes import first_sight
from oddswap.values.arrangement import Arrangement


def retell(ticket: Ticket, puzzle: Puzzle) -> Ticket:
    """The ticket as told of another ``puzzle``, in the lessons' colours. An `OddswapError` says what does not fit."""
    if puzzle.geometry is None:
        raise BadTicket(f"{puzzle.title} is no solid, and the table shows solids only: choose another puzzle")
    if puzzle is ticket.puzzle:
        return ticket
    seen = ticket.appearance
    if not seen.complete and not seen.foreign:
        raise BadTicket("this ticket leaves something open: look at the puzzle once more and fill it in")
    sighted = first_sight(ticket.puzzle, seen) if seen.complete else None
    if sighted is None:
        raise BadTicket("this ticket shows a piece that its puzzle does not have, so it cannot be changed: choose another")
    there = carry_over(sighted[0], ticket.puzzle, puzzle)
    return replace(ticket, puzzle=puzzle, appearance=puzzle.appearance(there), colours={})


def carry_over(arrangement: Arrangement, before: Puzzle, puzzle: Puzzle) -> Arrangement:
    """An arrangement of one puzzle on another: pieces that both have go to the slots of the same names.

    `UnknownSlot` if one that is out of place has no counterpart.
    """
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
