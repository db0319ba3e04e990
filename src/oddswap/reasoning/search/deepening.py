"""Iterative deepening where a blank slides: words from the frontier, depth first, cut where tables say that the goal is too far.

See R. E. Korf, Artif. Intell. 27 (1985) 97-109. Lengths are tried one by one, and a length all of whose words are cut is
excluded, for the tables' bounds are sound. A word that they let through is a candidate only, and is followed.

Tables of pieces that many moves share do not add up; the greatest of them sees no farther than the hashes that fit into
the same memory, and takes longer to ask (DEVELOPERS.md has the measurement), so only sliding puzzles have tables.

A table says how many slides of a few pieces it takes at least to bring them to a goal, whatever the others do. Each slide moves
one piece, so the counts of tables that share no piece add up (R. E. Korf, A. Felner, Artif. Intell. 134 (2002) 9-22; tables of
parts of a state: J. C. Culberson, J. Schaeffer, Comput. Intell. 14 (1998) 318-334). A count is found
breadth first from the goals, over the places of the pieces and of the blank; slides of other pieces cost nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import comb, prod
from time import process_time

import numpy as np

from oddswap.reasoning.search.coordinates import FAR, NOWHERE, Coordinate, blank_steps, coordinate
from oddswap.reasoning.search.kept_files import ThrownAway, fetch, key_of, store
from oddswap.reasoning.search.levels import Ball, Check
from oddswap.reasoning.search.words import Moves

COORDINATE = 14_000
"""A coordinate has at most about so many states, so that its steps stay near the processor."""

CHUNK = 1 << 18
"""So many entries of a table are looked at in one go."""

KEPT = 1_000_000
"""Tables for which so many entries are made are kept on disk; smaller ones are made as fast as they are read."""

Pattern = tuple[tuple[int, ...], ...]
"""The codes that the pieces of a table show, coordinate by coordinate."""


@dataclass(frozen=True, eq=False)
class Table:
    """``counts`` (uint8, one for each combination of numbers of the coordinates, the last running fastest)."""

    coordinates: tuple[Coordinate, ...]
    counts: np.ndarray

    def numbers(self, states: np.ndarray) -> np.ndarray:
        """The numbers of each state, int32, shape (n, coordinates)."""
        return np.stack([c.numbers(states) for c in self.coordinates], axis=1)

    def bounds(self, numbers: np.ndarray) -> np.ndarray:
        """The count of each state by its numbers, int64, shape (n,); `FAR` where no slides lead from it to a goal."""
        index = np.ravel_multi_index(np.maximum(numbers, 0).T, [len(c) for c in self.coordinates])
        return np.where((numbers == NOWHERE).any(axis=1), FAR, self.counts[index]).astype(np.int64)


def patterns(moves: Moves, goals: np.ndarray, largest: int) -> list[Pattern]:
    """All pieces but the blank dealt out to tables that take at most ``largest`` entries each while they are made.

    Pieces that look alike stay together; those of which there are too many for that are left out.
    """
    found: list[Pattern] = []
    for code in np.setdiff1d(goals[0], moves.blank.code).tolist():
        if _places(goals, (code,)) > COORDINATE:
            continue
        pattern = _with(goals, found[-1], code) if found else ((code,),)
        if found and entries(goals, pattern) <= largest:
            found[-1] = pattern
        else:
            found.append(((code,),))
    return found


def _with(goals: np.ndarray, pattern: Pattern, code: int) -> Pattern:
    """The pattern with one code more: in its last coordinate, or in a new one where that is full."""
    wider = (*pattern[-1], code)
    return (*pattern[:-1], wider) if _places(goals, wider) <= COORDINATE else (*pattern, (code,))


def _places(goals: np.ndarray, codes: tuple[int, ...]) -> int:
    """In how many ways the pieces that show these codes can lie."""
    free, ways = goals.shape[1], 1
    for code in codes:
        count = int((goals[0] == code).sum())
        ways *= comb(free, count)
        free -= count
    return ways


def entries(goals: np.ndarray, pattern: Pattern) -> int:
    """How many entries are made for a table, at most."""
    return goals.shape[1] * prod(_places(goals, codes) for codes in pattern)


def table(moves: Moves, goals: np.ndarray, pattern: Pattern, check: Check) -> tuple[Table | None, ThrownAway | None]:
    """The table of a pattern, from the cache if it is there, and what was wrong with it there.

    None where it cannot be made, because two states share a hash or a count is too high.
    """
    found = [coordinate(moves, goals, codes, check) for codes in pattern]
    if None in found:
        return None, None
    size, key = prod(map(len, found)), _key(moves, goals, pattern)
    keep = size * goals.shape[1] >= KEPT
    data, note = fetch(key) if keep else (None, None)
    if data is not None and len(data) == size:
        return Table(tuple(found), np.frombuffer(data, dtype=np.uint8)), note
    if (counts := _counts(moves, goals, found, check)) is None:
        return None, note
    if keep:
        store(key, counts.data)
    return Table(tuple(found), counts), note


def _key(moves: Moves, goals: np.ndarray, pattern: Pattern) -> bytes:
    """What a table depends on: the moves, where goals show its pieces and the blank, and how they are dealt to coordinates."""
    told = (moves.blank.code, *(code for codes in pattern for code in codes))
    seen = np.unique(np.where(np.isin(goals, told), goals, np.uint8(FAR)), axis=0)
    return key_of(told, pattern, seen, moves.source, moves.blank.begin, moves.blank.end)


def _counts(moves: Moves, goals: np.ndarray, found: list[Coordinate], check: Check) -> np.ndarray | None:
    from oddswap.reasoning.search.pruning_kernels import flood, push

    back = moves.inverse
    tables = joined([*(np.argsort(c.steps, axis=0).astype(np.int32) for c in found), blank_steps(back)])
    sizes, slots = tables[0], goals.shape[1]
    counts, stack = np.full(int(np.prod(sizes)), FAR, dtype=np.uint8), np.empty(slots + 1, dtype=np.int64)
    firsts = [*(c.numbers(goals) for c in found), (goals == moves.blank.code).argmax(axis=1)]
    for index in np.ravel_multi_index(firsts, sizes):
        if counts[index] == FAR:
            flood(counts, index, 0, *tables, stack)
    for depth in range(FAR - 1):
        made = 0
        for begin in range(0, len(counts), CHUNK):
            check()
            made += push(counts, begin, min(begin + CHUNK, len(counts)), depth, *tables, stack)
        if not made:
            return counts.reshape(-1, slots).min(axis=1)
    return None


def joined(steps: list[np.ndarray]) -> tuple[np.ndarray, np.ndarray, np.ndarray, int]:
    """Tables of steps in a row, as the compiled loops take them: sizes, all steps, where each table begins, moves."""
    sizes = np.array([len(s) for s in steps], dtype=np.int64)
    starts = np.concatenate([[0], np.cumsum([s.size for s in steps])[:-1]]).astype(np.int64)
    return sizes, np.concatenate([s.reshape(-1) for s in steps]), starts, steps[0].shape[1]


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
