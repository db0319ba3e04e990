"""Compiled inner loops of boxes that change shape: turning packed states, and whether their filled cells hang together.

Importing it imports numba.
"""

import numpy as np

from oddswap.reasoning.search.compiled_kernel import compiled


@compiled
def turned(rows, source, lut):
    """The states after a move: slot b shows ``lut[b, c]`` when slot ``source[b]`` showed c; uint8 (n, slots)."""
    after = np.empty_like(rows)
    for r in range(rows.shape[0]):
        for b in range(rows.shape[1]):
            after[r, b] = lut[b, rows[r, source[b]]]
    return after


@compiled
def hashes_after(rows, hashes, moved, changes):
    """The hashes after a move, to which slot ``moved[j]`` adds ``changes[j, c]`` when it showed c: uint64 (n,)."""
    after = hashes.copy()
    for r in range(rows.shape[0]):
        for j in range(moved.shape[0]):
            after[r] += changes[j, rows[r, moved[j]]]
    return after


@compiled
def hang_together(rows, solid, neighbours):
    """Whether each state's cells are one body: bool (n,). Cells beyond the slots of a row are always filled.

    Of 64 states at once, of which each has one bit of a word: what is reached spreads from the first filled cell of each to
    neighbours that are filled, as long as anything grows. The last word stands for no cell.
    """
    slots, cells = rows.shape[1], neighbours.shape[0]
    filled = np.zeros(cells + 1, np.uint64)
    reached = np.zeros(cells + 1, np.uint64)
    good = np.empty(rows.shape[0], np.bool_)
    one = np.uint64(1)
    for first in range(0, rows.shape[0], 64):
        part = rows[first : first + 64]
        for b in range(cells):
            word = np.uint64(0)
            for r in range(part.shape[0]):
                word |= np.uint64(b >= slots or solid[b, part[r, b]]) << np.uint64(r)
            filled[b] = word
        begun = np.uint64(0)
        for b in range(cells):
            reached[b] = filled[b] & ~begun
            begun |= filled[b]
        grows = True
        while grows:
            grows = False
            for b in range(cells):
                near = reached[b]
                for k in range(6):
                    near |= reached[neighbours[b, k]]
                near &= filled[b]
                grows |= near != reached[b]
                reached[b] = near
        apart = np.uint64(0)
        for b in range(cells):
            apart |= filled[b] & ~reached[b]
        for r in range(part.shape[0]):
            good[first + r] = not (apart >> np.uint64(r)) & one
    return good


@compiled
def readings(rows, orbit, rank, pieces, folded, sizes, twisted, by, ways):
    """The number of each state's reading: int64 (n,); see `oddswap.reasoning.opening.frames`.

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
