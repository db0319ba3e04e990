"""Names on a picture: each stands on a sticker of its own facet or slot, as rays through the text find it."""

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.camera import cameras
from oddswap.showing.pictures.names import draw_names
from tests.showing.ink.rays import ray

SOLIDS = ["tetrahedron", "octahedron", "dodecahedron", "corner-cube", "cuboid:2x3x4", "shape-mod:prism8"]


def written(figure):
    return [text.get_text() for text in figure.axes[0].texts]


@pytest.mark.parametrize("name", [*SOLIDS, "cube:4", "cuboid:1x3x3", "shape-mod:cube,axis=U,degrees=45", "cube:5,centres=marked"])
def test_every_facet_and_every_slot_is_named(name):
    puzzle = load(name)
    texts = written(draw_names(puzzle))
    assert set(puzzle.geometry.facets) | set(puzzle.slots) <= set(texts)
    assert "no room" not in texts[-1]


def test_where_names_have_no_room_their_number_is_told():
    puzzle = load("cube:9")
    texts = written(draw_names(puzzle))
    assert f"The names of {len(set(puzzle.slots) - set(texts))} have no room here." in texts[-1]


def hit(puzzle, camera, spot):
    """The slot and the facet that a ray through a picture point meets first on the solved puzzle."""
    sight, best = ray(camera, spot), (np.inf, None, None)
    for slot, body in enumerate(puzzle.geometry.bodies):
        for face in body.faces:
            away = sight @ face.normal
            if face.facet and away < 0:
                distance = (face.centre - camera.eye) @ face.normal / away
                point = camera.eye + distance * sight
                sides = np.cross(np.roll(face.vertices, -1, axis=0) - face.vertices, point - face.vertices)
                if (sides @ face.normal > -1e-9).all():
                    best = min(best, (distance, puzzle.slots[slot], face.facet))
    return best[1:]


@pytest.mark.parametrize("name", SOLIDS)
def test_names_stand_where_rays_meet_what_they_name(name):
    puzzle = load(name)
    ax = draw_names(puzzle).axes[0]
    squares = [patch.get_bbox() for patch in ax.patches if patch.get_width() == pytest.approx(patch.get_height())]
    pictures = [c for c in ax.collections if len(c.get_paths()) > 5]
    found = 0
    for i, (square, picture) in enumerate(zip(squares, pictures, strict=True)):
        camera = cameras(puzzle)[i % 2]
        corners = np.concatenate([path.vertices for path in picture.get_paths()])
        solid = np.concatenate([face.vertices for body in puzzle.geometry.bodies for face in body.faces])
        scale = np.ptp(corners, axis=0).max() / np.ptp(camera.project(solid), axis=0).max()
        middle = np.array([square.x0 + square.x1, square.y0 + square.y1]) / 2
        for text in (t for t in ax.texts if square.contains(*t.get_position())):
            slot, facet = hit(puzzle, camera, (np.array(text.get_position()) - middle) / scale)
            assert text.get_text() == (facet if i < 2 else slot)
            found += 1
    assert found >= len(puzzle.slots) + len(puzzle.geometry.facets)


@pytest.mark.parametrize("name", ["tiles:4x4", "rings:7+7,cross=2,beads=6+6", "graph:2+1+2", "loop:20"])
def test_flat_puzzles_have_the_name_of_each_slot_in_its_place(name):
    puzzle = load(name)
    texts = draw_names(puzzle).axes[0].texts
    assert tuple(text.get_text() for text in texts) == puzzle.slots
    at = np.array([text.get_position() for text in texts])
    layout = puzzle.flat.positions
    assert (at - at[0]) * np.ptp(layout) / np.ptp(at) == pytest.approx((layout - layout[0]), abs=0.02 * np.ptp(layout))
