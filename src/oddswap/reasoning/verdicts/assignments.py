"""Counting the ways to put pieces into slots where each may go only to some places, by sign and by sum of twists.

Method. The ways are counted by a dynamic programme over the slots, whose state is the set of pieces used so far and whose
value lies in the group ring Z[C_2 × C_m]: inversion parity and sum of twists. Pieces that may go to the same places are one
class, and only numbers of them are remembered; as two of them can be exchanged, both signs then come equally often. Slots that
allow the same pieces may play the part of the pieces, where that makes fewer states. Sets of pieces that can change places only
among themselves are counted apart.
"""

from collections.abc import Iterable, Sequence
from math import factorial, prod

import numpy as np

from oddswap.reasoning.budget import Clock, Finding, Limit, cached, started
from oddswap.values.orbits import gathered
from oddswap.values.permutation import sign

MOST_STATES = 1 << 18
"""So many sets of used pieces are told apart at most."""
SLOW = 1 << 10
"""With more than so many the time is looked at between two slots."""

Allowed = Sequence[Sequence[frozenset[int]]]
"""``allowed[i][b]``: the twists with which piece i may sit in slot b."""


class TooManyStates(Finding):
    """Why nothing was counted: there are at least so many states."""

    states: int


class CountingEnded(Finding):
    """Why nothing was counted: the budget ended."""


NotCounted = TooManyStates | CountingEnded


class TooManyToCount(Exception):
    """The states of the dynamic programme, or classes, are too many for counting or the time; its argument is the finding why."""


def count_assignments(allowed: Allowed, twist: int, budget: Limit = None) -> np.ndarray:
    """How many ways there are, by sign (0 even, 1 odd) and sum of twists mod ``twist``: exact integers, shape (2, twist).

    `TooManyToCount` where the sets of used pieces are more than ``MOST_STATES``, or the budget ends.

    >>> free = [[frozenset((0, 1))] * 3] * 3
    >>> count_assignments(free, 2).tolist()
    [[12, 12], [12, 12]]
    """
    return _counted(tuple(map(tuple, allowed)), twist, started(budget)).copy()


def keep_counting(clock: Clock) -> None:
    """Raise `TooManyToCount` where a clock is spent."""
    if clock.spent:
        raise TooManyToCount(CountingEnded())


@cached(1 << 12)
def _counted(allowed: tuple[tuple[frozenset[int], ...], ...], twist: int, clock: Clock) -> np.ndarray:
    table = [[frozenset(t % twist for t in ways) for ways in row] for row in allowed]
    matching = perfect_matching([[b for b, ways in enumerate(row) if ways] for row in table])
    if matching is None:
        return np.zeros((2, twist), dtype=object)
    total = np.zeros((2, twist), dtype=object)
    total[int(sign(matching) < 0), 0] = 1
    for pieces in _changing_places(table, matching):
        slots = [matching[i] for i in pieces]
        total = _convolved(total, _component([[table[i][b] for b in slots] for i in pieces], twist, clock))
    return total


def perfect_matching(fits: Sequence[Sequence[int]]) -> list[int] | None:
    """A slot for each piece, all different, from those that fit it; the first ones where possible (augmenting paths)."""
    taken: dict[int, int] = {}

    def place(piece: int, tried: set[int]) -> bool:
        for slot in fits[piece]:
            if slot not in tried:
                tried.add(slot)
                if slot not in taken or place(taken[slot], tried):
                    taken[slot] = piece
                    return True
        return False

    if not all(place(piece, set()) for piece in range(len(fits))):
        return None
    return [slot for slot, _ in sorted(taken.items(), key=lambda pair: pair[1])]


def _changing_places(table: list[list[frozenset[int]]], matching: list[int]) -> list[list[int]]:
    """The pieces in sets of which each keeps its own slots in every assembly.

    A piece leads to another if it fits that one's slot; those that lead to each other, step by step, are one set.
    """
    leads = np.array([[bool(row[b]) for b in matching] for row in table])
    for _ in range(len(table).bit_length()):  # each time twice as many steps
        leads = leads @ leads
    mutual = leads & leads.T
    return [np.flatnonzero(mutual[first]).tolist() for first in np.unique(mutual.argmax(axis=1))]


def components(touched: Iterable[set]) -> list[list[int]]:
    """The numbers of those that hang together, given what each touches.

    >>> components([{"a"}, {"b"}, {"a", "c"}])
    [[1], [0, 2]]
    """
    found: list[tuple[list[int], set]] = []
    for number, reach in enumerate(touched):
        numbers = [number]
        for other in [part for part in found if not part[1].isdisjoint(reach)]:
            found.remove(other)
            numbers, reach = other[0] + numbers, reach | other[1]
        found.append((numbers, reach))
    return [numbers for numbers, _ in found]


def _component(table: list[list[frozenset[int]]], twist: int, clock: Clock) -> np.ndarray:
    """The same for one component; row i and column i belong together in the matching that counts as even."""
    columns = [list(column) for column in zip(*table, strict=True)]
    by_pieces, by_slots = _classes(table), _classes(columns)
    mixed = len(by_pieces) < len(table) or len(by_slots) < len(table)
    if _states(by_slots) < _states(by_pieces):
        table, by_pieces = columns, by_slots
    counted = _programme(table, by_pieces, twist, 1 if mixed else 2, clock)
    if not mixed:
        return counted
    half = counted // 2
    return np.concatenate([half, half])


def _classes(table: list[list[frozenset[int]]]) -> list[list[int]]:
    """The rows that are alike, together."""
    return list(gathered(range(len(table)), lambda i: tuple(table[i])).values())


def _states(classes: list[list[int]]) -> int:
    return prod(len(members) + 1 for members in classes)


def _programme(table: list[list[frozenset[int]]], classes: list[list[int]], twist: int, signs: int, clock: Clock) -> np.ndarray:
    """Slot by slot (column by column); a state says how many of each class are used. Shape (signs, twist)."""
    size = _states(classes)
    if size > MOST_STATES:
        raise TooManyToCount(TooManyStates(size))
    count = len(table)
    kind = np.int64 if factorial(count) * twist**count < 2**62 else object
    weights = np.cumprod([1, *(len(members) + 1 for members in classes[:-1])])
    states, values = np.zeros(1, dtype=np.int64), np.zeros((1, signs, twist), dtype=kind)
    values[0, 0, 0] = 1
    for b in range(count):
        if len(states) > SLOW:
            keep_counting(clock)
        reached, gained = [], []
        for c, members in enumerate(classes):
            ways = table[members[0]][b]
            used = states // weights[c] % (len(members) + 1)
            able = used < len(members)
            if not ways or not able.any():
                continue
            part = values[able] * (len(members) - used[able]).astype(kind)[:, None, None]
            part = sum(np.roll(part, t, axis=2) for t in ways)
            if signs == 2:
                later = sum(states[able] // weights[d] % 2 for d in range(c + 1, len(classes)))
                odd = np.broadcast_to(np.asarray(later) % 2 == 1, len(part))
                part[odd] = part[odd][:, ::-1]
            reached.append(states[able] + weights[c])
            gained.append(part)
        if not reached:
            return np.zeros((signs, twist), dtype=object)
        states, where = np.unique(np.concatenate(reached), return_inverse=True)
        values = np.zeros((len(states), signs, twist), dtype=kind)
        np.add.at(values, where, np.concatenate(gained))
    return values[0].astype(object)


def _convolved(one: np.ndarray, other: np.ndarray) -> np.ndarray:
    """The product in the group ring of C_2 × C_m."""
    result = np.zeros_like(one)
    for s, t in np.argwhere(one):
        result = result + one[s, t] * np.roll(other, (s, t), axis=(0, 1))
    return result
