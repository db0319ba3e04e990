"""Where a picture is taken from: a point of view with a mild perspective, chosen so that every facet shows well."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache

import numpy as np

from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.palette import solid
from oddswap.values.position import START, Holding
from oddswap.words.findings import whence

UP = np.array([0.0, 1.0, 0.0])
AWAY = 7.0
"""How far the eye is from the middle, in radii of the solid."""
FAVOUR = 0.04
"""How much a good view of U, F and R counts beside the view of the worst facet."""


@dataclass(frozen=True, eq=False)
class Camera:
    """An eye that looks at the middle from ``direction`` (3,), ``distance`` away in half-edges.

    ``frame`` (3, 3) takes directions as the hands have them to the puzzle's own; what the hands have on top is upwards.
    """

    direction: np.ndarray
    distance: float
    frame: np.ndarray = field(default_factory=lambda: np.eye(3))

    @cached_property
    def eye(self) -> np.ndarray:
        return self.distance * self.direction

    @cached_property
    def right(self) -> np.ndarray:
        across = np.cross(self.frame @ UP, self.direction)
        return across / np.linalg.norm(across)

    @cached_property
    def up(self) -> np.ndarray:
        return np.cross(self.direction, self.right)

    @cached_property
    def _plane(self) -> np.ndarray:
        return np.stack([self.right, self.up], axis=1)

    def project(self, points: np.ndarray) -> np.ndarray:
        """Points (..., 3) in half-edges to the picture (..., 2): true to scale in the plane through the middle."""
        depth = points @ self.direction
        return (points @ self._plane) / (1 - depth / self.distance)[..., None]

    @property
    def words(self) -> str:
        """Where the picture is taken from, in words: ``from the front right, above``.

        >>> Camera(np.array([0.6, 0.48, 0.64]), 9.0).words
        'from the front right, above'
        """
        return whence(self.direction @ self.frame)


def directions(step: float) -> np.ndarray:
    """Unit vectors all round, ``step`` degrees apart in height and bearing, none within 20 degrees of straight up or down."""
    heights, bearings = np.radians(np.arange(-70, 70.1, step)), np.radians(np.arange(0, 360, step))
    height, bearing = (grid.ravel() for grid in np.meshgrid(heights, bearings, indexing="ij"))
    return np.stack([np.cos(height) * np.sin(bearing), np.sin(height), np.cos(height) * np.cos(bearing)], axis=1)


@lru_cache(maxsize=64)
def reach(puzzle: Puzzle) -> float:
    """The distance of the solid's farthest point from the middle, in half-edges."""
    corners = np.concatenate([face.vertices for body in solid(puzzle).bodies for face in body.faces])
    return float(np.linalg.norm(corners, axis=1).max())


def frame_of(holding: Holding) -> np.ndarray:
    """The matrix (3, 3) that takes directions as the hands have them to the puzzle's own."""
    return np.stack([DIRECTIONS[holding.own(face)] for face in "RUF"], axis=1)


def looking_at(puzzle: Puzzle, direction: np.ndarray) -> Camera:
    """The one of the two points of view of the prints that looks at what a direction (3,) points to."""
    return max(cameras(puzzle), key=lambda camera: camera.direction @ direction)


@lru_cache(maxsize=64)
def cameras(puzzle: Puzzle, holding: Holding = START) -> tuple[Camera, Camera]:
    """The two opposite points of view of the prints: the worst-seen facet is seen as squarely as can be.

    Found on a grid of one degree. The first is from above, and from the front and the right where the facets leave a choice,
    as the hands have them that hold the puzzle so.
    """
    facets, frame = solid(puzzle).facets, frame_of(holding)
    normals = np.array(list(facets.values()))
    grid = directions(1.0)
    grid = grid[grid[:, 1] > 0.2] @ frame.T
    worst = np.abs(grid @ normals.T).min(axis=1)
    named = facets if set("UFR") <= set(puzzle.geometry.mechanism.directions) else {}
    favoured = [named.get(face, DIRECTIONS[face]) for face in map(holding.own, "UFR")]
    value = worst + FAVOUR * (grid @ np.array(favoured).T).sum(axis=1)
    first = Camera(grid[int(value.argmax())], AWAY * reach(puzzle), frame)
    return first, replace(first, direction=-first.direction)
