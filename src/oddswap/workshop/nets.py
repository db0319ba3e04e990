"""Nets: the faces of a convex solid laid into the plane, each hinged on its neighbour, with tabs to glue the other edges."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from oddswap.puzzles.base.geometry import Geometry
from oddswap.puzzles.base.polytope import Face

TAB, SLANT = 0.16, 0.3
"""How broad a tab is and how far its ends lean in, in shares of the longest edge and of its own."""
WAYS = np.linspace(0, 2 * np.pi, 720, endpoint=False) + 0.001


@dataclass(frozen=True, eq=False)
class Net:
    """``laid``: for each face the matrix (2, 3) and shift (2,) that lay it down; ``tabs`` are polygons (4, 2).

    Everything is seen from outside.
    """

    faces: tuple[Face, ...]
    laid: tuple[tuple[np.ndarray, np.ndarray], ...]
    tabs: tuple[np.ndarray, ...]

    def flat(self, face: int, points: np.ndarray) -> np.ndarray:
        """Points (k, 3) on a face in the plane of the net, (k, 2)."""
        matrix, shift = self.laid[face]
        return points @ matrix.T + shift

    @property
    def outlines(self) -> list[np.ndarray]:
        """The faces in the plane, in their order."""
        return [self.flat(i, face.vertices) for i, face in enumerate(self.faces)]


def facets_of(geometry: Geometry) -> tuple[Face, ...]:
    """The facets of a whole solid, each as one polygon."""
    found = []
    for facet, normal in geometry.facets.items():
        faces = [face.vertices for body in geometry.bodies for face in body.faces if face.facet == facet]
        points, across = np.concatenate(faces), _square_to(normal)
        around = np.stack([np.cos(WAYS), np.sin(WAYS)], 1) @ np.array([across, np.cross(normal, across)])
        corners = dict.fromkeys((points @ around.T).argmax(axis=0).tolist())
        found.append(Face(facet, _each_once(points[list(corners)])))
    return tuple(found)


def _each_once(points: np.ndarray) -> np.ndarray:
    kept = [i for i, point in enumerate(points) if not any(np.allclose(point, other) for other in points[:i])]
    return points[kept]


def _square_to(normal: np.ndarray) -> np.ndarray:
    across = np.cross(normal, np.eye(3)[int(np.abs(normal).argmin())])
    return across / np.linalg.norm(across)


def net(faces: Sequence[Face]) -> Net:
    """Lay the faces of a convex solid down, breadth first from the one with the most edges, so that the others lie round it.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = net(facets_of(load("cube:3").geometry))
    >>> len(cube.faces), len(cube.tabs)
    (6, 7)
    """
    first = max(range(len(faces)), key=lambda i: len(faces[i].vertices))
    across = _square_to(faces[first].normal)
    laid = {first: (np.array([across, np.cross(faces[first].normal, across)]), np.zeros(2))}
    tabs, glued = [], set()
    longest = max(np.linalg.norm(b - a) for face in faces for a, b in _edges(face))
    for at in (order := [first]):
        matrix, shift = laid[at]
        for a, b in _edges(faces[at]):
            other = next(i for i, face in enumerate(faces) if i != at and _has(face, a) and _has(face, b))
            start, end = matrix @ a + shift, matrix @ b + shift
            along, out = (end - start), np.array([end[1] - start[1], start[0] - end[0]])
            if other not in laid:
                edge = (b - a) / np.linalg.norm(b - a)
                flat = along / np.linalg.norm(along)
                turned = np.outer(flat, edge) + np.outer([-flat[1], flat[0]], np.cross(faces[other].normal, edge))
                laid[other] = turned, start - turned @ a
                order.append(other)
                glued.add(frozenset((at, other)))
            elif frozenset((at, other)) not in glued:
                glued.add(frozenset((at, other)))
                out *= TAB * longest / np.linalg.norm(out)
                tabs.append(np.array([start, end, end + out - SLANT * along, start + out + SLANT * along]))
    return Net(tuple(faces), tuple(laid[i] for i in range(len(faces))), tuple(tabs))


def _edges(face: Face) -> list[tuple[np.ndarray, np.ndarray]]:
    return list(zip(face.vertices, np.roll(face.vertices, -1, axis=0), strict=True))


def _has(face: Face, corner: np.ndarray) -> bool:
    return bool(np.isclose(face.vertices, corner, atol=1e-6).all(axis=1).any())
