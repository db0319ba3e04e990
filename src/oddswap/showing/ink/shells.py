"""Pieces at home, ready to be drawn: every face with its sticker and its marks."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from oddswap.puzzles.base.mechanism import Body
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.outline import bridged, inset, rounded

GAP, SHARE = 0.05, 0.15
"""How far a sticker stays from the edge of its piece: in half-edges, and at most as a share of a usual face's half breadth."""
BEND = 1.4
"""How far a sticker's corners are rounded off, in gaps."""

OVER, SHARP = 1.8, 0.05
"""How far a side is moved outwards over which a sticker goes on, in gaps, and what is left of the bends at its ends."""


Corners = frozenset[tuple[float, ...]]


@dataclass(frozen=True, eq=False)
class Shell:
    """A piece at home ready to be drawn: its panels one after the other, and the face that each lies on."""

    panels: tuple[tuple[str, str | None, str | None], ...]
    vertices: np.ndarray
    ends: np.ndarray
    normals: np.ndarray
    anchors: np.ndarray


@lru_cache(maxsize=64)
def shells(puzzle: Puzzle) -> tuple[Shell, ...]:
    """The shells of the pieces, by home slot."""
    gap = gap_of(puzzle)
    joined = {piece: frozenset(joint) - {piece} for joint in puzzle.joints for piece in joint}
    sides = {piece: _sides_of([puzzle.geometry.bodies[other] for other in others]) for piece, others in joined.items()}
    bodies = enumerate(puzzle.geometry.bodies)
    return tuple(_shell(body, puzzle.geometry.paints, gap, sides.get(piece, frozenset())) for piece, body in bodies)


@lru_cache(maxsize=64)
def inner_shells(puzzle: Puzzle) -> tuple[Shell, ...]:
    """The shells of what stays inside."""
    return tuple(_shell(body, puzzle.geometry.paints, GAP) for body in puzzle.geometry.inner)


def gap_of(puzzle: Puzzle) -> float:
    """How far the puzzle's stickers stay from the edges of their pieces, in half-edges: less where pieces are small."""
    faces = [face for body in puzzle.geometry.bodies for face in body.faces if face.facet]
    rims = [np.linalg.norm(face.vertices - np.roll(face.vertices, 1, axis=0), axis=1).sum() for face in faces]
    return min(GAP, SHARE * float(np.median([2 * face.area / rim for face, rim in zip(faces, rims, strict=True)])))


def _sides_of(bodies: Iterable[Body]) -> frozenset[tuple[str, Corners]]:
    """The sides of all their facets' parts, each with the facet."""
    faces = (face for body in bodies for face in body.faces if face.facet)
    return frozenset((face.facet, side) for face in faces for side in _sides(face.vertices))


def _sides(polygon: np.ndarray) -> list[Corners]:
    corners = list(map(tuple, (polygon.round(6) + 0.0).tolist()))
    return [frozenset(pair) for pair in zip(corners, corners[1:] + corners[:1], strict=True)]


def _anticlockwise(polygon: np.ndarray, normal: np.ndarray) -> np.ndarray:
    """The convex polygon (k, 3) in the order that is anticlockwise as seen from where ``normal`` points."""
    return polygon if np.cross(polygon[1] - polygon[0], polygon[2] - polygon[1]) @ normal > 0 else polygon[::-1]


def _shell(body: Body, paints, gap: float, joined: frozenset[tuple[str, Corners]] = frozenset()) -> Shell:
    """A sticker goes on over a side that is ``joined``, so that joined pieces look like one."""
    panels, polygons, hosts = [], [], []
    for i, face in enumerate(body.faces):
        parts = [("body" if face.facet else "cut", face.vertices)]
        if face.facet:
            over = [i for i, side in enumerate(_sides(face.vertices)) if (face.facet, side) in joined]
            widened, bend = bridged(face.vertices, over, OVER * gap), np.full((len(face.vertices), 1), BEND * gap)
            bend[[(i + j) % len(bend) for i in over for j in (0, 1)]] *= SHARP
            parts.append(("sticker", rounded(inset(widened, face.normal, gap), bend)))
        parts += [("mark", _anticlockwise(mark.vertices, face.normal)) for mark in body.marks if mark.face == i]
        for role, vertices in parts:
            panels.append((role, face.facet, paints[face.facet] if face.facet else None))
            polygons.append(vertices)
            hosts.append(face)
    return Shell(
        panels=tuple(panels),
        vertices=np.concatenate([np.empty((0, 3)), *polygons]),
        ends=np.cumsum([0, *map(len, polygons)]),
        normals=np.array([face.normal for face in hosts]).reshape(-1, 3),
        anchors=np.array([face.centre for face in hosts]).reshape(-1, 3),
    )
