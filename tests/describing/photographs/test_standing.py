"""Where a camera stood: against cameras of these tests' own, and corners that no camera sees."""

import numpy as np
import pytest

from oddswap.describing.photographs.outside import corner_name, outside
from oddswap.describing.photographs.standing import find_standing
from oddswap.errors import BadPhotograph
from oddswap.puzzles.catalogue import load
from tests.describing.photographs.darkroom import SIDE, _camera, _project, box, vertices

SIZES = {"cube:3": (3, 3, 3), "cuboid:2x3x4": (2, 3, 4), "cube:5": (5, 5, 5)}


def seen(counts, rng, off=0.0):
    """Corners of a box that a random camera sees, in the room and in the picture, with the sides at each; and the camera."""
    solid = box(*counts)
    eye, frame, focal = _camera(solid, np.array(rng.choice([-1.0, 1.0], 3)), rng)
    names = {
        n: p for n, p in vertices(solid).items() if any(np.dot(solid.sides[s][0], eye) > solid.sides[s][1] for s in n.split("-"))
    }
    points = np.array(list(names.values()))
    pixels = np.array([_project(p, eye, frame, focal) for p in points])
    sides = [np.array([solid.sides[s][0] for s in name.split("-")]) for name in names]
    return points, pixels + rng.uniform(-off, off, pixels.shape), sides, eye, focal


@pytest.mark.parametrize("name", SIZES)
def test_exact_corners_give_the_camera_back(name):
    for seed in range(5):
        points, pixels, sides, eye, focal = seen(SIZES[name], np.random.default_rng(seed))
        found = find_standing(points, pixels, (SIDE, SIDE), sides)
        assert np.abs(found.project(points) - pixels).max() < 0.6
        assert found.eye @ eye > 0.99 * np.linalg.norm(found.eye) * np.linalg.norm(eye)
        assert 0.7 < found.focal / focal < 1.4  # the usual range of focal lengths pulls a little


def test_four_corners_are_enough_and_corners_amiss_cost_little():
    for seed in range(8):
        points, pixels, sides, *_ = seen((3, 3, 3), np.random.default_rng(seed))
        keep = np.random.default_rng(seed).permutation(len(points))[:5]
        if np.linalg.matrix_rank(points[keep] - points[keep[0]]) < 3:
            continue
        noisy = pixels + np.random.default_rng(seed).uniform(-5, 5, pixels.shape)
        found = find_standing(points[keep], noisy[keep], (SIDE, SIDE), [sides[k] for k in keep])
        assert np.abs(found.project(points[keep]) - pixels[keep]).max() < 12


def refused(points, pixels, sides, said):
    with pytest.raises(BadPhotograph, match=said) as caught:
        find_standing(points, pixels, (SIDE, SIDE), sides)
    assert "\n" not in str(caught.value)


def test_corners_that_no_camera_sees_so_are_refused():
    for seed in range(3):
        points, pixels, sides, *_ = seen((3, 3, 3), np.random.default_rng(seed))
        refused(points, pixels * [-1, 1] + [SIDE, 0], sides, "no camera sees")  # mirrored
        refused(points, np.roll(pixels, 1, axis=0), sides, "no camera sees")  # named wrongly
        refused(-points, pixels, [-own for own in sides], "no camera sees")  # inside out
        refused(points * [1, 0.6, 0.4], pixels, sides, "no camera sees")  # another solid
        refused(points[:3], pixels[:3], sides[:3], "at least 4")
        refused(points, pixels * 0.02, sides, "within 40 pixels")


def test_corners_have_names():
    prism = outside(load("shape-mod:prism8")).corners
    assert len(prism) == 16 and frozenset({"U", "F", "FR"}) in prism
    assert {corner_name(own) for own in outside(load("cube:3")).corners} == set("UFR UFL UBR UBL DFR DFL DBR DBL".split())
    assert corner_name(frozenset({"FR", "U", "F"})) == "U-F-FR"


def test_puzzles_that_are_no_solid_are_refused():
    for name in ("tiles:3x3", "rings:4+4,cross=1"):
        with pytest.raises(BadPhotograph, match="no solid"):
            outside(load(name))
