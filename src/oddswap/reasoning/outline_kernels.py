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
