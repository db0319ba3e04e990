"""The answer to a ticket: with what its copies make, and with what else its turns can mean.

And the live letter: where a visitor is on the way that they were sent, by what they did and by what they see now.
"""

from dataclasses import replace

import numpy as np

from oddswap.describing.ticket import Message, Ticket, refuse_wider
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_otherwise, holdings, made_before
from oddswap.puzzles.catalogue import restricted
from oddswap.reasoning.answers import Answer, ReadOtherwise, answer, first_answer, with_ways
from oddswap.reasoning.budget import Clock, Finding, Limit, started
from oddswap.reasoning.checking.check import Place, begun, place_lost, turns_of
from oddswap.reasoning.checking.mistakes import Mistake
from oddswap.reasoning.search.seen import seen_model
from oddswap.reasoning.search.shortest import Progress
from oddswap.reasoning.teaching.tool_ways import taught
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, OTHER_TURNS
from oddswap.reasoning.ways.commutators import tidied
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.values.position import Appearance
from oddswap.values.sequence import ROTATIONS

AT_ONCE = 3
"""So many turns are sent at once to somebody who writes step by step."""


class OnTheWay(Finding):
    """A visitor is after ``done`` of ``of`` turns that they were sent, and made ``mistakes``; ``to_come`` are the turns from
    there on, which take back what went wrong first. All are said as the puzzle is named.
    """

    done: int
    of: int
    mistakes: tuple[Mistake, ...]
    to_come: tuple[str, ...]


class SeveralPlaces(Finding):
    """What a visitor sees can be ``places`` different places on the way; the slots that would tell stand in ``look_at``."""

    places: int
    look_at: tuple[str, ...]


class OffTheWay(Finding):
    """What a visitor sees is no place on the way that they were sent, with a mistake or two."""


WAY_ON = "what was sent"
Where = OnTheWay | SeveralPlaces | OffTheWay


def first_way(found: Answer) -> str:
    """The way out as it was sent, from how the puzzle was described; empty where none was."""
    return f"{found.held} {found.easiest.turns}" if found.easiest and found.verdict != OTHER_TURNS else ""


def sent_at_once(found: Answer, way: str) -> str:
    """The turns of a ``way`` that are sent at once: all of them, or the next few to somebody who is on the way."""
    return " ".join(way.split()[:AT_ONCE]) if found.diagnosis.has(OnTheWay) else way


def followed_up(ticket: Ticket, way: str, clock: Clock) -> tuple[Ticket, Where | None]:
    """The ticket as it stands after its thread, and where the visitor is on the ``way`` that they were sent first.

    >>> from oddswap.describing.tickets import parse_ticket
    >>> from oddswap.reasoning.budget import Budget
    >>> told = 'puzzle = "cube:3"\\nafter = "R2 U2"\\n[[then]]\\nsent = "U2 R2"\\ndid = "U2 R"'
    >>> _, where = followed_up(parse_ticket(told), "", Budget().start())
    >>> where.done, where.mistakes[0].sort, where.to_come
    (2, 'by another amount', ('R',))
    """
    now, where = replace(ticket, thread=(), doubt=None, otherwise=None), None
    for message in ticket.thread:
        way = way if message.sent is None else message.sent
        now, where = _after(now, way, message, clock)
        way = " ".join(where.to_come) if isinstance(where, OnTheWay) else ""
    return replace(now, held=ticket.held_last), where


def _after(before: Ticket, way: str, message: Message, clock: Clock) -> tuple[Ticket, Where | None]:
    """The ticket as a message has it, and where on the way that is."""
    puzzle, look = before.puzzle, message.look
    begin = begun(puzzle, before.appearance)
    did = None if message.did is None else turns_of(puzzle, message.did, begin)
    seen = look.appearance if look else _made(puzzle, before.appearance, did)
    now = replace(before, appearance=seen, elsewhere=look.elsewhere if look else before.elsewhere)
    if not way or puzzle.blank is not None or not before.appearance.complete:
        return now, None
    found = place_lost(puzzle, before.appearance, way, seen, clock.share(0.5))
    places = [place for place in found.places if place.made == did] or list(found.places)
    places = [place for place in places if len(place.mistakes) == len(places[0].mistakes)]
    if not places:
        return now, OffTheWay()
    looks = {_unpacked(puzzle, place) for place in places}
    if len(looks) > 1:
        return now, SeveralPlaces(len(looks), found.look_at)
    place = places[0]
    if not seen.complete:
        now = replace(now, appearance=looks.pop())
    to_come = tidied(puzzle, (*place.undo, *place.rest))
    names = made_before(puzzle, place.rotation)
    of = len(turns_of(puzzle, way, begin))
    return now, OnTheWay(place.done, of, place.mistakes, tuple(names[turn] for turn in to_come))


def _made(puzzle: Puzzle, before: Appearance, turns: tuple[str, ...]) -> Appearance:
    model = seen_model(puzzle)
    return model.unpack(model.follow(model.pack(before), turns))


def _unpacked(puzzle: Puzzle, place: Place) -> Appearance:
    """All that is seen at a place, held as it is seen."""
    whole = seen_model(puzzle).unpack(np.frombuffer(place.state, dtype=np.uint8))
    return held_otherwise(puzzle, whole, np.argsort(place.rotation))


def going_on(found: Answer, where: OnTheWay) -> Answer:
    """The answer with what remains of the way that was sent as the way to follow; where something went wrong, only if no way
    that was found afresh is shorter.
    """
    if found.easiest is None or where.mistakes and len(where.to_come) > found.easiest.length:
        return found
    puzzle, explanation = found.turning, found.diagnosis.explanation
    turned = next(image for names, image in holdings(puzzle) if " ".join(names) == found.held)
    names = {before: name for name, before in made_before(puzzle, turned).items()}
    try:
        moves = " ".join(names[turn] for turn in where.to_come)
    except KeyError:
        return found
    if not looks_solved(puzzle, puzzle.appearance(puzzle.follow(moves, explanation))):
        return found
    return replace(found, told=(taught(puzzle, moves, (WAY_ON,)), *found.told))


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
    steps = (step for moves in needed for step in found.turning.read(moves))
    if found.set_up is not None and all(step.stem in ROTATIONS or str(step) in copy.turns for step in steps):
        return found
    own = answer(copy, first.appearance, clock.share(OWN), progress, copy)
    if own.set_up is None:
        nothing = replace(found, way_out=None, set_up=None, told=(), made=None)
        return replace(found, own=noting(nothing, NotOnOwnCopy(tuple(copy.turns))))
    culprits = own.diagnosis.culprits if found.verdict == LOOKALIKE else ()
    explained = replace(found.diagnosis, explanation=own.diagnosis.explanation, held=own.held, culprits=culprits)
    return replace(found, own=replace(own, diagnosis=explained))


def noting(found: Answer, *findings: Finding) -> Answer:
    """The answer with more findings, before its own."""
    return replace(found, diagnosis=replace(found.diagnosis, findings=(*findings, *found.diagnosis.findings)))
