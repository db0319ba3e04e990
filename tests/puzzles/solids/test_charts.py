"""Charts of orbits: placements found by walking exact matrices, clockwise twists, and what no chart can hold."""

import numpy as np
import pytest

from oddswap.errors import BadSolid
from oddswap.puzzles.base.mechanism import DIRECTIONS, even_planes, grid_mechanism
from oddswap.puzzles.base.space import turn_matrix
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.solids.charts import chart, orbits, steps

NAMES = ["cube:2", "cube:3", "cube:4", "cuboid:2x3x4", "cuboid:1x1x4", "octahedron", "tetrahedron", "corner-cube"]


def charted(name):
    """The mechanism, the names of its cells as the puzzle has them, and a chart for each orbit."""
    puzzle = load(name)
    mechanism = puzzle.geometry.mechanism
    bodies = puzzle.geometry.bodies
    names = {b.cell: (slot, k.family) for b, slot, k in zip(bodies, puzzle.slots, puzzle.kind_of, strict=True)}
    return mechanism, names, [chart(orbit, names, mechanism) for orbit in orbits(names, mechanism)]


def walked(base, mechanism):
    """All (matrix, cell) that turns make of a piece at home in ``base``: by multiplying matrices, without the table."""
    moves = [(slab, turn_matrix(slab.axis, 2 * np.pi / slab.order)) for slab in mechanism.slabs]
    whole = [turn_matrix(axis, 2 * np.pi / order) for _, axis, order in mechanism.whole]
    found, queue = {}, [(np.eye(3), base)]
    while queue:
        matrix, cell = queue.pop()
        key = (tuple(np.round(matrix, 6).ravel() + 0.0), cell)
        if key not in found:
            found[key] = (matrix, cell)
            turning = [turn for slab, turn in moves if slab.holds(cell)] + whole
            for turn in turning:
                queue.append((turn @ matrix, mechanism.carry(cell, mechanism.rotations.index(turn))))
    return list(found.values())


@pytest.mark.parametrize("name", NAMES)
def test_a_chart_holds_every_placement_that_a_walk_finds_once(name):
    mechanism, _, charts = charted(name)
    for one in charts:
        found = walked(one.cells[0], mechanism)
        assert len(found) == len(one.placements) == len(one.cells) * one.twist
        there = {(mechanism.rotations.index(matrix), cell) for matrix, cell in found}
        cells = [cell for cell in one.cells for _ in range(one.twist)]
        assert there == set(zip(one.placements, cells, strict=True))


@pytest.mark.parametrize("name", NAMES)
def test_charts_are_the_kinds_in_their_order(name):
    mechanism, names, charts = charted(name)
    kinds = load(name).kinds
    assert [tuple(names[cell][0] for cell in one.cells) for one in charts] == [kind.slots for kind in kinds]
    assert [one.twist for one in charts] == [kind.twist for kind in kinds]
    for one in charts:
        assert all(mechanism.carry(one.cells[0], one.placements[i * one.twist]) == c for i, c in enumerate(one.cells))


@pytest.mark.parametrize("name", NAMES)
def test_a_twist_of_one_is_the_smallest_clockwise_turn_in_the_base_slot(name):
    """Clockwise as seen from outside: the rotation about the sum of the directions of the slot's faces.

    A piece with faces all round, as in a box of 1 by 1 by 4, is seen from the face that its layer is counted from.
    """
    mechanism, names, charts = charted(name)
    for one in charts:
        if one.twist > 2:
            faces, _, layers = names[one.cells[0]][0].partition(".")
            seen = faces if name != "cuboid:1x1x4" or not layers else layers.upper()
            outward = sum(mechanism.directions[letter] for letter in seen if letter in mechanism.directions)
            expected = turn_matrix(outward, 2 * np.pi / one.twist)
            back = mechanism.rotations.inverse[one.placements[0]]
            assert np.allclose(mechanism.rotations.matrices[mechanism.rotations.then[back, one.placements[1]]], expected)


@pytest.mark.parametrize("name", NAMES)
def test_each_slots_ways_round_are_the_bases_followed_by_one_rotation(name):
    mechanism, _, charts = charted(name)
    table = mechanism.rotations
    for one in charts:
        base = one.placements[: one.twist]
        for i in range(len(one.cells)):
            reference = table.then[table.inverse[base[0]], one.placements[i * one.twist]]
            assert [int(table.then[p, reference]) for p in base] == one.placements[i * one.twist : (i + 1) * one.twist]


@pytest.mark.parametrize("name", ["cube:2", "cube:3", "cube:4", "tetrahedron", "corner-cube"])
def test_without_a_twist_the_first_named_face_shows_first_wherever_it_can(name):
    mechanism, names, charts = charted(name)
    for one in charts:
        first = mechanism.directions[names[one.cells[0]][0][0]]
        placements = np.array(one.placements).reshape(-1, one.twist)
        for cell, ways in zip(one.cells, placements, strict=True):
            shows = mechanism.directions[names[cell][0][0]]
            kept = [bool(np.allclose(mechanism.rotations.matrices[way] @ first, shows)) for way in ways]
            assert kept[0] or not any(kept)


def test_orbits_of_half_turns_of_a_box():
    """In a box of 2 by 3 by 4 the eight corners fall into two orbits of four, as on a chessboard (common practice)."""
    mechanism, names, charts = charted("cuboid:2x3x4")
    corners = [{names[cell][0] for cell in one.cells} for one in charts if names[one.cells[0]][1] == "corners"]
    assert corners == [{"UFL", "UBR", "DFR", "DBL"}, {"UFR", "UBL", "DFL", "DBR"}]


def test_a_step_is_a_turn_of_a_slab_that_holds_the_cell_or_a_rotation_of_the_whole():
    mechanism, names, _ = charted("cube:2")
    cell = next(cell for cell, (slot, _) in names.items() if slot == "UFR")
    found = {(names[target][0], rotation) for target, rotation in steps(cell, mechanism)}
    assert {slot for slot, _ in found} == {"UFL", "UBR", "DFR"}, "U, F and R take it to one of its neighbours"
    assert all(mechanism.carry(cell, r) == target for target, r in steps(cell, mechanism))


def test_a_piece_that_turns_about_several_axes_in_its_slot_has_no_chart():
    """The cell in the middle of a cube of three slabs, when the whole cube may be turned."""
    mechanism = grid_mechanism(even_planes((3, 3, 3), 1 / 3), centres=False)
    middle = tuple(1 if offset < 0 else -1 for offset in mechanism.offsets)
    with pytest.raises(BadSolid, match="the placements at core are not turns about one axis"):
        chart([middle], {middle: ("core", "cores")}, mechanism)
    assert set(mechanism.directions) == set(DIRECTIONS)
