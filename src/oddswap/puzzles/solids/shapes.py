"""Solids to be cut: the cube, regular prisms, boxes, and half-spaces from a file; turned and shifted against the cuts."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from oddswap.errors import BadSolid, quoted
from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.puzzles.base.space import Polytope, from_half_spaces, turn_matrix
from oddswap.values.text_file import is_length, parse_toml, read_text, refusal, refuse_unseen

MOST = 60
"""So many half-spaces of a file, at most."""


@dataclass(frozen=True, eq=False)
class Facet:
    """The half-space ``normal . x <= offset`` (unit normal), the name of its facet and whose colour it has."""

    name: str
    normal: np.ndarray
    offset: float
    paint: str


@dataclass(frozen=True, eq=False)
class Solid:
    """A convex solid as the intersection of half-spaces."""

    facets: tuple[Facet, ...]

    def body(self) -> Polytope:
        if (body := from_half_spaces((f.name, f.normal, f.offset) for f in self.facets)) is None:
            raise BadSolid("the half-spaces leave nothing of the solid: check the signs of their normals")
        if any(face.facet is None for face in body.faces):
            raise BadSolid("the half-spaces do not close: add one on every side, so that the solid is bounded")
        shown = {face.facet for face in body.faces}
        for facet in self.facets:
            if facet.name not in shown:
                raise BadSolid(f"the half-space {quoted(facet.name)} cuts nothing off: leave it out or move it inwards")
        return body

    def turned(self, axis: np.ndarray, degrees: float) -> Solid:
        """Turned clockwise as seen from outside, against ``axis``; facets keep their names."""
        matrix = turn_matrix(axis, np.radians(degrees))
        return Solid(tuple(replace(f, normal=matrix @ f.normal) for f in self.facets))

    def shifted(self, shift: np.ndarray) -> Solid:
        """Moved by ``shift`` (3,) against the cuts."""
        return Solid(tuple(replace(f, offset=f.offset + float(f.normal @ shift)) for f in self.facets))

    def painted(self, groups: list[list[str]]) -> Solid:
        """Facets of one group share the colour of the first of them."""
        names = {f.name for f in self.facets}
        for group in groups:
            for name in group:
                if name not in names:
                    raise BadSolid(f"paint names a facet {quoted(name)}; the solid's facets are {', '.join(sorted(names))}")
        leader = {name: group[0] for group in groups for name in group}
        return Solid(tuple(replace(f, paint=leader.get(f.name, f.paint)) for f in self.facets))


def cuboid_solid(half_sides: tuple[float, float, float]) -> Solid:
    """The box with these half sides along x, y, z, its facets named by the faces."""
    return Solid(tuple(Facet(name, normal, float(np.abs(normal) @ half_sides), name) for name, normal in DIRECTIONS.items()))


def prism_solid(sides: int) -> Solid:
    """The regular prism on ``sides`` sides about U, inradius and half height 1, one side facing F.

    A side that faces as a face of the cuts, or half way between two, has those faces' letters; the others are
    called side2, side3 … clockwise from F as seen from above.
    """
    if not 3 <= sides <= 12:
        raise BadSolid(f"a prism of {sides} sides is not offered: choose from 3 to 12 sides")
    facets = [Facet("U", DIRECTIONS["U"], 1.0, "U"), Facet("D", DIRECTIONS["D"], 1.0, "D")]
    round_trip = ["F", "FL", "L", "BL", "B", "BR", "R", "FR"]
    for i in range(sides):
        normal = turn_matrix(DIRECTIONS["U"], 2 * np.pi * i / sides) @ DIRECTIONS["F"]
        name = round_trip[8 * i // sides] if 8 * i % sides == 0 else f"side{i + 1}"
        facets.append(Facet(name, normal, 1.0, name))
    return Solid(tuple(facets))


def solid_from_file(path: Path) -> Solid:
    """Half-spaces from a TOML file: ``[[half_space]]`` tables with ``name``, ``normal``, ``offset`` (half-edges)."""
    data = parse_toml(read_text(path, "the solid's file", BadSolid), quoted(path.name, 60)[1:-1], BadSolid)
    refuse_unseen(data, refusal(BadSolid, f"{path}, "))
    facets = []
    entries = data.get("half_space", [])
    if not isinstance(entries, list) or not 4 <= len(entries) <= MOST:
        raise BadSolid(f"{path}: give 4 to {MOST} [[half_space]] tables with name, normal and offset")
    for number, entry in enumerate(entries, 1):
        known = entry if isinstance(entry, dict) else {}
        normal, offset = known.get("normal"), known.get("offset")
        numbers = isinstance(normal, list) and len(normal) == 3 and all(map(is_length, [*normal, offset]))
        length = float(np.linalg.norm(normal)) if numbers else 0.0
        if length < 1e-9 or "name" not in known:
            raise BadSolid(
                f"{path}: half_space number {number} needs a name, a normal of three numbers that is not zero, and an offset"
            )
        name = str(known["name"])
        facets.append(Facet(name, np.array(normal, dtype=float) / length, offset / length, name))
    names = [f.name for f in facets]
    if len(set(names)) < len(names):
        raise BadSolid(f"{path}: two half-spaces share a name; give each facet its own")
    return Solid(tuple(facets))


def corner_axis(name: str) -> np.ndarray:
    """The direction of a slot named by one, two or three faces that meet, such as U, UR or URF. Unit length."""
    letters = list(name)
    if not 1 <= len(letters) <= 3 or any(c not in DIRECTIONS for c in letters):
        raise BadSolid(f"{quoted(f'axis={name}')} names no slot of the cube: write one to three of U D F B L R, such as URF")
    direction = sum((DIRECTIONS[c] for c in letters), np.zeros(3))
    if round(float(direction @ direction)) != len(letters):
        raise BadSolid(f"{quoted(f'axis={name}')} names faces that do not meet: write such as U, UR or URF")
    return direction / np.linalg.norm(direction)
