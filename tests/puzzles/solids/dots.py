"""Face- and corner-turning polyhedra as dots of colour on their faces, independent of the puzzle engine.

A dot is a point in the middle of a sticker; a turn rotates the dots beyond its cut. No pieces, cells or shapes are made.
"""

from dataclasses import dataclass
from itertools import combinations, product

import numpy as np

GOLDEN = (1 + 5**0.5) / 2


@dataclass(frozen=True)
class Dots:
    """``points`` (n, 3); each turn an axis (a unit vector), how far out its cut lies, and how many make a circle."""

    points: np.ndarray
    turns: tuple[tuple[tuple[float, ...], float, int], ...]

    def moves(self) -> np.ndarray:
        """The turns, each one step, as permutations of the dots: shape (turns, n)."""
        return np.array([self._move(np.array(axis), cut, order) for axis, cut, order in self.turns])

    def _move(self, axis: np.ndarray, cut: float, order: int) -> list[int]:
        x, y, z = axis
        cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
        angle = 2 * np.pi / order
        matrix = np.eye(3) + np.sin(angle) * cross + (1 - np.cos(angle)) * (cross @ cross)
        turned = np.where((self.points @ axis > cut)[:, None], self.points @ matrix.T, self.points)
        distance = np.linalg.norm(turned[:, None] - self.points[None], axis=2)
        images = distance.argmin(axis=1)
        assert distance.min(axis=1).max() < 1e-9 and len(set(images.tolist())) == len(images)
        return images.tolist()


def unit(vectors) -> np.ndarray:
    vectors = np.array(vectors, dtype=float)
    return vectors / np.linalg.norm(vectors, axis=-1, keepdims=True)


def ninths(corners: np.ndarray) -> list[np.ndarray]:
    """The middles of the nine triangles of a triangle with edges cut in three."""
    found = []
    for i, j in product(range(3), repeat=2):
        for up in (0, 1):
            k = 2 - up - i - j
            if k >= 0:
                weights = (np.array([i, j, k]) + (1 + up) / 3) / 3
                found.append(weights @ corners)
    return found


def tetrahedron(tips: bool) -> Dots:
    """Corners at distance 3 from the middle, faces at 1; the cuts of a corner lie at 1/3 and, above its tip, at 5/3."""
    corners = 3 * unit([(1, 1, 1), (1, -1, -1), (-1, 1, -1), (-1, -1, 1)])
    points = np.array([dot for three in combinations(corners, 3) for dot in ninths(np.array(three))])
    cuts = (1 / 3, 5 / 3) if tips else (1 / 3,)
    if not tips:
        points = points[(points @ unit(corners).T).max(axis=1) < 5 / 3]
    return Dots(points, tuple((tuple(axis), cut, 3) for axis in unit(corners) for cut in cuts))


def octahedron() -> Dots:
    """Faces at distance 1, their cuts at 1/3."""
    normals = unit(list(product((1, -1), repeat=3)))
    corners = 3**0.5 * np.array([s * row for row in np.eye(3) for s in (1, -1)])
    faces = [[c for c in corners if np.isclose(c @ normal, 1)] for normal in normals]
    points = np.array([dot for face in faces for dot in ninths(np.array(face))])
    return Dots(points, tuple((tuple(normal), 1 / 3, 3) for normal in normals))


def dodecahedron() -> Dots:
    """Faces at distance 1; a dot in the middle of a face, near its corners and the middles of its edges; cuts at 3/4."""
    flat = [(0, a, b * GOLDEN) for a, b in product((1, -1), repeat=2)]
    normals = unit([np.roll(v, k) for v in flat for k in range(3)])
    near = np.isclose(normals @ normals.T, 1 / 5**0.5)
    points = []
    for i, normal in enumerate(normals):
        around = np.flatnonzero(near[i])
        points.append(normal)
        points += [normal + 0.6 * unit(normals[j] - (normals[j] @ normal) * normal) for j in around]
        for j, k in combinations(around, 2):
            if near[j, k]:
                middle = normals[j] + normals[k]
                points.append(normal + 0.7 * unit(middle - (middle @ normal) * normal))
    return Dots(np.array(points), tuple((tuple(normal), 0.75, 5) for normal in normals))


def corner_cube() -> Dots:
    """Faces at distance 1, each with a dot in the middle and four near its corners; half of the cube turns."""
    points = []
    for axis, end in product(range(3), (1, -1)):
        for a, b in [(0, 0), *product((0.8, -0.8), repeat=2)]:
            points.append(np.roll((end, a, b), axis))
    corners = unit([(1, 1, 1), (-1, 1, -1), (-1, -1, 1), (1, -1, -1)])
    return Dots(np.array(points), tuple((tuple(corner), 0.0, 3) for corner in corners))
