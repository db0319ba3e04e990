"""Cutting, against volumes and areas of solids that geometry books give, Euler's formula, and what must add up."""

from itertools import product

import numpy as np
import pytest

from oddswap.puzzles.base.space import EPS, box, from_half_spaces, split

SIGNS = list(product((1, -1), repeat=3))


def unit(vector):
    return np.array(vector) / np.linalg.norm(vector)


def solid(normals, offset):
    return from_half_spaces((str(i), unit(n), offset) for i, n in enumerate(normals))


SOLIDS = {
    # name: (normals, inradius, volume, faces, vertices); volumes from the edge-length formulas, memory
    "cube": ([*np.eye(3), *-np.eye(3)], 1.0, 8.0, 6, 8),
    "tetrahedron": ([s for s in SIGNS if np.prod(s) > 0], 1 / 3**0.5, 8 / 3, 4, 4),
    "octahedron": (SIGNS, 1 / 3**0.5, 4 / 3, 8, 6),
    "rhombic dodecahedron": ([v for v in product((-1, 0, 1), repeat=3) if np.abs(v).sum() == 2], 2**-0.5, 2.0, 12, 14),
    "octagonal prism": (
        [(0, 1, 0), (0, -1, 0), *((np.sin(a), 0, np.cos(a)) for a in np.arange(8) * np.pi / 4)],
        1.0,
        16 * np.tan(np.pi / 8),
        10,
        16,
    ),
}


def corners(body):
    return np.unique(np.round(body.vertices, 7) + 0.0, axis=0)


def check(body):
    """Closed, convex, its faces flat and facing outwards."""
    edges = sum(len(face.vertices) for face in body.faces) / 2
    assert len(corners(body)) - edges + len(body.faces) == 2
    middle = corners(body).mean(axis=0)
    for face in body.faces:
        heights = body.vertices @ face.normal
        assert np.isclose(heights.max(), face.centre @ face.normal)
        assert np.abs((face.vertices - face.centre) @ face.normal).max() < 1e-9
        assert (face.centre - middle) @ face.normal > 0
    assert np.allclose(sum(face.area * face.normal for face in body.faces), 0)


@pytest.mark.parametrize("name", SOLIDS)
def test_half_spaces_give_the_solid(name):
    normals, inradius, volume, faces, vertices = SOLIDS[name]
    body = solid(normals, inradius)
    check(body)
    assert np.isclose(body.volume, volume) and len(body.faces) == faces and len(corners(body)) == vertices
    assert np.isclose(body.thickness, inradius)
    assert sorted(int(face.facet) for face in body.faces) == list(range(faces))
    for face in body.faces:
        assert np.allclose(face.normal, unit(normals[int(face.facet)]))


@pytest.mark.parametrize("name", SOLIDS)
def test_both_parts_of_a_cut_add_up(name):
    rng = np.random.default_rng(1)
    body = solid(*SOLIDS[name][:2])
    for _ in range(20):
        normal, offset = unit(rng.normal(size=3)), rng.uniform(-0.3, 0.3)
        below, beyond = split(body, normal, offset)
        for part in (below, beyond):
            check(part)
        assert np.isclose(below.volume + beyond.volume, body.volume)
        caps = [[face for face in part.faces if face.facet is None] for part in (below, beyond)]
        assert [len(c) for c in caps] == [1, 1] and np.isclose(caps[0][0].area, caps[1][0].area)
        assert np.allclose(caps[0][0].normal, normal) and np.allclose(caps[1][0].normal, -normal)
        for facet in {face.facet for face in body.faces}:
            areas = [sum(f.area for f in part.faces if f.facet == facet) for part in (body, below, beyond)]
            assert np.isclose(areas[0], areas[1] + areas[2])


@pytest.mark.parametrize(
    "normal, offset, volumes, faces",
    [
        ((1, 0, -1), 0.0, (4, 4), (5, 5)),  # through two opposite edges
        ((1, 1, 1), 3**-0.5, (20 / 3, 4 / 3), (7, 4)),  # through three corners
        ((1, 1, 0), 0.0, (4, 4), (5, 5)),
        ((1, 2, 0), 5**-0.5, (6, 2), (6, 5)),  # through one edge
    ],
)
def test_a_cut_exactly_through_edges_or_corners_leaves_no_splinters(normal, offset, volumes, faces):
    parts = split(box(1.0), unit(normal), offset)
    for part, volume, count in zip(parts, volumes, faces, strict=True):
        check(part)
        assert np.isclose(part.volume, volume) and len(part.faces) == count


@pytest.mark.parametrize("normal", [(1, 0, 0), (1, 1, 0), (1, 1, 1)])
@pytest.mark.parametrize("shift", [0.0, EPS / 2, -EPS / 2])
def test_a_plane_that_only_touches_cuts_nothing(normal, shift):
    body, reach = box(1.0), np.abs(normal).sum() / np.linalg.norm(normal)
    below, beyond = split(body, unit(normal), reach + shift)
    assert below is body and beyond is None
    below, beyond = split(body, unit(normal), -reach - shift)
    assert below is None and beyond is body


@pytest.mark.parametrize("depth", [1e-2, 1e-4, 1e-6, 1e-7, 3e-8, 1e-8, 2e-9])
@pytest.mark.parametrize("normal", [(1, 0, 0), (1, 1, 0), (1, 1, 1), (3, 1, 0.01)])
def test_a_crumb_is_cut_off_without_upset_however_small(normal, depth):
    reach = np.abs(normal).sum() / np.linalg.norm(normal)
    below, beyond = split(box(1.0), unit(normal), reach - depth)
    assert np.isclose(below.volume + beyond.volume, 8) and beyond.thickness < 2 * depth + 1e-9


def test_no_solid_is_left_of_half_spaces_that_exclude_each_other():
    assert solid([(1, 0, 0), (-1, 0, 0)], -0.1) is None
