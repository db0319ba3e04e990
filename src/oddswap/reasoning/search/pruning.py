"""Lower bounds from tables: how many slides of a few pieces it takes at least to bring them to a goal, whatever the others do.

Each slide moves one piece, so the counts of tables that share no piece add up (R. E. Korf, A. Felner, Artif. Intell. 134
(2002) 9-22; tables of parts of a state: J. C. Culberson, J. Schaeffer, Comput. Intell. 14 (1998) 318-334). A count is found
breadth first from the goals, over the places of the pieces and of the blank; slides of other pieces cost nothing.
"""

from dataclasses import dataclass
from math import comb, prod

import numpy as np

from oddswap.reasoning.search.coordinates import FAR, NOWHERE, Coordinate, blank_steps, coordinate
from oddswap.reasoning.search.findings import ThrownAway
from oddswap.reasoning.search.kept_files import fetch, key_of, store
from oddswap.reasoning.search.levels import Check
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
    counts = _counts(moves, goals, found, check)
    if counts is None:
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
