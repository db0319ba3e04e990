"""The answer to a ticket: with what its copies make, and with what else its turns can mean."""

from dataclasses import replace

from oddswap.describing.copies import refuse_wider
from oddswap.describing.ticket import Ticket
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import restricted
from oddswap.reasoning.answers import Answer, ReadOtherwise, answer, first_answer, with_ways
from oddswap.reasoning.budget import Clock, Finding, Limit, started
from oddswap.reasoning.search.shortest import Progress
from oddswap.reasoning.threads import OnTheWay, first_way, followed_up, going_on
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING
from oddswap.values.sequence import ROTATIONS

BEFORE, DOUBT, OWN = 0.4, 0.1, 0.5
"""The share of the time that the answer before a thread may take, what else a ticket can mean, and of what is left a way on the
explainer's own copy.
"""


class NotOnOwnCopy(Finding):
    """The explainer's own copy, which makes these ``turns`` alone, cannot be brought to what is seen."""

    turns: tuple[str, ...]


def first_answer_to(ticket: Ticket, budget: Limit = None, turns: str | None = None) -> Answer:
    """Return the answer to a ticket as far as its verdict, with what it would be if turns were meant in another way.

    ``turns`` are allowed in place of the ticket's; `ContradictoryTicket` for some that the visitor's copy does not make.
    """
    clock, where = started(budget), None
    if ticket.thread:
        told = None if ticket.thread[0].sent is not None else answer_to(replace(ticket, thread=()), clock.share(BEFORE))
        ticket, where = followed_up(ticket, first_way(told) if told else "", clock)
    puzzle = ticket.puzzle if turns is None else restricted(ticket.puzzle, turns)
    refuse_wider(puzzle, ticket.limit)
    found = first_answer(puzzle, ticket.appearance, clock, ticket.limit)
    return noting(found, *([where] if where else []), *doubts_of(ticket, found.verdict, clock.share(DOUBT)))


def doubts_of(ticket: Ticket, verdict: str, budget: Limit = None) -> tuple[ReadOtherwise, ...]:
    """Return what is to be asked of a ticket of that ``verdict``: what a turn with a number in front means."""
    doubt = ticket.doubt
    if doubt is None:
        return ()
    other = diagnose(ticket.puzzle, ticket.otherwise, budget).verdict
    return (ReadOtherwise(doubt.written, doubt.number, doubt.face, verdict, str(doubt.otherwise), other),)


def answer_to(ticket: Ticket, budget: Limit = None, progress: Progress | None = None) -> Answer:
    """Return the whole answer to a ticket.

    >>> from oddswap.describing.tickets import parse_ticket
    >>> answer_to(parse_ticket('puzzle = "cube:2"\\nafter = "R U"')).way_out.moves
    "U' L'"
    """
    clock = started(budget)
    return ways_for(ticket, first_answer_to(ticket, clock), clock, progress)


def ways_for(ticket: Ticket, first: Answer, clock: Clock, progress: Progress | None = None) -> Answer:
    """Return a `first_answer_to` a ticket with its way out, and with that on the explainer's own copy."""
    found = with_ways(first, clock, progress)
    if where := first.diagnosis.one(OnTheWay):
        found = going_on(found, where)
    if not ticket.mine.turns or found.verdict in (NOT_BY_TURNING, CANNOT_TELL):
        return found
    copy = restricted(ticket.puzzle, ticket.mine.turns)
    needed = [moves for moves in (found.set_up, found.easiest and found.easiest.turns) if moves is not None]
    if found.set_up is not None and all(_makes(copy, found, moves) for moves in needed):
        return found
    own = answer(copy, first.appearance, clock.share(OWN), progress, copy)
    if own.set_up is None:
        nothing = replace(found, way_out=None, set_up=None, told=(), made=None)
        return replace(found, own=noting(nothing, NotOnOwnCopy(tuple(copy.turns))))
    culprits = own.diagnosis.culprits if found.verdict == LOOKALIKE else ()
    explained = replace(found.diagnosis, explanation=own.diagnosis.explanation, held=own.held, culprits=culprits)
    return replace(found, own=replace(own, diagnosis=explained))


def _makes(copy: Puzzle, found: Answer, moves: str) -> bool:
    """Whether a copy makes every turn of these moves of an answer."""
    return all(step.stem in ROTATIONS or str(step) in copy.turns for step in found.turning.read(moves))


def noting(found: Answer, *findings: Finding) -> Answer:
    """The answer with more findings, before its own."""
    return replace(found, diagnosis=replace(found.diagnosis, findings=(*findings, *found.diagnosis.findings)))
