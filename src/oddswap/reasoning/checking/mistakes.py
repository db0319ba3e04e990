"""What a hand makes of a sequence with a mistake or two, all of it followed at once.

A mistake leaves a turn out, adds one (made twice is one of these), makes it another way round, or makes it on another
slab. For each place in the sequence the states that so many mistakes lead to are one array of rows; what happens at the
next place happens to all rows together.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.search.seen import SeenModel

MOST_ROWS = 1_500_000
"""Two mistakes are followed only where there are at most so many pairs of them."""


@dataclass(frozen=True)
class Mistake:
    """At place ``at`` (turns before it) the turns ``made`` take the place of the next ``instead_of`` (none or one)."""

    at: int
    made: tuple[str, ...]
    instead_of: int
    words: str


@dataclass(frozen=True, eq=False)
class Followed:
    """The states after ``place`` turns of the sequence with ``mistakes`` made.

    ``states`` has shape (n, slots), uint8; ``history`` has shape (n, mistakes): the numbers of the mistakes, in order.
    """

    place: int
    mistakes: int
    states: np.ndarray
    history: np.ndarray


def mistakes_in(puzzle: Puzzle, turns: tuple[str, ...]) -> tuple[Mistake, ...]:
    """Every single mistake, by place.

    >>> from oddswap.puzzles.catalogue import load
    >>> [m.words for m in mistakes_in(load("cube:2"), ("R",)) if m.instead_of][:3]
    ['turn 1, R, left out', 'turn 1, R, made on another slab, U', 'turn 1, R, made on another slab, D']
    """
    found = []
    for at, name in enumerate((*turns, None)):
        for other in puzzle.turns:
            if at and other == turns[at - 1]:
                words = f"turn {at}, {other}, made twice"
            elif other == name:
                continue
            elif name is None:
                words = f"{other} added at the end"
            else:
                words = f"{other} added before turn {at + 1}, {name}"
            found.append(Mistake(at, (other,), 0, words))
        if name is not None:
            found += _instead(puzzle, at, name)
    return tuple(found)


def _instead(puzzle: Puzzle, at: int, name: str) -> Iterator[Mistake]:
    old, where = puzzle.turns[name].step, f"turn {at + 1}, {name},"
    yield Mistake(at, (), 1, f"{where} left out")
    for other, turn in puzzle.turns.items():
        if other == name:
            continue
        if turn.step.name == old.name:
            yield Mistake(at, (other,), 1, f"{where} {'reversed' if turn.step == old.inverse() else f'made {other}'}")
        elif turn.step.amount == old.amount:
            yield Mistake(at, (other,), 1, f"{where} made on another slab, {other}")


def followed(
    model: SeenModel, start: np.ndarray, turns: tuple[str, ...], mistakes: tuple[Mistake, ...], most: int
) -> Iterator[Followed]:
    """The states at each place with 0, 1, … ``most`` mistakes made up to there; ``start`` has shape (slots,)."""
    here = {(0, 0): [(start[None], np.empty((1, 0), dtype=np.int32))]}
    by_place: list[list[int]] = [[] for _ in range(len(turns) + 1)]
    for number, mistake in enumerate(mistakes):
        by_place[mistake.at].append(number)
    for place in range(len(turns) + 1):
        for made in range(most + 1):
            parts = here.pop((place, made), [])
            if not parts:
                continue
            states, history = (np.concatenate(rows) for rows in zip(*parts, strict=True))
            yield Followed(place, made, states, history)
            if place < len(turns):
                here.setdefault((place + 1, made), []).append((model.apply(states, turns[place]), history))
            for number in by_place[place] if made < most else ():
                mistake, changed = mistakes[number], states
                for name in mistake.made:
                    changed = model.apply(changed, name)
                longer = np.column_stack([history, np.full(len(history), number, dtype=np.int32)])
                here.setdefault((place + mistake.instead_of, made + 1), []).append((changed, longer))


def word_with(turns: tuple[str, ...], made: tuple[Mistake, ...], place: int) -> tuple[str, ...]:
    """The turns really made when ``place`` turns of the sequence were gone through with these mistakes, in order."""
    word, at = [], 0
    for mistake in made:
        word += [*turns[at : mistake.at], *mistake.made]
        at = mistake.at + mistake.instead_of
    return (*word, *turns[at:place])


def most_followed(mistakes: tuple[Mistake, ...]) -> int:
    """How many mistakes can be followed together: two, or one where there are too many pairs."""
    return 2 if len(mistakes) ** 2 // 2 <= MOST_ROWS else 1
