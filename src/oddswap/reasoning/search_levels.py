"""Exact levels: all states at each distance from given states, told apart by comparing whole rows.

Rows are sorted by a 64-bit hash and compared in full where hashes agree, so a level holds each of its states once and a
bound that comes from it is a proof, whatever the hash.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from oddswap.reasoning.search_words import Moves

Check = Callable[[int], None]
"""Called with the number of bytes that the next step needs; raises when time or memory has run out."""


@dataclass(frozen=True, eq=False)
class Level:
    """The states at one distance, sorted by hash: ``rows`` (n, slots), ``hashes`` (n,), ``last`` move of each (n,)."""

    rows: np.ndarray
    hashes: np.ndarray
    last: np.ndarray

    def __len__(self) -> int:
        return len(self.rows)

    @property
    def nbytes(self) -> int:
        return self.rows.nbytes + self.hashes.nbytes + self.last.nbytes

    def take(self, chosen) -> Level:
        return Level(self.rows[chosen], self.hashes[chosen], self.last[chosen])


def joined(levels: list[Level]) -> Level:
    """The states of several levels one after another (not sorted)."""
    parts = zip(*((level.rows, level.hashes, level.last) for level in levels), strict=True)
    return Level(*(np.concatenate(part) for part in parts))


def first_of_each(level: Level) -> np.ndarray:
    """Where each different row stands for the first time, in the order of the hashes."""
    order = np.argsort(level.hashes, kind="stable")
    hashes, pairs = level.hashes[order], np.flatnonzero(np.diff(level.hashes[order]) == 0)
    equal = (level.rows[order[pairs]] == level.rows[order[pairs + 1]]).all(axis=1)
    keep = np.ones(len(order), dtype=bool)
    keep[pairs[equal] + 1] = False
    if not equal.all():
        shared = np.flatnonzero(np.isin(hashes, hashes[pairs[~equal]]))
        _, firsts = np.unique(level.rows[order[shared]], axis=0, return_index=True)
        keep[shared] = False
        keep[shared[firsts]] = True
    return order[keep]


def in_common(one: Level, other: Level) -> tuple[int, int] | None:
    """The places of a state that both levels hold, or None."""
    left = np.searchsorted(other.hashes, one.hashes, side="left")
    right = np.searchsorted(other.hashes, one.hashes, side="right")
    for i in np.flatnonzero(left < right):
        same = (other.rows[left[i] : right[i]] == one.rows[i]).all(axis=1)
        if same.any():
            return int(i), int(left[i] + same.argmax())
    return None


@dataclass(eq=False)
class Ball:
    """The levels around some states, grown one at a time; ``made`` counts the states that were generated."""

    moves: Moves
    levels: list[Level] = field(default_factory=list)
    made: int = 0

    @staticmethod
    def around(moves: Moves, states: np.ndarray) -> Ball:
        level = Level(states, moves.hashes(states), np.full(len(states), len(moves), dtype=np.int16))
        return Ball(moves, [level.take(first_of_each(level))], len(states))

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

    def words(self, length: int) -> int:
        """How many reduced words of that length begin at the outermost level."""
        kinds, numbers = np.unique(self.edge.last, return_counts=True)
        below = self.moves.words(length)
        return sum(int(n) * below[k] for k, n in zip(kinds, numbers, strict=True))

    def grow(self, check: Check) -> None:
        """Add the next level. All or nothing: a refusal by ``check`` leaves the ball as it was."""
        edge, moves = self.edge, self.moves
        row = edge.rows.shape[1] + edge.hashes.itemsize + edge.last.itemsize
        check(self.words(1) * (2 * row + 32) + self.nbytes)
        parts = []
        for move in range(len(moves)):
            check(0)
            chosen = np.flatnonzero(moves.follow[edge.last, move])
            rows, hashes = edge.rows[chosen], edge.hashes[chosen]
            last = np.full(len(rows), move, dtype=edge.last.dtype)
            parts.append(Level(moves.apply(rows, move), moves.hashes_after(rows, hashes, move), last))
        everything = joined([*self.levels, *parts])
        old = sum(len(level) for level in self.levels)
        self.made += len(everything) - old
        firsts = first_of_each(everything)
        self.levels.append(everything.take(firsts[firsts >= old]))

    def way_in(self, row: np.ndarray, depth: int) -> list[int]:
        """The moves whose undoing leads from a state of the level at ``depth`` to the middle."""
        found: list[int] = []
        for level in reversed(self.levels[:depth]):
            before = np.array([self.moves.inverse.apply(row, move) for move in range(len(self.moves))])
            step = in_common(Level(before, self.moves.hashes(before), np.arange(len(before))), level)
            if step is None:
                raise AssertionError("a level is missing a state that leads to the next one")
            found.append(step[0])
            row = before[step[0]]
        return found
