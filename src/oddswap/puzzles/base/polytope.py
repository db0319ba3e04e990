"""Convex polytopes as lists of plane polygons, and cutting them by a plane.

Every polygon remembers where it came from: the name of a facet of the solid, or ``None`` for a face that
a cut has made. Lengths are in half-edges of the solid; a point nearer than ``EPS`` to a plane lies on it, so a
cut exactly through an edge or a vertex leaves no splinters.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

EPS = 1e-9


@dataclass(frozen=True, eq=False)
class Face:
    """One plane polygon: ``vertices`` (k, 3) in order round the outside, ``facet`` a name or ``None``."""

    facet: str | None
    vertices: np.ndarray

    @cached_property
    def _double_area(self) -> np.ndarray:
        return double_area(self.vertices)

    @property
    def normal(self) -> np.ndarray:
        """Unit normal, pointing outwards."""
        return self._double_area / np.linalg.norm(self._double_area)

    @property
    def area(self) -> float:
        return float(np.linalg.norm(self._double_area) / 2)

    @property
    def centre(self) -> np.ndarray:
        return self.vertices.mean(axis=0)


@dataclass(frozen=True, eq=False)
class Polytope:
    """A convex polytope given by its faces."""

    faces: tuple[Face, ...]

    @property
    def vertices(self) -> np.ndarray:
        return np.concatenate([face.vertices for face in self.faces])

    @property
    def volume(self) -> float:
        apex = self.faces[0].vertices[0]
        return sum(float(double_area(face.vertices) @ (face.vertices[0] - apex)) for face in self.faces) / 6

    @property
    def thickness(self) -> float:
        """Three volumes over the surface: the inradius of a ball-hugging solid, small for a sliver."""
        return 3 * self.volume / sum(face.area for face in self.faces)


def double_area(polygon: np.ndarray) -> np.ndarray:
    """A plane polygon's normal, twice as long as its area is large.

    Newell's method, from the first vertex, so that a small face loses no digits to its distance. NumPy's ``cross`` takes several
    times as long for so few vectors.
    """
    v = polygon - polygon[0]
    x, y, z = v.T
    p, q, r = np.concatenate([v[1:], v[:1]]).T
    return np.array([(y * r - z * q).sum(), (z * p - x * r).sum(), (x * q - y * p).sum()])


def box(half: float) -> Polytope:
    """The cube ``|x|, |y|, |z| <= half`` with unnamed faces."""
    faces = []
    for axis in range(3):
        for sign in (-1.0, 1.0):
            points = half * np.roll([[sign, -1, -1], [sign, 1, -1], [sign, 1, 1], [sign, -1, 1]], axis, axis=1)
            faces.append(Face(None, points if sign > 0 else points[::-1]))
    return Polytope(tuple(faces))


def split(body: Polytope, normal: np.ndarray, offset: float, facet: str | None = None):
    """Cut ``body`` by the plane ``normal . x = offset``; return ``(below, beyond)``, either may be ``None``.

    >>> low, high = split(box(1.0), np.array([0.0, 0.0, 1.0]), 0.5)
    >>> round(low.volume, 9), round(high.volume, 9)
    (6.0, 2.0)
    """
    heights = body.vertices @ normal - offset
    if heights.max() <= EPS:
        return body, None
    if heights.min() >= -EPS:
        return None, body
    below, beyond = _keep(body, normal, offset, facet), _keep(body, -normal, -offset, facet)
    if below is None or beyond is None:
        return (body, None) if heights.max() < -heights.min() else (None, body)
    return below, beyond


def from_half_spaces(half_spaces: Iterable[tuple[str, np.ndarray, float]], reach: float = 1e3) -> Polytope | None:
    """The solid ``normal . x <= offset`` for all ``(name, unit normal, offset)``; ``None`` when it is empty."""
    body: Polytope | None = box(reach)
    for name, normal, offset in half_spaces:
        body, _ = split(body, normal, offset, name)
        if body is None:
            return None
    return body


def _keep(body: Polytope, normal: np.ndarray, offset: float, facet: str | None) -> Polytope | None:
    """The part below the plane; ``None`` when the cut is no wider than rounding, so that one part is a crumb."""
    faces, cap = [], []
    for face in body.faces:
        polygon = _clip(face.vertices, face.vertices @ normal - offset)
        on_plane = [p for p in polygon if abs(p @ normal - offset) <= EPS]
        cap.extend(on_plane)
        if len(polygon) >= 3 and len(on_plane) < len(polygon):
            faces.append(Face(face.facet, np.array(polygon)))
    rim = _distinct(cap)
    return Polytope((*faces, Face(facet, _ring(rim, normal)))) if len(rim) > 2 else None


def _clip(vertices: np.ndarray, heights: np.ndarray) -> list[np.ndarray]:
    kept = []
    for i, (point, height) in enumerate(zip(vertices, heights, strict=True)):
        j = (i + 1) % len(vertices)
        if height <= EPS:
            kept.append(point)
        if (height > EPS and heights[j] < -EPS) or (height < -EPS and heights[j] > EPS):
            share = height / (height - heights[j])
            kept.append(point + share * (vertices[j] - point))
    return kept


def _distinct(points: list[np.ndarray]) -> np.ndarray:
    unique: list[np.ndarray] = []
    for point in points:
        if all(np.abs(point - other).max() > EPS for other in unique):
            unique.append(point)
    return np.array(unique)


def _ring(cloud: np.ndarray, normal: np.ndarray) -> np.ndarray:
    """The points of a convex polygon in order round its outside."""
    spoke = cloud[0] - cloud.mean(axis=0)
    spoke = spoke / np.linalg.norm(spoke)
    across = np.cross(normal, spoke)
    flat = cloud - cloud.mean(axis=0)
    order = np.argsort(np.arctan2(flat @ across, flat @ spoke), kind="stable")
    return cloud[order]
