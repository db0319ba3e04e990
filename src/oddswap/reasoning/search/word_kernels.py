"""Compiled inner loops: the hashes at the ends of reduced words, and a set of hashes.

Importing this file imports numba and, the first time on a machine, compiles for some seconds; the compiled code is kept.
So it is imported only where a search goes beyond its exact levels.

The set is a field of bits, three to a hash and in one word, which turns away 99 of 100 questions at once (B. H. Bloom,
Comm. ACM 13 (1970) 422-426), and an open-addressed table of 32-bit remainders. A hash that was put in is always
found; another may be found by mistake, about once in 2**32 questions.
"""

import numpy as np
from numba import njit

from oddswap.reasoning.search.compiled_kernel import compiled

FULL = 0.6
"""How full the table may get."""


@compiled
def word_ends(rows, hashes, last, length, follow, follows, source, lut, moved, changes, out):
    """Fill ``out`` with the hashes after all reduced words of ``length`` >= 1 from each row, depth first.

    ``follow[last, :follows[last]]`` are the moves that may come next; the other tables are those of `Moves`.
    Returns how many there are.
    """
    slots, width = rows.shape[1], moved.shape[1]
    state = np.empty((length, slots), np.uint8)
    hash_at = np.empty(length, np.uint64)
    last_at = np.empty(length, np.int64)
    next_at = np.empty(length, np.int64)
    filled = 0
    for root in range(rows.shape[0]):
        state[0] = rows[root]
        hash_at[0] = hashes[root]
        last_at[0] = last[root]
        next_at[0] = 0
        depth = 0
        while depth >= 0:
            before = last_at[depth]
            if next_at[depth] == follows[before]:
                depth -= 1
                continue
            move = follow[before, next_at[depth]]
            next_at[depth] += 1
            total = hash_at[depth]
            for j in range(width):
                total += changes[move, j, state[depth, moved[move, j]]]
            if depth == length - 1:
                out[filled] = total
                filled += 1
                continue
            depth += 1
            hash_at[depth] = total
            last_at[depth] = move
            next_at[depth] = 0
            for b in range(slots):
                state[depth, b] = lut[move, b, state[depth - 1, source[move, b]]]
    return filled


@njit(inline="always")
def _scaled(value, size):
    """A number below 2**32 scaled down to 0 … size - 1."""
    return np.int64((value * np.uint64(size)) >> np.uint64(32))


@njit(inline="always")
def _low(value):
    return value & np.uint64(0xFFFFFFFF)


@njit(inline="always")
def _three_bits(value):
    six, one = np.uint64(63), np.uint64(1)
    return one << (value >> np.uint64(58)) | one << (value >> np.uint64(52) & six) | one << (value >> np.uint64(46) & six)


@njit(inline="always")
def _remainder(value):
    return max(np.uint32(_low(value)), np.uint32(1))


@njit(inline="always")
def _place(table, value):
    """Where a hash is in the table, or the free place where it would go."""
    place, remainder = _scaled(value >> np.uint64(32), table.size), _remainder(value)
    while table[place] != 0 and table[place] != remainder:
        place += 1
        if place == table.size:
            place = 0
    return place


@compiled
def put_in(bits, table, hashes):
    for value in hashes:
        bits[_scaled(_low(value), bits.size)] |= _three_bits(value)
        table[_place(table, value)] = _remainder(value)


@compiled
def look_up(bits, table, hashes, found):
    """Write the places of those hashes that the set holds into ``found``; returns how many there are."""
    likely = 0
    for i in range(hashes.size):
        pattern = _three_bits(hashes[i])
        found[likely] = i
        likely += np.int64(bits[_scaled(_low(hashes[i]), bits.size)] & pattern == pattern)
    held = 0
    for i in found[:likely]:
        if table[_place(table, hashes[i])]:
            found[held] = i
            held += 1
    return held


class HashSet:
    """A set of at most ``size`` 64-bit hashes, in ``HashSet.bytes_for(size)`` bytes: 8.7 for each."""

    def __init__(self, size: int):
        places, words = self._shape(size)
        self.table = np.zeros(places, dtype=np.uint32)
        self.bits = np.zeros(words, dtype=np.uint64)

    @staticmethod
    def _shape(size: int) -> tuple[int, int]:
        return int(size / FULL) + 2, size // 4 + 1

    @classmethod
    def bytes_for(cls, size: int) -> int:
        places, words = cls._shape(size)
        return 4 * places + 8 * words

    def add(self, hashes: np.ndarray) -> None:
        put_in(self.bits, self.table, hashes)

    def places_of(self, hashes: np.ndarray) -> np.ndarray:
        """The places in ``hashes`` of those that the set holds."""
        found = np.empty(len(hashes) + 1, dtype=np.int64)
        return found[: look_up(self.bits, self.table, hashes, found)]
