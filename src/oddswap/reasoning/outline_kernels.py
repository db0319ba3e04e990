"""Compiled inner loop: whether the filled cells of packed states hang together. Importing it imports numba."""

import numpy as np
from numba import njit


@njit(cache=True, nogil=True)
def hang_together(rows, solid, neighbours):
    """Whether each state's cells are one body: bool (n,). Cells beyond the slots of a row are always filled."""
    slots, cells = rows.shape[1], neighbours.shape[0]
    good = np.empty(rows.shape[0], np.bool_)
    left = np.empty(cells, np.bool_)
    queue = np.empty(cells, np.int64)
    for r in range(rows.shape[0]):
        filled = 0
        first = -1
        for b in range(cells):
            left[b] = b >= slots or solid[b, rows[r, b]]
            if left[b]:
                filled += 1
                first = b
        count = 1
        queue[0] = first
        left[first] = False
        done = 0
        while done < count:
            for k in range(6):
                other = neighbours[queue[done], k]
                if other >= 0 and left[other]:
                    left[other] = False
                    queue[count] = other
                    count += 1
            done += 1
        good[r] = count == filled
    return good


@njit(cache=True, nogil=True)
def readings(rows, orbit, rank, pieces, folded, sizes, twisted, by, ways):
    """The number of each state's reading: int64 (n,); see `oddswap.reasoning.excursions`.

    ``orbit[b, c]`` is the orbit (-1: none) and ``rank[b, c]`` the place in it of the piece that slot b holds when it shows c.
    Of four or fewer a reading is its place in the order of all permutations, of more its sign; ``folded[o]`` renumbers it.
    ``twisted[b, c]`` is the twist sum (-1: none) to which slot b adds ``by[b, c]`` when it shows c, modulo ``ways``.
    """
    numbers = np.zeros(rows.shape[0], np.int64)
    orbits = pieces.shape[0]
    most = 1
    for o in range(orbits):
        most = max(most, pieces[o])
    found = np.zeros((orbits, most), np.int64)
    filled = np.zeros(orbits, np.int64)
    sums = np.zeros(ways.shape[0], np.int64)
    for r in range(rows.shape[0]):
        filled[:] = 0
        for b in range(rows.shape[1]):
            o = orbit[b, rows[r, b]]
            if o >= 0 and filled[o] < pieces[o]:
                found[o, filled[o]] = rank[b, rows[r, b]]
                filled[o] += 1
        for o in range(orbits):
            number = 0
            for i in range(filled[o]):
                smaller = 0
                for j in range(i + 1, filled[o]):
                    smaller += found[o, j] < found[o, i]
                number = number * (filled[o] - i) + smaller if pieces[o] <= 4 else number ^ (smaller & 1)
            numbers[r] = numbers[r] * sizes[o] + folded[o, number]
        sums[:] = 0
        for b in range(rows.shape[1]):
            w = twisted[b, rows[r, b]]
            if w >= 0:
                sums[w] += by[b, rows[r, b]]
        for w in range(ways.shape[0]):
            numbers[r] = numbers[r] * ways[w] + sums[w] % ways[w]
    return numbers
