"""Does this sequence do it? If not, where it leaves the right way, and which sequences close to it do.

A sequence is compared on what is seen. Near sequences differ by one change (a turn added, left out, reversed, doubled,
or made on another slab), or by two; all of them are tried, from both ends.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from oddswap.errors import BadOption
from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.effects import effect_words
from oddswap.reasoning.search import Budget, find_way
from oddswap.reasoning.seen import SeenModel, seen_model
from oddswap.values.appearance import Appearance

LONGEST = 60
"""A sequence of more turns is not looked at for near ones."""


@dataclass(frozen=True)
class Check:
    """What came of trying a sequence on an appearance.

    ``does`` says what the sequence does by itself. ``left_after`` counts the turns after which one could still go
    on to solved in as few turns as at the start, ``None`` when that could not be found out. ``near`` are working
    sequences close by, each with what was changed; ``best`` is the length of the shortest way known, or ``None``.
    """

    solves: bool
    does: str
    wrong: tuple[str, ...]
    left_after: int | None
    near: tuple[tuple[str, str], ...]
    best: int | None
    best_proved: bool


def check(puzzle: Puzzle, appearance: Appearance, moves: str, budget: Budget | None = None) -> Check:
    """Try ``moves`` on a complete appearance. `NotationError` or `UnknownMove` for moves that cannot be read.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> tried = check(cube, cube.appearance(cube.follow("R U")), "U R'")
    >>> tried.solves, tried.near[0]
    (False, ("U' R'", 'turn 1, U, reversed'))
    """
    if puzzle.blank is not None:
        raise BadOption("checking a sequence is not offered where a blank decides which moves there are")
    model = seen_model(puzzle)
    turns = tuple(turn.name for turn in puzzle.settled(moves)[0] if not turn.whole)
    states = [model.pack(appearance)]
    for name in turns:
        states.append(model.apply(states[-1], name))
    solves = _solved(model, states[-1])
    best = find_way(puzzle, appearance, budget=budget or Budget(10.0))
    wrong = () if solves else tuple(
        puzzle.slots[slot] for slot, is_, ought in zip(model.slots, states[-1], model.solved, strict=True) if is_ != ought
    )
    near = () if solves or len(turns) > LONGEST else tuple(_near(puzzle, model, states[0], turns))
    return Check(
        solves,
        effect_words(puzzle, moves),
        wrong,
        None if best.turns is None else _left_after(puzzle, model, states, len(best.turns)),
        near,
        None if best.turns is None else len(best.turns),
        best.shortest,
    )


def _solved(model: SeenModel, state: np.ndarray) -> bool:
    return bool((model.goals == state).all(axis=1).any())


def _left_after(puzzle: Puzzle, model: SeenModel, states: list[np.ndarray], shortest: int) -> int:
    """After how many turns the sequence is still on a shortest way."""
    for done in range(1, min(len(states), shortest + 1)):
        rest = find_way(puzzle, states[done], budget=Budget(5.0))
        if rest.turns is None or len(rest.turns) != shortest - done:
            return done - 1
    return min(len(states) - 1, shortest)


def _near(puzzle: Puzzle, model: SeenModel, start: np.ndarray, turns: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    """Working sequences by one change, or if there are none by two; at most a dozen."""
    found = list(_with_changes(puzzle, model, start, turns, 1)) or list(_with_changes(puzzle, model, start, turns, 2))
    unique = dict.fromkeys(found)
    yield from sorted(unique, key=lambda pair: len(pair[0].split()))[:12]


def _edits(puzzle: Puzzle, turns: tuple[str, ...], at: int) -> Iterator[tuple[tuple[str, ...], int, str]]:
    """What can be done at a place: ``(turns instead, how many of the old ones they replace, words)``."""
    for name in puzzle.turns:
        yield (name,), 0, f"{name} added before turn {at + 1}"
    if at == len(turns):
        return
    old = puzzle.turns[turns[at]]
    where = f"turn {at + 1}, {old.name},"
    yield (), 1, f"{where} left out"
    for name, turn in puzzle.turns.items():
        if name == old.name:
            continue
        if turn.step.name == old.step.name:
            yield (name,), 1, f"{where} {'reversed' if turn.step == old.step.inverse() else f'made {name}'}"
        elif turn.step.amount == old.step.amount:
            yield (name,), 1, f"{where} made on another slab, {name}"


def _with_changes(
    puzzle: Puzzle, model: SeenModel, start: np.ndarray, turns: tuple[str, ...], count: int
) -> Iterator[tuple[str, str]]:
    """Every sequence with ``count`` changes that solves: forwards from the start, compared with the ends pulled back."""
    ends = _pulled_back(puzzle, model, turns)
    fresh: list[tuple[int, np.ndarray, tuple[str, ...], str]] = [(0, start, (), "")]
    for made in range(count):
        following = []
        for begin, state, word, words in fresh:
            for at in range(begin, len(turns) + 1):
                for instead, replaced, said in _edits(puzzle, turns, at):
                    changed = state
                    for name in instead:
                        changed = model.apply(changed, name)
                    told = f"{words}; {said}" if words else said
                    if made == count - 1:
                        if changed.tobytes() in ends[at + replaced]:
                            yield " ".join((*word, *instead, *turns[at + replaced :])), told
                    else:
                        following.append((at + replaced, changed, (*word, *instead), told))
                if at < len(turns):
                    state, word = model.apply(state, turns[at]), (*word, turns[at])
        fresh = following


def _pulled_back(puzzle: Puzzle, model: SeenModel, turns: tuple[str, ...]) -> list[set[bytes]]:
    """For each place, the states from which the rest of the turns lead to solved."""
    states = model.goals
    ends = [{row.tobytes() for row in states}]
    for name in reversed(turns):
        states = model.apply(states, str(puzzle.turns[name].step.inverse()))
        ends.append({row.tobytes() for row in states})
    return ends[::-1]
