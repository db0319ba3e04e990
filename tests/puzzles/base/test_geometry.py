"""The bodies of the pieces: they fill the solid, bear its facets, and lie where an arrangement puts them."""

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from tests.common.rotated import rotations_of
from tests.common.vectors import VECTORS, position, quarter

SIDES = {"shape-mod:cube": 4, "shape-mod:prism3": 3, "shape-mod:prism5": 5, "shape-mod:prism8": 8}
NAMES = [
    "cube:2",
    "cube:3",
    "shape-mod:prism3",
    "shape-mod:prism5",
    "shape-mod:prism8",
    "shape-mod:prism8,cut=0.3333",
    "shape-mod:prism8,paint=FR+FL+BR+BL",
    "shape-mod:cube,axis=U,degrees=45",
    "shape-mod:cube,axis=URF,degrees=60",
    "shape-mod:cube,shift=0.05/0.1/0.16",
]


@pytest.mark.parametrize("name", NAMES)
def test_the_pieces_fill_the_solid_and_bear_its_facets(name):
    """A regular prism of inradius and half height 1 on n sides has sides of length 2 tan(π / n)."""
    geometry = load(name).geometry
    sides = SIDES.get(name.split(",")[0], 4)
    length = 2 * np.tan(np.pi / sides)
    faces = [face for body in (*geometry.bodies, *geometry.inner) for face in body.faces]
    assert np.isclose(sum(face.area * (face.normal @ face.centre) for face in faces) / 3, sides * length)
    assert {face.facet for face in faces} - {None} == set(geometry.facets)
    for facet, normal in geometry.facets.items():
        own = [face for face in faces if face.facet == facet]
        assert np.isclose(sum(face.area for face in own), sides * length / 2 if facet in "UD" else 2 * length)
        assert all(np.allclose(face.normal, normal) for face in own)


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_lies_in_its_cell(name):
    geometry = load(name).geometry
    planes = geometry.mechanism
    for body in (*geometry.bodies, *geometry.inner):
        for face in body.faces:
            assert ((face.vertices @ planes.normals.T - planes.offsets) * body.cell > -1e-9).all()


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_bears_a_facet_and_what_is_inside_bears_none(name):
    geometry = load(name).geometry
    assert all(any(face.facet for face in body.faces) for body in geometry.bodies)
    assert not any(face.facet for body in geometry.inner for face in body.faces)
    assert len(geometry.inner) == (0 if name == "cube:2" else 1)


def test_without_visible_centres_their_places_are_empty():
    geometry = load("cube:3,centres=none").geometry
    areas = {facet: 0.0 for facet in VECTORS}
    for body in geometry.bodies:
        for face in body.faces:
            if face.facet:
                areas[face.facet] += face.area
    assert np.allclose(list(areas.values()), 4 - 4 / 9)


@pytest.mark.parametrize("name", ["cube:2", "cube:3,centres=marked"])
def test_an_arrangement_puts_each_piece_where_the_turns_have_taken_it(name):
    puzzle = load(name)
    rng = np.random.default_rng(5)
    moves = rng.choice(list("UDFBLR"), size=40)
    matrices = {b: np.eye(3, dtype=int) for b in range(len(puzzle.slots))}
    for face in moves:
        for piece, matrix in matrices.items():
            if matrix @ position(puzzle.slots[piece]) @ VECTORS[face] == 1:
                matrices[piece] = quarter(face) @ matrix
    state = puzzle.follow(" ".join(moves))
    for slot, (piece, rotation) in enumerate(rotations_of(puzzle, state)):
        assert np.allclose(puzzle.geometry.mechanism.rotations.matrices[rotation], matrices[piece])
        assert tuple(matrices[piece] @ position(puzzle.slots[piece])) == position(puzzle.slots[slot])
