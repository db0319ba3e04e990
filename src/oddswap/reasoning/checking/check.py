"""Does this sequence do it? If not, where it leaves the right way, and which sequences close to it do. And: I lost my place.

A sequence is compared on what is seen. Near sequences differ by one change (a turn added, left out, reversed, made twice
or on another slab, or reversed on the opposite one), or, where none of those works, by two; all of them are tried.
"""

from contextlib import suppress
from dataclasses import dataclass, field, replace

import numpy as np

from oddswap.describing.habits import Doubt
from oddswap.errors import BadOption, UnknownMove
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_otherwise, holdings, turns_fit_every_holding
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
    done = solves or impossible or len(turns) > LONGEST
    near, looked = ((), 0) if done else _near(puzzle, model, start, states[0], turns, clock)
    does, wrong, known = _does(puzzle, moves, start), _wrong(puzzle, model, states[-1]), best.shortest and best.turns is not None
    left = _left_after(puzzle, states, len(best.turns), clock) if known else None
    shortest = min((length for length in (best.length, len(turns) if solves else None) if length is not None), default=None)
    proved = shortest, best.lower_bound, impossible, best.counted
    return Trial(turns, solves, does, wrong, near[:MOST_NEAR], len(near), looked, left, *proved)


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


LONGEST_WAY = 400
"""A lost place is not looked for on a way of more turns."""


@dataclass(frozen=True)
class Place:
    """Where one may be: after ``done`` turns of the way, with ``mistakes`` made, in that order.

    ``made`` are the turns really made, ``undo`` takes back those from the first mistake on, and ``rest`` is what then
    remains of the way. ``state`` is the packed state (`oddswap.reasoning.search.seen`) as bytes, held as at the start: what
    is seen is held so after the whole-puzzle rotations ``held``, the label permutation ``rotation``.
    """

    done: int
    mistakes: tuple[Mistake, ...]
    made: tuple[str, ...]
    undo: tuple[str, ...]
    rest: tuple[str, ...]
    state: bytes
    held: str = ""
    rotation: np.ndarray | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True)
class Lost:
    """All ``places`` that agree with what is seen, fewest mistakes first; ``looked`` mistakes at most were followed.

    ``decided``: all that need the fewest mistakes are one state, so that either of them may be followed. Otherwise
    ``look_at`` are the slots that were not seen and would tell more, best first.
    """

    places: tuple[Place, ...]
    looked: int
    decided: bool
    look_at: tuple[str, ...]


def place_lost(puzzle: Puzzle, start: Appearance, way: str, now: Appearance, budget: Limit = None) -> Lost:
    """Where one is on ``way``, which began at ``start`` (complete), when ``now`` (partly seen) is what shows.

    Up to one mistake is followed; two where one explains nothing, if there is time. Where nothing fixes the holding, ``now`` may
    be held in any.
    `Unseen` when the start is not complete, `BadOption` for more than `LONGEST_WAY` turns.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> lost = place_lost(cube, cube.appearance(cube.follow("R U F")), "F' U' R'", cube.appearance(cube.follow("R")))
    >>> lost.places[0].done, lost.places[0].rest, lost.decided
    (2, ("R'",), True)
    """
    clock, model, begin = started(budget), seen_model(puzzle), begun(puzzle, start)
    turns = turns_of(puzzle, way, begin)
    if len(turns) > LONGEST_WAY:
        raise BadOption(f"the way comes to {len(turns)} turns: a lost place is looked for on at most {LONGEST_WAY}")
    first, mistakes, column = model.pack(start), mistakes_in(puzzle, turns), np.arange(len(model.slots))
    looks = [
        (" ".join(names), image, _shows(puzzle, model.codes, held_otherwise(puzzle, now, image)))
        for names, image in holdings(puzzle)
    ]
    bare = np.setdiff1d(np.arange(len(puzzle.slots)), model.slots)
    looks = [look for look in looks if look[2][bare].any(axis=1).all()]
    for most in range(1, most_followed(mistakes) + 1):
        places: dict[tuple, Place] = {}
        for stage in followed(model, first, turns, mistakes, most):
            for held, image, shows in looks:
                agree = shows[model.slots][column, stage.states].all(axis=1)
                for state, row in zip(stage.states[agree], stage.history[agree], strict=True):
                    made = tuple(mistakes[n] for n in row)
                    place = replace(_place(puzzle, turns, made, stage.place, state), held=held, rotation=image)
                    with suppress(UnknownMove):
                        turns_of(puzzle, " ".join(place.made), begin)
                        places.setdefault((len(made), place.done, place.made, held), place)
        if places or clock.spent:
            break
    found = tuple(places[key] for key in sorted(places, key=lambda key: (key[0], -key[1], *key[2:])))
    fewest = {p.state for p in found if len(p.mistakes) == len(found[0].mistakes)}
    return Lost(found, most, len(fewest) == 1, _look_at(puzzle, model.slots, now, fewest))


def _shows(puzzle: Puzzle, codes: int, now: Appearance) -> np.ndarray:
    """Which looks each slot may show, shape (slots, codes)."""
    shows = np.zeros((len(puzzle.slots), codes), dtype=bool)
    for slot, sight in enumerate(now.sights):
        shows[slot, list(sight)] = True
    return shows


def _place(puzzle: Puzzle, turns: tuple[str, ...], made: tuple[Mistake, ...], done: int, state: np.ndarray) -> Place:
    word = word_with(turns, made, done)
    right = made[0].at if made else done
    undo = tuple(str(puzzle.turns[name].step.inverse()) for name in reversed(word[right:]))
    return Place(done, made, word, undo, turns[right:], state.tobytes())


def _look_at(puzzle: Puzzle, slots: np.ndarray, now: Appearance, states: set[bytes]) -> tuple[str, ...]:
    """The slots not seen for certain on which the states differ; the one that leaves the fewest together comes first."""
    if len(states) < 2:
        return ()
    rows, unseen, telling = np.array([list(s) for s in states], dtype=np.uint8), set(now.uncertain), []
    for column, slot in enumerate(slots):
        together = np.unique(rows[:, column], return_counts=True)[1].max()
        if slot in unseen and together < len(rows):
            telling.append((int(together), int(slot)))
    return tuple(puzzle.slots[slot] for _, slot in sorted(telling))
