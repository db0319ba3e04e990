"""A way out in phases that can be told to a person: set up, exchange, undo, finish, with what each does to the pieces.

The phases are read off the sequence: ``[A: B]`` sets up with A, exchanges with B and undoes A; ``[A, B]`` sets up with A,
exchanges with B, undoes A, and finishes with B undone. What stands before and after such a part begins and finishes.

Commutators and conjugates are found in a flat sequence (`structured`): a word W is a conjugate when it begins with A and ends
with A undone, and a commutator when it can be read as A B A' B'. Neighbouring turns of opposite faces may change places, so
these are tried in both orders.
"""

from functools import lru_cache
from itertools import takewhile

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.as_seen import as_seen, wrong
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.tally import quantities
from oddswap.reasoning.teaching.effects import Effect, effect_of, image_of_turns
from oddswap.reasoning.teaching.plan_culprits import MiddleTurned
from oddswap.reasoning.verdicts.findings import Culprit
from oddswap.reasoning.ways.commutators import shows
from oddswap.reasoning.ways.findings import Aim, Phase
from oddswap.values.position import Arrangement
from oddswap.values.sequence import OPPOSITE, Bracket, Commutator, Conjugate, Repetition, Sequence, Step


class Approach(Aim, part="begin"):
    """Bring the position to where the next part can work on it."""


class Finish(Aim, part="finish"):
    """Bring the rest into place with a few turns."""


class Repeat(Aim, part="exchange"):
    """Make a few turns several times; together they are a tool."""

    times: int
    effect: Effect


class SetUp(Aim, part="set up"):
    """Carry the pieces that have to change to where the tool reaches them."""


class UseTool(Aim, part="exchange"):
    """Use the tool itself; ``effect`` is what it does from solved."""

    effect: Effect


class UndoSetUp(Aim, part="undo"):
    """Undo the set-up of a tool."""


class Displace(Aim, part="set up"):
    """Take a piece out of the way: the first part of a commutator."""


class ExchangePieces(Aim, part="exchange"):
    """Put another piece where the first one was: the second part of a commutator."""


class UndoDisplacing(Aim, part="undo"):
    """Undo the first part of a commutator."""


class PutBack(Aim, part="finish"):
    """Undo the second part of a commutator; ``effect`` is that of all four."""

    effect: Effect


class PlaceInStage(Aim):
    """Fill slots of a stage of a plan; ``again``: the other way round this time."""

    stage: str
    slots: tuple[str, ...]
    again: bool


class MeetTrouble(Aim):
    """Hold the puzzle otherwise, because of what is to blame that a plan cannot go on."""

    blamed: Culprit | MiddleTurned


class HoldOtherwise(Aim):
    """Hold the puzzle otherwise than it was described."""


def structured(puzzle: Puzzle, moves: str | Sequence) -> Sequence:
    """The same turns written as ``[A: [B, C]]``, ``[A, B]`` ``[A: B]`` or ``(A)3`` where they are one; else flat.

    >>> from oddswap.puzzles.catalogue import load
    >>> str(structured(load("cube:3"), "F R U R' U' F'"))
    '[F: [R, U]]'
    """
    steps = puzzle.read(moves).steps
    for form in _orders(steps):
        if (found := _shape(form)) is not None:
            return found
    return _repeated(steps) or Sequence(steps)


def _repeated(steps: tuple[Step, ...]) -> Sequence | None:
    """A group done several times."""
    for period in range(2, len(steps) // 2 + 1):
        times, rest = divmod(len(steps), period)
        if not rest and steps == steps[:period] * times:
            return Sequence((Repetition(_inner(steps[:period]), times),))
    return None


def _orders(steps: tuple[Step, ...]) -> list[tuple[Step, ...]]:
    """The word, and the words that come from exchanging neighbours on one axis: at most 64."""
    found = [steps]
    for i in range(len(steps) - 1):
        if OPPOSITE.get(steps[i].stem) == steps[i + 1].stem:
            found += [form[:i] + (form[i + 1], form[i]) + form[i + 2 :] for form in found if len(found) < 64]
    return found


@lru_cache(maxsize=4096)
def _shape(steps: tuple[Step, ...]) -> Sequence | None:
    if (plain := _commutator(steps)) is not None:
        return plain
    outer = list(takewhile(lambda n: _undoes(steps[:n], steps[-n:]), range(1, (len(steps) - 1) // 2 + 1)))
    for length in outer:
        if (found := _commutator(steps[length:-length])) is not None:
            return Sequence((Conjugate(Sequence(steps[:length]), found),))
    return Sequence((Conjugate(Sequence(steps[: outer[-1]]), Sequence(steps[outer[-1] : -outer[-1]])),)) if outer else None


def _commutator(steps: tuple[Step, ...]) -> Sequence | None:
    if len(steps) < 4 or len(steps) % 2:
        return None
    half = len(steps) // 2
    for cut in range(1, half):
        a, b = steps[:cut], steps[cut:half]
        if _undoes(a, steps[half : half + cut]) and _undoes(b, steps[half + cut :]):
            return Sequence((Commutator(_inner(a), _inner(b)),))
    return None


def _inner(steps: tuple[Step, ...]) -> Sequence:
    return _shape(steps) or Sequence(steps)


def _undoes(word: tuple[Step, ...], other: tuple[Step, ...]) -> bool:
    return other == tuple(step.inverse() for step in reversed(word))


FOLLOWED = 6
"""At most so many pieces are followed through the phases."""
MOST_PIECES = 8
"""A part that changes more pieces than this is no tool."""
SHORT = 4
"""A part of fewer turns is no structure worth telling."""


def written(puzzle: Puzzle, moves: str) -> Sequence:
    """A flat sequence with its longest part that is a commutator, a conjugate or a repeated group written as one.

    >>> from oddswap.puzzles.catalogue import load
    >>> str(written(load("cube:3"), "U2 F R U R' U' F' L"))
    'U2 [F: [R, U]] L'
    """
    steps = puzzle.read(moves).steps
    for length in range(len(steps), SHORT - 1, -1):
        for start in range(len(steps) - length + 1):
            part = structured(puzzle, Sequence(steps[start : start + length]))
            core, everything = part.items[0], length == len(steps)
            if len(part.items) == 1 and isinstance(core, Bracket) and _worth(puzzle, core, everything):
                return Sequence((*steps[:start], core, *steps[start + length :]))
    return Sequence(steps)


def _worth(puzzle: Puzzle, part: Bracket, everything: bool) -> bool:
    """What has a commutator or a repeated group that changes few pieces, or is the whole sequence, is worth telling as one."""
    if isinstance(part, Conjugate) and not any(isinstance(item, Bracket) for item in part.b.items):
        return everything
    return int(wrong(puzzle, image_of_turns(puzzle, Sequence((part,))))) <= MOST_PIECES


def to_remember(sequence: Sequence) -> int:
    """How many turns one has to keep in mind: those that are written, not those that are made."""
    total = 0
    for item in sequence.items:
        total += sum(map(to_remember, item.parts)) if isinstance(item, Bracket) else 1
    return total


def phases(puzzle: Puzzle, start: Arrangement, sequence: Sequence) -> tuple[Phase, ...]:
    """The phases of a way out from ``start``, a reachable arrangement; empty where the sequence is one flat stretch."""
    book, image, told = law_book(puzzle), puzzle.permutation(start), []
    home = puzzle.base_label
    followed = [p for p, kind in enumerate(puzzle.kind_of) if shows(puzzle, kind) and image[home[p]] != home[p]][:FOLLOWED]
    telling = [q for q in quantities(puzzle) if any(shows(puzzle, part.sector.kind) for part in q.parts)]
    for aim, part in _parts(puzzle, sequence):
        after = image_of_turns(puzzle, part)[image]
        pieces = tuple(
            (puzzle.slots[p], _place(puzzle, image, p), _place(puzzle, after, p))
            for p in followed
            if image[home[p]] != after[home[p]]
        )
        before, then = book.best_held(image), book.best_held(after)
        rows = [(q, q.value(before), q.value(then)) for q in telling]
        told.append(Phase(aim, str(part), pieces, tuple(row for row in rows if row[1] != row[2])))
        image = after
    return tuple(told)


def _parts(puzzle: Puzzle, sequence: Sequence) -> list[tuple[Aim, Sequence]]:
    """What each phase is for, and its moves."""
    at = next((i for i, item in enumerate(sequence.items) if isinstance(item, Bracket)), None)
    if at is None:
        return []
    before, core, after = sequence.items[:at], sequence.items[at], sequence.items[at + 1 :]
    parts = [(Approach(), Sequence(before)), *_inside(puzzle, core), (Finish(), Sequence(after))]
    return [part for part in parts if part[1].items]


def _inside(puzzle: Puzzle, core: Bracket) -> list[tuple[Aim, Sequence]]:
    whole = Sequence((core,))
    if abs(core.times) > 1 or not isinstance(core, Commutator | Conjugate):
        return [(Repeat(abs(core.times), _effect(puzzle, whole)), whole)]
    a, b = core.a, core.b
    if isinstance(core, Conjugate):
        return [(SetUp(), a), (UseTool(_effect(puzzle, b)), b), (UndoSetUp(), a.inverse())]
    last = PutBack(_effect(puzzle, whole)), b.inverse()
    return [(Displace(), a), (ExchangePieces(), b), (UndoDisplacing(), a.inverse()), last]


def _effect(puzzle: Puzzle, sequence: Sequence) -> Effect:
    """What a sequence does as seen."""
    return effect_of(puzzle, as_seen(puzzle, image_of_turns(puzzle, sequence)))


def _place(puzzle: Puzzle, image: np.ndarray, piece: int) -> str:
    """The slot where a piece is, with its twist: ``UFR +1``."""
    kind = puzzle.kind_of[piece]
    slot, twist = divmod(int(image[puzzle.base_label[piece]]) - kind.first, kind.twist)
    return kind.slots[slot] + (f" +{twist}" if twist else "")
