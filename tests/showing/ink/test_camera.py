"""Points of view: what they see, checked against the solid's planes and against elementary optics."""

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.camera import Camera, cameras, directions, reach
from tests.showing.ink.rays import ray

SOLIDS = ["cube:3", "shape-mod:prism5", "shape-mod:prism8", "shape-mod:cube,axis=U,degrees=45", "shape-mod:prism12"]


def offsets(puzzle):
    """How far each facet's plane is from the middle."""
    corners = np.concatenate([face.vertices for body in puzzle.geometry.bodies for face in body.faces])
    return {facet: float((corners @ normal).max()) for facet, normal in puzzle.geometry.facets.items()}


@pytest.mark.parametrize("name", SOLIDS)
def test_every_facet_is_in_front_of_one_of_the_two_eyes(name):
    puzzle = load(name)
    planes = offsets(puzzle)
    for facet, normal in puzzle.geometry.facets.items():
        assert max(float(normal @ camera.eye) for camera in cameras(puzzle)) > planes[facet]


def test_a_cube_is_seen_along_a_diagonal():
    """The worst-seen face of a cube is seen best along a diagonal of space, where all three cosines are 1/sqrt(3)."""
    first, second = cameras(load("cube:3"))
    assert first.direction == pytest.approx(np.ones(3) / np.sqrt(3), abs=0.02)
    assert second.direction == pytest.approx(-first.direction)


def test_no_direction_shows_the_worst_facet_of_a_prism_much_better():
    puzzle = load("shape-mod:prism8")
    normals = np.array(list(puzzle.geometry.facets.values()))
    best = np.abs(directions(0.5) @ normals.T).min(axis=1).max()
    chosen = np.abs(cameras(puzzle)[0].direction @ normals.T).min()
    assert chosen > best - 0.03


@pytest.mark.parametrize("name", SOLIDS)
def test_the_first_print_is_from_above_with_u_up_and_the_second_from_opposite(name):
    first, second = cameras(load(name))
    assert first.direction[1] > 0.2 and first.up[1] > 0 and second.up[1] > 0
    assert first.words.endswith("above") and second.words.endswith("below")


def test_a_point_its_picture_and_the_eye_are_in_line():
    camera = Camera(np.array([0.48, 0.6, 0.64]), 9.0)
    points = np.random.default_rng(2).uniform(-1.5, 1.5, size=(50, 3))
    sight = (points - camera.eye) / np.linalg.norm(points - camera.eye, axis=1, keepdims=True)
    assert ray(camera, camera.project(points)) == pytest.approx(sight)


def test_the_plane_through_the_middle_is_true_to_scale_and_nearer_things_are_larger():
    camera = Camera(np.array([0.0, 0.0, 1.0]), 8.0)
    assert camera.project(np.array([[1.0, 0.5, 0.0], [1.0, 0.5, 4.0]])) == pytest.approx(np.array([[1.0, 0.5], [2.0, 1.0]]))


@pytest.mark.parametrize(
    ("direction", "words"),
    [
        ((1, 1, 1), "from the front right, above"),
        ((-1, -1, -1), "from the back left, below"),
        ((0, 1, 3), "from the front, above"),
        ((-1, 0, 0), "from the left"),
    ],
)
def test_captions_say_where_from(direction, words):
    assert Camera(np.array(direction) / np.linalg.norm(direction), 9.0).words == words


def test_reach_of_a_cube():
    assert reach(load("cube:3")) == pytest.approx(np.sqrt(3))
