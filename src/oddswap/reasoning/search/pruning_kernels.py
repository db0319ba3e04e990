"""Compiled inner loops: counts over a product of coordinates, and words that tables of counts do not exclude.

``sizes`` are the numbers of states of the coordinates, ``steps`` all their tables of steps, one after another, each with a
row of ``moves`` entries for each state; ``starts`` says where each begins. A negative step cannot be made.
"""

import numpy as np
from numba import njit

from oddswap.reasoning.search.compiled_kernel import compiled
from oddswap.reasoning.search.coordinates import FAR


@njit(inline="always")
def _apart(index, sizes, at):
    for k in range(sizes.size - 1, -1, -1):
        at[k] = index % sizes[k]
        index //= sizes[k]


@njit(inline="always")
def _after(at, move, sizes, steps, starts, moves):
    """The number of the state after a move, or -1. The last coordinate, the blank's, is asked first: most moves end there."""
    last = sizes.size - 1
    blank = steps[starts[last] + at[last] * moves + move]
    if blank < 0:
        return -1
    index = 0
    for k in range(last):
        index = index * sizes[k] + steps[starts[k] + at[k] * moves + move]
    return index * sizes[last] + blank


@compiled
def flood(counts, index, depth, sizes, steps, starts, moves, stack):
    """Mark a state, and all that moves of the blank alone join to it. Returns how many."""
    at, width = np.empty(sizes.size, np.int64), sizes[-1]
    counts[index] = depth
    stack[0] = index
    high, made = 1, 1
    while high:
        high -= 1
        index = stack[high]
        _apart(index, sizes, at)
        for move in range(moves):
            following = _after(at, move, sizes, steps, starts, moves)
            if following >= 0 and following // width == index // width and counts[following] == FAR:
                counts[following] = depth
                stack[high] = following
                high += 1
                made += 1
    return made


@compiled
def push(counts, begin, end, depth, sizes, steps, starts, moves, stack):
    """Mark what lies one move, undone, and any moves of the blank alone beyond the states of a depth. Returns how many."""
    at, made = np.empty(sizes.size, np.int64), 0
    for index in range(begin, end):
        if counts[index] == depth:
            _apart(index, sizes, at)
            for move in range(moves):
                following = _after(at, move, sizes, steps, starts, moves)
                if following >= 0 and counts[following] == FAR:
                    made += flood(counts, following, depth + 1, sizes, steps, starts, moves, stack)
    return made


@njit(inline="always")
def _near(at, move, after, left, shape, sizes, steps, starts, moves, counts, offsets):
    """Write the numbers after a move; whether it may be at most ``left`` moves from a goal.

    ``shape[t]`` is the first coordinate of table t, ``offsets[t]`` where its counts begin.
    """
    total = 0
    for t in range(offsets.size):
        index = 0
        for k in range(shape[t], shape[t + 1]):
            step = steps[starts[k] + at[k] * moves + move]
            after[k] = step
            index = index * sizes[k] + step
        total += counts[offsets[t] + index]
        if total > left:
            return False
    return True


@compiled
def deepen(
    where, at, last, tried, roots, root_last, length, most, follow, follows, shape, sizes, steps, starts, moves, counts, offsets
):
    """Walk on, depth first, all reduced words of ``length`` moves that the tables do not exclude, from each root in turn.

    ``where`` = (next root, depth, words made) and ``at``, ``last``, ``tried`` (a row for each depth) say where the walk stands.
    It pauses after ``most`` moves, and at each word's end: 0 all done, 1 paused, 2 a word that the tables let through, whose
    moves stand in ``last`` from place 1 on.
    """
    made, depth = 0, where[1]
    while True:
        if depth < 0:
            if where[0] == roots.shape[0]:
                where[2] += made
                return 0
            at[0] = roots[where[0]]
            last[0] = root_last[where[0]]
            tried[0] = 0
            where[0] += 1
            depth = 0
        before = last[depth]
        if depth == length or tried[depth] == follows[before]:
            depth -= 1
            continue
        if made >= most:
            where[1] = depth
            where[2] += made
            return 1
        move = follow[before, tried[depth]]
        tried[depth] += 1
        made += 1
        if _near(at[depth], move, at[depth + 1], length - depth - 1, shape, sizes, steps, starts, moves, counts, offsets):
            depth += 1
            last[depth] = move
            tried[depth] = 0
            if depth == length:
                where[1] = depth
                where[2] += made
                return 2
