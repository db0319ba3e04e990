"""Exact levels: all states at each distance from given states, told apart by comparing whole rows.

Rows are sorted by a 64-bit hash and compared in full where hashes agree, so a level holds each of its states once and
a bound that comes from it is a proof, whatever the hash.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from oddswap.reasoning.budget import Clock, Finding
from oddswap.reasoning.search.words import Moves


class Ending(Finding):
    """Why a search ended."""


class ShorterExcluded(Ending):
    """A way was found, and every shorter one was excluded."""


class AllStatesSeen(Ending):
    """All states that the turns reach were seen, and none is a goal."""


class PiecesKeptAway(Ending):
    """No turns bring some of the pieces to a goal, whatever the others do."""


class TooManyLooks(Ending):
    """The puzzle has more slots or looks than the packed states of a search can hold."""


class TimeUsedUp(Ending):
    """The time ended before longer ways were tried."""

    seconds: float


class MemoryUsedUp(Ending):
    """Longer ways need more memory."""

    bytes: int


class Counted(Finding):
    """What counts as one: a ``unit`` (slab, slabs, slide or move); which turns were allowed, all those ``of`` a puzzle or some.

    ``held``: no other holding was tried, because it has other turns (*throughout*, or *as it is*); else empty.
    """

    unit: str
    allowed: tuple[str, ...]
    of: str | None
    held: str = ""


Check = Callable[[], None]
"""Called between steps of well under a second; raises when the time has run out."""


class TimeEnded(Exception):
    """The time of a budget is used up; raised and caught within one search."""


def keep_to(clock: Clock) -> None:
    """Raise `TimeEnded` or `MemoryError` where a clock is spent."""
    if clock.spent:
        raise TimeEnded if clock.used >= clock.seconds else MemoryError


@dataclass(frozen=True, eq=False)
class Level:
    """States in a row: ``rows`` (n, slots), ``hashes`` (n,), ``last`` move of a shortest word to each (n,)."""

    rows: np.ndarray
    hashes: np.ndarray
    last: np.ndarray

    @staticmethod
    def of_each(moves: Moves, rows: np.ndarray) -> Level:
        """States that no move led to, as they stand."""
        return Level(rows, moves.hashes(rows), moves.starting(rows))

    @staticmethod
    def of(moves: Moves, rows: np.ndarray) -> Level:
        """States that no move led to, each once, sorted by hash."""
        level = Level.of_each(moves, rows)
        return level.take(first_of_each(level))

    @staticmethod
    def joined(levels: list[Level]) -> Level:
        """The states of several levels, one after another."""
        return Level(*(np.concatenate([getattr(x, name) for x in levels]) for name in ("rows", "hashes", "last")))

    def __len__(self) -> int:
        return len(self.rows)

    @property
    def nbytes(self) -> int:
        return self.rows.nbytes + self.hashes.nbytes + self.last.nbytes

    def take(self, places: np.ndarray) -> Level:
        return Level(*(np.take(part, places, axis=0) for part in (self.rows, self.hashes, self.last)))

    def words(self, moves: Moves, length: int) -> int:
        """How many reduced words of that length go on from these states."""
        return int((moves.words(length) * np.bincount(self.last, minlength=len(moves.follow))).sum())

    def after(self, moves: Moves, check: Check) -> Level:
        """The states that there can be one reduced move on, move by move; not compared with one another."""
        return Level.joined(list(self.by_move(moves, check)))

    def by_move(self, moves: Moves, check: Check) -> Iterator[Level]:
        """The same, a level for each move."""
        for move in range(len(moves)):
            check()
            part = self.take(np.flatnonzero(moves.follow[self.last, move]))
            can = moves.can(part.rows, move)
            part = part if can.all() else part.take(np.flatnonzero(can))
            rows, hashes = moves.apply(part.rows, move), moves.hashes_after(part.rows, part.hashes, move)
            following = Level(rows, hashes, np.full(len(part), move, dtype=self.last.dtype))
            there = moves.may_be(rows)
            yield following if there.all() else following.take(np.flatnonzero(there))


def first_of_each(level: Level) -> np.ndarray:
    """Where each different row stands for the first time, in the order of the hashes."""
    order = np.argsort(level.hashes, kind="stable")
    hashes = level.hashes[order]
    pairs = np.flatnonzero(hashes[1:] == hashes[:-1])
    one, other = (np.take(level.rows, order[at], axis=0) for at in (pairs, pairs + 1))
    equal = (one == other).all(axis=1)
    keep = np.ones(len(order), dtype=bool)
    keep[pairs[equal] + 1] = False
    if not equal.all():
        shared = np.flatnonzero(np.isin(hashes, hashes[pairs[~equal]]))
        firsts = np.unique(level.rows[order[shared]], axis=0, return_index=True)[1]
        keep[shared] = False
        keep[shared[firsts]] = True
    return order[keep]


def in_common(one: Level, other: Level) -> tuple[int, int] | None:
    """The places of a state that both levels hold, or None; ``other`` must be sorted by hash."""
    begin, end = (np.searchsorted(other.hashes, one.hashes, side=side) for side in ("left", "right"))
    for i in np.flatnonzero(begin < end):
        same = (other.rows[begin[i] : end[i]] == one.rows[i]).all(axis=1)
        if same.any():
            return int(i), int(begin[i] + same.argmax())
    return None


class Ball:
    """The levels around given states, each sorted by hash; ``made`` counts the states generated."""

    def __init__(self, moves: Moves, states: np.ndarray):
        self.moves = moves
        self.levels = [Level.of(moves, states)]
        self.made = len(states)

    @property
    def edge(self) -> Level:
        """The outermost level; empty when there are no more states."""
        return self.levels[-1]

    @property
    def depth(self) -> int:
        return len(self.levels) - 1

    @property
    def nbytes(self) -> int:
        return sum(level.nbytes for level in self.levels)

    @property
    def bytes_to_grow(self) -> int:
        """An upper estimate of the memory that the next level needs while it is made."""
        row = self.edge.rows.shape[1] + 10
        return self.words(1) * (3 * row + 24) + 2 * self.nbytes

    def words(self, length: int) -> int:
        """How many reduced words of that length go on from the edge."""
        return self.edge.words(self.moves, length)

    @property
    def merging(self) -> bool:
        """Whether many words met in one state when the edge was made."""
        return self.depth > 0 and len(self.edge) < 0.8 * self.levels[-2].words(self.moves, 1)

    def grow(self, check: Check) -> None:
        """Add the next level; when ``check`` ends it, the ball stays as it was."""
        old = sum(map(len, self.levels))
        everything = Level.joined([*self.levels, *self.edge.by_move(self.moves, check)])
        firsts = first_of_each(everything)
        self.levels.append(everything.take(firsts[firsts >= old]))
        self.made += len(everything) - old

    def way_in(self, row: np.ndarray) -> list[int]:
        """The moves whose undoing leads, along the levels, from a state at the edge to the middle."""
        found: list[int] = []
        back = self.moves.inverse
        for level in reversed(self.levels[:-1]):
            follow = np.flatnonzero(back.follow[back.starting(row[None])[0]])
            possible = [move for move in follow if back.can(row[None], move)[0]]
            before = Level.of_each(back, np.array([back.apply(row, move) for move in possible]))
            if (step := in_common(before, level)) is None:
                raise AssertionError("a level lacks the state before one of the next level")
            found.append(int(possible[step[0]]))
            row = before.rows[step[0]]
        return found
