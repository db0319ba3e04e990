"""Constructions on one polygon, against areas known from elementary geometry."""

import numpy as np
import pytest

from oddswap.puzzles.base.space import Face, turn_matrix
from oddswap.showing.ink.outline import inset, rounded, stripes, within


def polygon(sides, radius=1.0, stretch=1.0):
    """A regular polygon, stretched along x, tilted in space."""
    angles = 2 * np.pi * np.arange(sides) / sides
    flat = np.stack([stretch * radius * np.cos(angles), radius * np.sin(angles), 0 * angles], axis=1)
    return flat @ turn_matrix((1, 2, 3), 0.8).T + (0.3, -0.1, 0.7)


@pytest.mark.parametrize("sides", [3, 4, 5, 8])
def test_the_inset_of_a_regular_polygon_is_similar_to_it(sides):
    """The inradius r becomes r - margin, so the area shrinks by ((r - margin) / r) squared."""
    whole = Face(None, polygon(sides))
    inradius = np.cos(np.pi / sides)
    smaller = Face(None, inset(whole.vertices, whole.normal, 0.1))
    assert smaller.area / whole.area == pytest.approx(((inradius - 0.1) / inradius) ** 2)


def test_the_inset_of_a_splinter_stays_inside_it_with_its_corners_in_order():
    whole = Face(None, polygon(3, stretch=0.05))
    smaller = Face(None, inset(whole.vertices, whole.normal, 0.1))
    assert smaller.normal == pytest.approx(whole.normal)
    assert 0 < smaller.area < whole.area


def test_rounding_takes_parabolic_corners_off():
    """A parabola through the tangent points of a corner cuts off a third of the triangle that they make with it."""
    square = Face(None, polygon(4, radius=np.sqrt(2)))
    soft = Face(None, rounded(square.vertices, radius=0.3, points=200))
    assert square.area - soft.area == pytest.approx(4 * (0.3 * 0.3 / 2) / 3, rel=1e-3)


@pytest.mark.parametrize("way", [45.0, -45.0, 0.0])
def test_stripes_cover_their_share_and_stay_on_the_polygon(way):
    square = Face(None, polygon(4, radius=3.0))
    drawn = stripes(square.vertices, way, spacing=0.1, width=0.03)
    assert sum(Face(None, stripe).area for stripe in drawn) / square.area == pytest.approx(0.3, abs=0.01)
    points = np.concatenate(drawn)
    assert np.abs((points - square.centre) @ square.normal).max() < 1e-9
    sides = np.roll(square.vertices, -1, axis=0) - square.vertices
    outside = np.cross(sides[:, None], points - square.vertices[:, None]) @ square.normal
    assert outside.min() > -1e-9


def test_ways_of_stripes_cross_at_right_angles():
    square = polygon(4)
    directions = []
    for way in (45.0, -45.0):
        stripe = max(stripes(square, way), key=lambda s: np.ptp(s, axis=0).max())
        sides = np.roll(stripe, -1, axis=0) - stripe
        longest = sides[np.linalg.norm(sides, axis=1).argmax()]
        directions.append(longest / np.linalg.norm(longest))
    assert directions[0] @ directions[1] == pytest.approx(0.0, abs=1e-9)


def test_within():
    triangle = np.array([[0.0, 0.0], [2.0, 0.0], [0.0, 2.0]])
    spots = np.array([[[0.5, 0.5], [1.5, 1.5]], [[-0.1, 0.5], [0.99, 0.99]]])
    assert within(triangle, spots).tolist() == [[True, False], [False, True]]
