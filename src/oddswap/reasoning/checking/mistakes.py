"""What a hand makes of a sequence with a mistake or two, all of it followed at once.

A mistake leaves a turn out, adds one (made twice is one of these), makes it another way round, or makes it on another
slab, reversed too where that is the opposite one. For each place in the sequence the states that so many mistakes lead
to are one array of rows; what happens at the next place happens to all rows together.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Finding
from oddswap.reasoning.search.seen import SeenModel

MOST_ROWS = 1_500_000
"""Two mistakes are followed only where there are at most so many pairs of them."""


@forwarded
class Mistake(Finding):
    """At place ``at`` (turns before it) the turns ``made`` take the place of the next ``instead_of`` (none or one).

    ``turn`` is the one that it was made at, if any. Its ``sort``: *left out*, *reversed*, *by another amount*, *on another slab*,
    *reversed on the opposite slab* (left for right, as in a mirror); *made twice*; *added*, before that turn or at the end.
    """

    sort: str
    at: int
    made: tuple[str, ...]
    instead_of: int
    turn: str | None


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
    >>> [(m.sort, *m.made) for m in mistakes_in(load("cube:2"), ("R",)) if m.instead_of][:3]
    [('left out',), ('on another slab', 'U'), ('on another slab', 'D')]
    """
    found = []
    for at, name in enumerate((*turns, None)):
        for other in puzzle.turns:
            if at and other == turns[at - 1]:
                found.append(Mistake("made twice", at, (other,), 0, other))
            elif other != name:
                found.append(Mistake("added", at, (other,), 0, name))
        if name is not None:
            found += _instead(puzzle, at, name)
    return tuple(found)


def _instead(puzzle: Puzzle, at: int, name: str) -> Iterator[Mistake]:
    turned = puzzle.turns[name]
    old = turned.step
    yield Mistake("left out", at, (), 1, name)
    for other, turn in puzzle.turns.items():
        if other != name and turn.step.name == old.name:
            sort = "reversed" if turn.step == old.inverse() else "by another amount"
            yield Mistake(sort, at, (other,), 1, name)
        elif other != name and turn.step.amount == old.amount:
            yield Mistake("on another slab", at, (other,), 1, name)
        elif turn.step == replace(old.inverse(), stem=turn.step.stem) and np.dot(turn.axis, turned.axis) < -1 + 1e-9:
            yield Mistake("reversed on the opposite slab", at, (other,), 1, name)


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
            if not (parts := here.pop((place, made), [])):
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
