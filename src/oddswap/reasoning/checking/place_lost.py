"""I lost my place: from a way out and a few stickers seen now, where one is, what went wrong, and how to go on."""

from contextlib import suppress
from dataclasses import dataclass, field, replace

import numpy as np

from oddswap.errors import BadOption, UnknownMove
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_otherwise, holdings
from oddswap.reasoning.budget import Limit, started
from oddswap.reasoning.checking.check import begun, turns_of
from oddswap.reasoning.checking.mistakes import Mistake, followed, mistakes_in, most_followed, word_with
from oddswap.reasoning.search.seen import seen_model
from oddswap.values.position import Appearance

LONGEST = 400
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
    `Unseen` when the start is not complete, `BadOption` for more than `LONGEST` turns.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> lost = place_lost(cube, cube.appearance(cube.follow("R U F")), "F' U' R'", cube.appearance(cube.follow("R")))
    >>> lost.places[0].done, lost.places[0].rest, lost.decided
    (2, ("R'",), True)
    """
    clock, model, begin = started(budget), seen_model(puzzle), begun(puzzle, start)
    turns = turns_of(puzzle, way, begin)
    if len(turns) > LONGEST:
        raise BadOption(f"the way comes to {len(turns)} turns: a lost place is looked for on at most {LONGEST}")
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
