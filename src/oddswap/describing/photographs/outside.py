"""The outside of a whole solid: the facets of its slots, the corners where sides meet, and what pieces show in each slot."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from oddswap.errors import BadPhotograph, quoted
from oddswap.puzzles.base.puzzle import Puzzle


@dataclass(frozen=True, eq=False)
class Outside:
    """``places`` are ``(slot, side)``; ``polygons`` (k, 3) in half-edges and outward ``normals`` (n, 3) are theirs.

    ``corners`` gives the point (3,) where some sides meet. ``shown[slot]`` (labels, facets) has, for each label of the slot's
    kind, the numbers of the ``paints`` on the slot's places in turn, and -1 where the piece would break the outline.
    """

    places: tuple[tuple[int, str], ...]
    polygons: tuple[np.ndarray, ...]
    normals: np.ndarray
    corners: Mapping[frozenset[str], np.ndarray]
    paints: tuple[str, ...]
    shown: tuple[np.ndarray, ...]
    at: tuple[tuple[int, ...], ...]
    """``at[slot]``: the numbers of the places of a slot."""


@lru_cache(maxsize=16)
def outside(puzzle: Puzzle) -> Outside:
    """The outside of a puzzle that is one solid. `BadPhotograph` where there is none."""
    geometry = puzzle.geometry
    if geometry is None:
        raise BadPhotograph(f"{puzzle.name} has no solid to find in a photograph: tell it by [slots]")
    faces = [(slot, face) for slot, body in enumerate(geometry.bodies) for face in body.faces if face.facet]
    places = tuple((slot, face.facet) for slot, face in faces)
    at = tuple(tuple(i for i, (slot, _) in enumerate(places) if slot == b) for b in range(len(puzzle.slots)))
    paints = tuple(dict.fromkeys(geometry.paints.values()))
    meeting: dict[tuple, set[str]] = {}
    for _, face in faces:
        for vertex in face.vertices:
            meeting.setdefault(tuple(np.round(vertex, 6) + 0.0), set()).add(face.facet)
    corners = {frozenset(names): np.array(point) for point, names in meeting.items() if len(names) > 2}
    centres = np.array([face.centre for _, face in faces])
    shown = tuple(_shown(puzzle, slot, [centres[i] for i in at[slot]], paints) for slot in range(len(puzzle.slots)))
    polygons = tuple(face.vertices for _, face in faces)
    return Outside(places, polygons, np.array([face.normal for _, face in faces]), corners, paints, shown, at)


def _shown(puzzle: Puzzle, slot: int, centres: list[np.ndarray], paints: tuple[str, ...]) -> np.ndarray:
    geometry, kind = puzzle.geometry, puzzle.kind_of[slot]
    rows = []
    for piece in kind.places:
        for twist in range(kind.twist):
            matrix = geometry.mechanism.rotations.matrices[
                geometry.rotation_of(puzzle.base_label, kind.twist, piece, slot, twist)
            ]
            own = {
                tuple(np.round(matrix @ face.centre, 5) + 0.0): paints.index(geometry.paints[face.facet])
                for face in geometry.bodies[piece].faces
                if face.facet
            }
            rows.append([own.get(tuple(np.round(centre, 5) + 0.0), -1) for centre in centres])
    return np.array(rows).reshape(len(kind.labels), len(centres))


def corner_named(puzzle: Puzzle, name: str) -> np.ndarray:
    """The corner (3,) where the sides of this name meet, such as ``UFR``, or ``U-F-FR`` where sides have longer names."""
    own = outside(puzzle)
    sides = frozenset(name.split("-") if "-" in name else name)
    if sides not in own.corners:
        some = ", ".join(sorted(corner_name(corner) for corner in own.corners)[:4])
        raise BadPhotograph(f"{quoted(name)} is no corner of {puzzle.name}: write the sides that meet there, such as {some}")
    return own.corners[sides]


def corner_name(sides: frozenset[str]) -> str:
    """The name of the corner where ``sides`` meet, which `corner_named` reads."""
    order = sorted(sides, key=lambda side: (len(side), "UDFBLR".find(side[0]), side))
    return ("" if all(len(side) == 1 for side in order) else "-").join(order)
