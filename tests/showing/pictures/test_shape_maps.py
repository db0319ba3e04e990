"""The map shows a picture, its turns and its number for each place; a walk stands as high as it is far from home."""

import re

import numpy as np
import pytest
from matplotlib.patches import Rectangle

from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.shape_map import shape_map
from oddswap.showing.ink.camera import cameras
from oddswap.showing.pictures.shape_maps import LONGEST, UP, draw_map, draw_names, draw_walk
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


FLAT = load("cuboid:1x3x3,turns=all")


def texts(figure):
    return [text.get_text() for text in figure.axes[0].texts]


@pytest.mark.parametrize(
    "name, levels", [("cuboid:1x3x3,turns=all", 2), ("cuboid:1x2x3,turns=all", 4), ("tiles:2x3", 4), ("wedges:6", 2)]
)
def test_every_place_and_every_turn_between_places_is_there(name, levels):
    found, figure = shape_map(load(name), levels), draw_map(load(name), levels)
    cards = [patch for patch in figure.axes[0].patches if isinstance(patch, Rectangle)]
    assert len(cards) == 2 * len(found.places) and len(figure.axes[0].lines) == len(found.places) - 1
    written = " ".join(texts(figure))
    named = {(turn, int(number)) for turn, number in re.findall(r"(\S+)→(\d+)", written)}
    drawn = {frozenset(pair) for pair in enumerate(found.parents)}
    others = {(a, b): turns for (a, b), turns in found.links.items() if a != b and frozenset((a, b)) not in drawn}
    assert named == {(turns[0], b) for (_, b), turns in others.items()}
    assert all(f"one of {place.alike}" in written for place in found.places if place.alike > 1)


def test_cards_do_not_lie_on_each_other_and_nothing_leaves_the_sheet():
    figure = draw_map(load("cuboid:1x2x3,turns=all"), 4)
    (ax,) = figure.axes
    cards = [patch for patch in ax.patches if isinstance(patch, Rectangle)][::2]
    for i, one in enumerate(cards):
        assert one.get_x() > 0 and one.get_y() > 0 and one.get_x() + one.get_width() < ax.get_xlim()[1]
        for other in cards[:i]:
            assert not one.get_bbox().overlaps(other.get_bbox())


@pytest.mark.parametrize(
    "moves, heights",
    [("B F' U2 F B'", (0, 1, 2, 2, 1, 0)), ("U2 F2", (0, 0, 0)), ("U D LL U2 D2", (0, 1, 2, 3, 4, 5)), ("", (0,))],
)
def test_a_walk_is_as_high_as_it_is_far_from_home_and_something_is_said_at_home_alone(moves, heights):
    """The distances were counted on a map of sets of cells, in tests/reasoning/teaching/test_shape_map.py."""
    asked = []
    figure = draw_walk(FLAT, moves, told=lambda puzzle, state: asked.append(state) or "asked")
    cards = [patch for patch in figure.axes[0].patches if isinstance(patch, Rectangle)][::2]
    assert tuple(round((card.get_y() - cards[0].get_y()) / UP) for card in cards) == heights
    assert len(asked) == heights.count(0) == texts(figure).count("asked") and all(map(FLAT.closed, asked))
    assert [text for text in texts(figure) if text in FLAT.turns] == moves.split()


def test_a_walk_may_start_anywhere_and_is_not_too_long():
    assert texts(draw_walk(FLAT, "U'", FLAT.follow("U"))).count("home") == 1
    with pytest.raises(BadOption, match=f"write at most {LONGEST}"):
        draw_walk(FLAT, "U " * (LONGEST + 1))
