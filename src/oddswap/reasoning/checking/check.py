"""Does this sequence do it? If not, where it leaves the right way, and which sequences close to it do.

A sequence is compared on what is seen. Near sequences differ by one change (a turn added, left out, reversed, made twice
or on another slab, or reversed on the opposite one), or, where none of those works, by two; all of them are tried.
"""

from contextlib import suppress
from dataclasses import dataclass, replace

import numpy as np

from oddswap.describing.habits import Doubt
from oddswap.errors import BadOption, UnknownMove
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import turns_fit_every_holding
from oddswap.reasoning.budget import Budget, Clock, Finding, Limit, started
from oddswap.reasoning.checking.mistakes import Mistake, followed, mistakes_in, most_followed, word_with
from oddswap.reasoning.search.levels import Counted
from oddswap.reasoning.search.seen import SeenModel, seen_model
from oddswap.reasoning.search.shortest import find_way
from oddswap.reasoning.teaching.effects import Effect, effect_of, image_of_turns
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.reasoning.verdicts.findings import NOT_BY_TURNING, OTHER_TURNS
from oddswap.values.notation import simplified, write
from oddswap.values.position import Appearance, Arrangement
from oddswap.values.sequence import bounded

LONGEST = 60
"""A sequence of more turns is not looked at for near ones."""

MOST_NEAR = 12
"""So many near sequences are told at most, the shortest first."""


@dataclass(frozen=True)
class Near:
    """A working sequence close by: its ``moves``, and how it differs from what was tried."""

    moves: str
    changes: tuple[Mistake, ...]


@dataclass(frozen=True)
class Trial:
    """What came of trying a sequence on an appearance.

    ``turns`` are those tried, as the puzzle names them in its first holding; ``does`` is what they do by themselves,
    None where that changes which slots are filled.
    ``wrong`` are the slots that do not show what they should at the end. ``near`` are working sequences close by, none
    looked for when ``looked`` (how many changes at once were tried) is 0; ``near_count`` counts all that were found.
    ``best`` is the length of the shortest way known, ``lower_bound`` what was proved, ``left_after`` how many turns
    of the sequence begin a shortest way (None when that could not be found out). ``impossible``: no allowed turns solve it.
    """

    turns: tuple[str, ...]
    solves: bool
    does: Effect | None
    wrong: tuple[str, ...]
    near: tuple[Near, ...]
    near_count: int
    looked: int
    left_after: int | None
    best: int | None
    lower_bound: int
    impossible: bool
    counted: Counted


class TriedOtherwise(Finding):
    """A turn was ``written`` with a ``number`` before the letter of a ``face``: if so many turns are meant, the sequence is
    ``moves``. ``solves`` says whether that solves, ``solved_as_read`` whether it does where that slab alone is meant.
    """

    written: str
    number: int
    face: str
    moves: str
    solves: bool
    solved_as_read: bool


def begun(puzzle: Puzzle, appearance: Appearance) -> Arrangement | None:
    """An arrangement with the shape that is seen, where a shape decides which turns there are."""
    return next(map(puzzle.arrangement, puzzle.standing(appearance)), None) if puzzle.shape_first else None


def turns_of(puzzle: Puzzle, moves: str, start: Arrangement | None) -> tuple[str, ...]:
    """The turns of ``moves`` one by one, named in the first holding. `BadOption` for too many, or a blank."""
    if puzzle.blank is not None:
        raise BadOption(f"{puzzle.name} has a blank that decides which moves there are: sequences are checked on others")
    return tuple(turn.name for turn in puzzle.settled(bounded(puzzle.read(moves)), start)[0] if not turn.whole)


def check(puzzle: Puzzle, appearance: Appearance, moves: str, budget: Limit = None) -> Trial:
    """Try ``moves`` on a complete appearance. `NotationError` or `UnknownMove` for moves that cannot be read.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> tried = check(cube, cube.appearance(cube.follow("R U")), "U R'")
    >>> tried.solves, tried.near[0].moves, tried.near[0].changes[0].sort
    (False, "U' R'", 'reversed')
    """
    clock, start, model = started(budget or Budget(10.0)), begun(puzzle, appearance), seen_model(puzzle)
    turns = turns_of(puzzle, moves, start)
    states = [model.pack(appearance)]
    for name in turns:
        states.append(model.apply(states[-1], name))
    solves = bool(_solved(model, states[-1][None])[0])
    hopeless = judged(puzzle, appearance, clock.share(0.4)).verdict in (OTHER_TURNS, NOT_BY_TURNING)
    best = find_way(puzzle, appearance, budget=clock.share(0.0 if hopeless else 0.6))
    if not turns_fit_every_holding(puzzle):
        bound = 0 if best.impossible else best.lower_bound
        best = replace(best, impossible=False, lower_bound=bound, counted=replace(best.counted, held="as it is"))
    impossible = best.impossible or hopeless
    near, looked = (
        ((), 0) if solves or impossible or len(turns) > LONGEST else _near(puzzle, model, start, states[0], turns, clock)
    )
    return Trial(
        turns,
        solves,
        _does(puzzle, moves, start),
        _wrong(puzzle, model, states[-1]),
        near[:MOST_NEAR],
        len(near),
        looked,
        _left_after(puzzle, states, len(best.turns), clock) if best.shortest and best.turns is not None else None,
        best.length,
        best.lower_bound,
        impossible,
        best.counted,
    )


def tried_otherwise(puzzle: Puzzle, appearance: Appearance, doubt: Doubt, moves: str, tried: Trial) -> TriedOtherwise:
    """What comes of a sequence that was ``tried`` if the turn in ``doubt`` means the other thing that it can mean.

    Then ``appearance`` is what is seen, and ``moves`` is the sequence.
    """
    model = seen_model(puzzle)
    state = model.follow(model.pack(appearance), turns_of(puzzle, moves, begun(puzzle, appearance)))
    solves = bool(_solved(model, state[None])[0])
    return TriedOtherwise(doubt.written, doubt.number, doubt.face, moves, solves, tried.solves)


def _does(puzzle: Puzzle, moves: str, start: Arrangement | None) -> Effect | None:
    """What a sequence does to the pieces; None where some of them end in slots that were empty."""
    image, still = image_of_turns(puzzle, moves, start), np.arange(puzzle.degree)
    if puzzle.shape_first and puzzle.void:
        there = np.isin(still, puzzle.permutation(start or puzzle.solved)[puzzle.pieces])
        if not there[image[there]].all():
            return None
        image = np.where(there, image, still)
    return effect_of(puzzle, image)


def _solved(model: SeenModel, states: np.ndarray) -> np.ndarray:
    return (states[:, None, :] == model.goals[None]).all(axis=2).any(axis=1)


def _wrong(puzzle: Puzzle, model: SeenModel, state: np.ndarray) -> tuple[str, ...]:
    """The slots that are not right in the holding that suits best."""
    differs = model.goals != state
    return tuple(puzzle.slots[slot] for slot in model.slots[differs[differs.sum(axis=1).argmin()]])


def _left_after(puzzle: Puzzle, states: list[np.ndarray], shortest: int, clock: Clock) -> int | None:
    """How many turns of the sequence begin a shortest way; None where the time ended first."""
    for done in range(1, min(len(states), shortest + 1)):
        rest = find_way(puzzle, states[done], budget=clock.share(0.5))
        if rest.turns is None and clock.spent:
            return None
        if rest.turns is None or len(rest.turns) != shortest - done:
            return done - 1
    return min(len(states) - 1, shortest)


def _near(
    puzzle: Puzzle, model: SeenModel, begin: Arrangement | None, start: np.ndarray, turns: tuple[str, ...], clock: Clock
) -> tuple[tuple[Near, ...], int]:
    """Working sequences by one change, or if there are none and there is time by two, shortest first; and how many were tried.

    Of those that are the same when turns of one slab are drawn together, the shortest.
    """
    mistakes = mistakes_in(puzzle, turns)
    for count in range(1, most_followed(mistakes) + 1):
        found: dict[str, Near] = {}
        for stage in followed(model, start, turns, mistakes, count):
            if count > 1 and clock.spent:
                return (), count - 1
            if (stage.place, stage.mistakes) == (len(turns), count):
                for row in stage.history[_solved(model, stage.states)]:
                    changes = tuple(mistakes[number] for number in row)
                    word = " ".join(word_with(turns, changes, len(turns)))
                    with suppress(UnknownMove):
                        turns_of(puzzle, word, begin)
                        found.setdefault(word, Near(word, changes))
        if found:
            break
    told: dict[str, Near] = {}
    for near in sorted(found.values(), key=lambda near: len(near.moves.split())):
        told.setdefault(write(simplified(puzzle.read(near.moves).steps, puzzle.alphabet)), near)
    return tuple(told.values()), count
