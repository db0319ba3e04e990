"""Iterative deepening where a blank slides: words from the frontier, depth first, cut where tables say that the goal is too far.

See R. E. Korf, Artif. Intell. 27 (1985) 97-109. Lengths are tried one by one, and a length all of whose words are cut is
excluded, for the tables' bounds are sound. A word that they let through is a candidate only, and is followed.

Tables of pieces that many moves share do not add up; the greatest of them sees no farther than the hashes that fit into
the same memory, and takes longer to ask (DEVELOPERS.md has the measurement), so only sliding puzzles have tables.
"""

from __future__ import annotations

from dataclasses import dataclass
from time import process_time

import numpy as np

from oddswap.reasoning.search.coordinates import FAR
from oddswap.reasoning.search.findings import ThrownAway
from oddswap.reasoning.search.levels import Ball, Check
from oddswap.reasoning.search.pruning import Pattern, Table, entries, joined, patterns, table

PAUSE = 2_000_000
"""After so many moves the time is looked at."""

PACE = 9_000_000
"""About so many entries of tables are made in a second."""

SIZES = (1 << 22, 1 << 25, 200_000_000)
"""So many entries at most are made for one table, in the sets that are considered one after another."""


@dataclass(frozen=True)
class TableSet:
    """Tables that could be made, and about how many ``seconds`` making them takes."""

    patterns: tuple[Pattern, ...]
    seconds: float


def table_sets(out: Ball, goals: np.ndarray, room: int) -> list[TableSet]:
    """The tables that fit into ``room`` bytes while they are made, the quickest first; none where no blank slides."""
    if out.moves.blank is None:
        return []
    found: list[TableSet] = []
    for largest in SIZES:
        dealt = tuple(patterns(out.moves, goals, largest))
        sizes = [entries(goals, pattern) for pattern in dealt]
        kept = 2 * sum(sizes) // goals.shape[1]
        if dealt and kept + max(sizes) <= room and (not found or dealt != found[-1].patterns):
            found.append(TableSet(dealt, sum(sizes) / PACE))
    return found


def deepening(out: Ball, goals: np.ndarray, chosen: TableSet, check: Check) -> tuple[Deepening | None, ThrownAway | None]:
    """The search with the tables of a set, and what was wrong with a table in the cache; None without a table."""
    pairs = [table(out.moves, goals, pattern, check) for pattern in chosen.patterns]
    tables = [each for each, _ in pairs if each is not None]
    note = next((note for _, note in pairs if note), None)
    return (Deepening(out, goals, tables) if tables else None), note


class Deepening:
    """Ways from the middle of ``out`` to ``goals``, with tables that add up; ``made`` counts the states generated."""

    def __init__(self, out: Ball, goals: np.ndarray, tables: list[Table]):
        self.out, self.goals, self.made = out, goals, 0
        self.seconds, self.tried = 0.0, 0
        edge, numbers = out.edge.rows, [table.numbers(out.edge.rows) for table in tables]
        bounds = np.stack([table.bounds(n) for table, n in zip(tables, numbers, strict=True)])
        self.bounds = np.where((bounds < FAR).all(axis=0), bounds.sum(axis=0), FAR * len(tables))
        self.order = np.argsort(self.bounds, kind="stable")[: int((bounds < FAR).all(axis=0).sum())]
        self.roots = np.concatenate(numbers, axis=1).astype(np.int64)
        self.blanks, self.ends = ((rows == out.moves.blank.code).argmax(axis=1) for rows in (edge, goals))
        self.shape = np.concatenate([[0], np.cumsum([len(table.coordinates) for table in tables])]).astype(np.int64)
        self.steps = joined([c.steps for table in tables for c in table.coordinates])
        starts = np.concatenate([[0], np.cumsum([table.counts.size for table in tables])[:-1]]).astype(np.int64)
        self.counts = np.concatenate([table.counts for table in tables]), starts

    @property
    def nbytes(self) -> int:
        return sum(part.nbytes for part in (*self.steps[:3], *self.counts, self.roots, self.bounds))

    @property
    def impossible(self) -> bool:
        """Whether the tables alone prove that no state of the frontier leads to a goal."""
        return not len(self.order)

    def expected(self, length: int) -> float:
        """About how many seconds trying that length takes, going by the last one that was tried."""
        before, now = (self.out.words(n - self.out.depth) for n in (max(self.tried, self.out.depth), length))
        return self.seconds * now / max(1, before)

    def of_length(self, length: int, check: Check) -> list[int] | None:
        """A way of that many moves, more than to the frontier, given that none is shorter; None proves that there is none."""
        left = length - self.out.depth
        chosen = self.order[(self.bounds[self.order] <= left) & self._blank_arrives(left)[self.blanks[self.order]]]
        if not len(chosen):
            return None
        began = process_time()
        word = self._walked(chosen, left, check)
        self.seconds, self.tried = process_time() - began, length
        return word

    def _blank_arrives(self, slides: int) -> np.ndarray:
        """Whether so many slides can bring the blank from each slot to where a goal has it: bool, shape (slots,)."""
        blank, there = self.out.moves.blank, np.zeros(self.goals.shape[1], dtype=bool)
        there[self.ends] = True
        for _ in range(slides):
            before = there
            there = np.zeros_like(before)
            np.logical_or.at(there, blank.begin, before[blank.end])
        return there

    def _walked(self, chosen: np.ndarray, left: int, check: Check) -> list[int] | None:
        from oddswap.reasoning.search.pruning_kernels import deepen

        edge, orders = self.out.edge, self.out.moves.following
        roots, last = np.ascontiguousarray(self.roots[chosen]), edge.last[chosen].astype(np.int64)
        where = np.array([0, -1, 0], dtype=np.int64)
        at, before, tried = (np.zeros(shape, dtype=np.int64) for shape in ((left + 1, roots.shape[1]), left + 1, left + 1))
        while True:
            check()
            ended = deepen(where, at, before, tried, roots, last, left, PAUSE, *orders, self.shape, *self.steps, *self.counts)
            self.made += int(where[2])
            where[2] = 0
            if ended == 0:
                return None
            if ended == 2:
                row, word = edge.rows[chosen[where[0] - 1]], before[1 : left + 1].tolist()
                end = row
                for move in word:
                    end = self.out.moves.apply(end, move)
                if (self.goals == end).all(axis=1).any():
                    return [*reversed(self.out.way_in(row)), *word]
