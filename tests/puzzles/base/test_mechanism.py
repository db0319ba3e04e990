"""Cells and slabs, against integer grids: cell (i, j, k) of an n × n × n box has its centre at 2i - n + 1 and so on."""

from collections import Counter
from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from oddswap.errors import BadSolid
from oddswap.puzzles.base.mechanism import DIRECTIONS, even_planes, grid_mechanism

FAMILIES = {  # counts of the grid's surface cells, by hand
    2: {"corners": 8},
    3: {"corners": 8, "edges": 12, "centres": 6},
    4: {"corners": 8, "wings": 24, "diagonal centres": 24},
    5: {"corners": 8, "edges": 12, "wings": 24, "centres": 6, "diagonal centres": 24, "T-centres": 24},
    6: {"corners": 8, "wings": 48, "diagonal centres": 48, "oblique centres": 48},
    7: {"corners": 8, "edges": 12, "wings": 48, "centres": 6, "diagonal centres": 48, "T-centres": 48, "oblique centres": 48},
}


def cube(n):
    """The n × n × n grid inside the cube of half-edge 1, so that its cells are 2 / n wide."""
    return grid_mechanism(even_planes((n, n, n), (n - 2) / n))


def cell_of(point, mechanism):
    """The cell of a point that lies on no plane."""
    return tuple(int(np.sign(d)) for d in mechanism.normals @ point - mechanism.offsets)


def cells(n):
    """The integer centres of all cells of a grid, with the cells."""
    mechanism = cube(n)
    for centre in product(range(1 - n, n, 2), repeat=3):
        yield np.array(centre), cell_of(np.array(centre) / n, mechanism)


@pytest.mark.parametrize("n", FAMILIES)
def test_slots_have_names_of_their_own_and_fall_into_families(n):
    mechanism = cube(n)
    named = [mechanism.name_cell(cell, None) for _, cell in cells(n)]
    assert named.count(("", "")) == max(n - 2, 0) ** 3
    shown = [name for name, _ in named if name]
    assert len(set(shown)) == len(shown)
    assert Counter(family for name, family in named if name) == FAMILIES[n]


@pytest.mark.parametrize(
    "n, centre, name, family",
    [
        (3, (2, 2, 2), "UFR", "corners"),
        (3, (-2, 2, -2), "UBL", "corners"),
        (3, (-2, 0, 2), "FL", "edges"),
        (3, (0, -2, 0), "D", "centres"),
        (4, (-3, 1, 3), "FL.u2", "wings"),
        (4, (-3, -1, 3), "FL.d2", "wings"),
        (4, (1, 3, -1), "U.b2r2", "diagonal centres"),
        (5, (0, 4, 2), "U.f2", "T-centres"),
        (5, (0, 4, 4), "UF", "edges"),
        (5, (2, 4, 4), "UF.r2", "wings"),
        (6, (3, 5, -1), "U.b3r2", "oblique centres"),
    ],
)
def test_names_count_layers_from_the_nearer_face(n, centre, name, family):
    """Layers from the nearer named face, in lower case; the faces in the order U D F B L R."""
    mechanism = cube(n)
    assert mechanism.name_cell(cell_of(np.array(centre) / n, mechanism), None) == (name, family)


@pytest.mark.parametrize("counts", [(2, 2, 2), (3, 3, 3), (4, 4, 4), (2, 2, 3), (3, 4, 3)])
def test_cells_are_carried_as_their_points_are(counts):
    mechanism = grid_mechanism(even_planes(counts, (max(counts) - 2) / max(counts) or 0.5))
    rng = np.random.default_rng(3)
    for point in rng.uniform(-1, 1, size=(60, 3)):
        cell = cell_of(point, mechanism)
        for r, matrix in enumerate(mechanism.rotations.matrices):
            assert mechanism.carry(cell, r) == cell_of(matrix @ point, mechanism)


@pytest.mark.parametrize(
    "counts, turns",
    [
        ((2, 2, 2), {face: (1, 4) for face in "UDFBLR"}),
        ((3, 3, 3), {face: (1, 4) for face in "UDFBLR"}),
        ((4, 4, 4), {face: (2, 4) for face in "UDFBLR"}),
        ((5, 5, 5), {face: (2, 4) for face in "UDFBLR"}),
        ((2, 3, 2), {"U": (1, 4), "D": (1, 4), **{face: (1, 2) for face in "FBLR"}}),
        ((2, 3, 4), {"U": (1, 2), "D": (1, 2), "F": (2, 2), "B": (2, 2), "L": (1, 2), "R": (1, 2)}),
    ],
)
def test_each_face_turns_its_slabs_down_to_the_middle_one(counts, turns):
    """(slabs that turn, turns to the circle) for each face; the middle slab of an odd number stays."""
    mechanism = grid_mechanism(even_planes(counts, 1 / 3))
    found = {}
    for slab in mechanism.slabs:
        found[slab.face] = (max(slab.depth, found.get(slab.face, (0, 0))[0]), slab.order)
    assert found == turns


@pytest.mark.parametrize("n", [2, 3, 4, 5])
def test_a_slab_holds_the_cells_of_one_layer(n):
    for slab in cube(n).slabs:
        for centre, cell in cells(n):
            assert slab.holds(cell) == (centre @ DIRECTIONS[slab.face] == n + 1 - 2 * slab.depth)


@pytest.mark.parametrize(
    "counts, centres, free",
    [
        ((3, 3, 3), True, False),
        ((3, 3, 3), False, True),
        ((2, 2, 2), True, True),
        ((4, 4, 4), True, True),
        ((5, 5, 5), True, False),
        ((3, 4, 3), True, True),
    ],
)
def test_the_holding_is_free_where_no_centre_fixes_it(counts, centres, free):
    mechanism = grid_mechanism(even_planes(counts, 1 / 3), centres=centres)
    assert bool(mechanism.whole) == free
    if counts == (3, 4, 3):
        assert {name: order for name, _, order in mechanism.whole} == {"x": 2, "y": 4, "z": 2}


def test_cuts_that_a_turn_takes_elsewhere_are_refused():
    mechanism = grid_mechanism(even_planes((3, 3, 3), 1 / 3))
    crooked = replace(mechanism, offsets=mechanism.offsets + [0, 0, 0, 0.1, 0, 0])
    with pytest.raises(BadSolid, match="do not come back"):
        for r in range(len(crooked.rotations)):
            crooked.carry((1,) * 6, r)
