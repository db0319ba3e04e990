"""A shortest way from one appearance to another, or the lower bound that was proved when the budget ended.

Two balls of exact levels grow around the start and around the goals until they meet or get big. Beyond them, for each
length in turn, the hashes of all reduced words outwards from the goals are kept, and those of all reduced words
outwards from the start are looked up. No common hash proves that there is no common state, so that length is excluded;
a common hash is only a candidate, and is followed back state by state.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from oddswap.errors import OddswapError, UnknownMove
from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.search_levels import Ball
from oddswap.reasoning.search_middle import Middle
from oddswap.reasoning.search_words import Moves
from oddswap.reasoning.seen import SeenModel, seen_model
from oddswap.values.appearance import Appearance

NEAR = 200_000
"""Exact levels beyond this size are grown only while many words meet in one state."""

Progress = Callable[[int, int, float], None]
"""Called with the lower bound proved so far, the states generated, and the seconds used."""


class BudgetEnded(Exception):
    """Time or memory has run out; the reason is a sentence."""


@dataclass(frozen=True)
class Budget:
    """How much a search may use: ``seconds`` of time, ``memory_bytes`` for its own arrays."""

    seconds: float = 60.0
    memory_bytes: int = 2_000_000_000


@dataclass(frozen=True)
class Way:
    """What a search found.

    ``turns`` is a way, or None. No way has fewer than ``lower_bound`` turns; ``shortest`` means that the way found has
    exactly as many. ``counting`` says what one turn is and which were allowed, ``states`` how many states were
    generated, ``reason`` why the search ended. ``impossible``: every state that the turns reach was seen, no goal among them.
    """

    turns: tuple[str, ...] | None
    lower_bound: int
    shortest: bool
    counting: str
    states: int
    reason: str
    impossible: bool = False


def find_way(
    puzzle: Puzzle,
    start: Appearance | np.ndarray,
    goals: Appearance | np.ndarray | None = None,
    turns: Iterable[str] | None = None,
    budget: Budget | None = None,
    progress: Progress | None = None,
) -> Way:
    """A shortest way from ``start`` to any of ``goals`` (solved, in any holding where that is free, when left out).

    States may be given packed: shape (slots,) for the start, (n, slots) for the goals, as in ``seen_model(puzzle)``.
    ``turns`` restricts the moves to those named. `UnknownMove` for a turn that the puzzle does not make, `Unseen` for an
    appearance that does not show everything.
    """
    model = seen_model(puzzle)
    names = _chosen(puzzle, turns)
    row = _packed(model, start)
    ends = model.goals if goals is None else np.atleast_2d(_packed(model, goals))
    chosen = [model.names.index(name) for name in names]
    moves = Moves.of(names, model.source[chosen], model.lut[chosen])
    search = _Search(moves, row, ends, budget or Budget(), progress)
    word, reason, impossible = search.run()
    way = None if word is None else tuple(names[move] for move in word)
    if way is not None:
        _replay(model, row, ends, way)
    return Way(way, search.bound, way is not None, _counting(puzzle, names), search.states, reason, impossible)


def depth_counts(
    puzzle: Puzzle,
    depth: int,
    start: Appearance | np.ndarray | None = None,
    turns: Iterable[str] | None = None,
) -> list[int]:
    """How many states lie at each distance 0 … ``depth`` from ``start`` (solved when left out); exact.

    Where the holding is free, states in all holdings are counted.
    """
    model, names = seen_model(puzzle), _chosen(puzzle, turns)
    chosen = [model.names.index(name) for name in names]
    moves = Moves.of(names, model.source[chosen], model.lut[chosen])
    ball = Ball.around(moves, model.goals if start is None else _packed(model, start)[None])
    while ball.depth < depth and len(ball.edge):
        ball.grow(lambda need: None)
    return [len(level) for level in ball.levels]


class _Search:
    def __init__(self, moves, row, ends, budget, progress):
        self.budget, self.progress = budget, progress
        self.began = time.monotonic()
        self.out = Ball.around(moves, row[None])
        self.back = Ball.around(moves.inverse, ends)
        self.middle = Middle(self.out, self.back)
        self.bound = 0

    @property
    def states(self) -> int:
        return self.out.made + self.back.made + self.middle.made

    def run(self) -> tuple[list[int] | None, str, bool]:
        try:
            while True:
                word = self._meeting()
                if word is not None:
                    return word, "every shorter sequence was excluded", False
                self.bound = self.out.depth + self.back.depth + 1
                self._report()
                ball = self._next_ball()
                if ball is None:
                    break
                ball.grow(self.check)
                if not len(ball.edge):
                    return None, "all states that these turns reach were seen, and none is a goal", True
            while True:
                word = self.middle.of_length(self.bound, self.check, self._room)
                if word is not None:
                    return word, "every shorter sequence was excluded", False
                self.bound += 1
                self._report()
        except BudgetEnded as ended:
            return None, f"{ended}; no way has fewer than {self.bound} turns", False

    def check(self, need: int) -> None:
        if time.monotonic() - self.began > self.budget.seconds:
            raise BudgetEnded(f"the time of {self.budget.seconds:g} s ended")
        if need > self._room():
            raise BudgetEnded(f"the memory of {self.budget.memory_bytes / 1e9:g} GB ended")

    def _room(self) -> int:
        return self.budget.memory_bytes - self.out.nbytes - self.back.nbytes - self.middle.nbytes

    def _report(self) -> None:
        if self.progress:
            self.progress(self.bound, self.states, time.monotonic() - self.began)

    def _meeting(self) -> list[int] | None:
        return self.middle.meeting()

    def _next_ball(self) -> Ball | None:
        """The ball to grow next: the smaller one, unless both are big and words seldom meet."""
        for ball in sorted((self.out, self.back), key=lambda ball: ball.words(1)):
            words = ball.words(1)
            merging = ball.depth > 1 and len(ball.edge) < 0.8 * self._words_before(ball)
            if words <= NEAR or merging:
                return ball
        return None

    @staticmethod
    def _words_before(ball: Ball) -> int:
        return Ball(ball.moves, ball.levels[:-1]).words(1)


def _chosen(puzzle: Puzzle, turns: Iterable[str] | None) -> tuple[str, ...]:
    names = tuple(puzzle.turns if turns is None else dict.fromkeys(turns))
    for name in names:
        if name not in puzzle.turns:
            raise UnknownMove(f"{puzzle.name} does not make the turn {name}; it makes {' '.join(puzzle.turns)}")
    if not names:
        raise UnknownMove("no turn is allowed: name at least one")
    return names


def _packed(model: SeenModel, states: Appearance | np.ndarray) -> np.ndarray:
    return model.pack(states) if isinstance(states, Appearance) else np.asarray(states, dtype=np.uint8)


def _replay(model: SeenModel, row: np.ndarray, ends: np.ndarray, way: tuple[str, ...]) -> None:
    for name in way:
        row = model.apply(row, name)
    if not (ends == row).all(axis=1).any():
        raise AssertionError("the sequence found does not lead to a goal when it is replayed")


def _counting(puzzle: Puzzle, names: tuple[str, ...]) -> str:
    which = f"all {len(names)} turns" if set(names) == set(puzzle.turns) else " ".join(names)
    return f"one turn of one slab counts as one, by any amount; allowed: {which}"
