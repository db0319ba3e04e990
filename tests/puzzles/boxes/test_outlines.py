"""Cells that hang together by faces, against powers of their adjacency matrix."""

from itertools import product

import numpy as np

from oddswap.puzzles.boxes.outlines import extended, in_one_body, touching

PLACES = tuple(product((-1, 1), (-1, 1), (-2, 0, 2)))


def test_all_4096_sets_of_cells_of_a_small_grid_hang_together_where_every_cell_reaches_every_other():
    at = np.array(PLACES)
    near = (np.abs(at[:, None] - at).sum(axis=2) == 2).astype(int)
    sets = np.array(list(product((False, True), repeat=len(PLACES))))[1:]
    expected = []
    for cells in sets:
        within = near[np.ix_(cells, cells)] + np.eye(cells.sum(), dtype=int)
        expected.append(bool((np.linalg.matrix_power(within, 11) > 0).all()))
    table = touching(PLACES)
    bits = np.packbits(np.array(sets, dtype=bool).T, axis=1)
    assert np.unpackbits(in_one_body(bits, table), count=len(sets)).astype(bool).tolist() == expected


def test_the_grid_has_the_longest_side_of_each_parity():
    assert [extended(s) for s in ((1, 3, 5), (2, 3, 4), (2, 2, 6), (3, 3, 4))] == [(5, 5, 5), (4, 3, 4), (6, 6, 6), (3, 3, 4)]
