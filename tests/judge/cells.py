"""A puzzle as a heap of painted cells that are carried about: what a person's hands and eyes know of it, and nothing else.

Nothing of the package is used here. Frame: x to the right, y up, z to the viewer; a turn is clockwise as seen from its face.
A cell is named by its place, in steps of half a layer from the middle; each keeps the rotation that hands gave it.
"""

from __future__ import annotations

import random
import re
from dataclasses import dataclass, field
from itertools import product

import numpy as np

AXES = {"R": (0, 1), "L": (0, -1), "U": (1, 1), "D": (1, -1), "F": (2, 1), "B": (2, -1)}
"""For each face its axis and which end of it."""
WHOLE = {"x": "R", "y": "U", "z": "F"}
TOKEN = re.compile(r"(\d*)([URFDLB]{1,9})(w?)(\d*)('?)$")
SIZE = 9.0

Place = tuple[int, int, int]


def direction(face: str) -> np.ndarray:
    axis, end = AXES[face]
    return end * np.eye(3, dtype=int)[axis]


def clockwise(face: str) -> np.ndarray:
    """The quarter turn that hands make at a face, clockwise as they see it from outside."""
    axis, end = AXES[face]
    turned = np.zeros((3, 3), dtype=int)
    turned[axis, axis] = 1
    one, two = (axis + 1) % 3, (axis + 2) % 3
    turned[one, two], turned[two, one] = end, -end
    return turned


def every_holding() -> list[np.ndarray]:
    """The 24 rotations of a cube."""
    found: dict[bytes, np.ndarray] = {}
    todo = [np.eye(3, dtype=int)]
    while todo:
        held = todo.pop()
        if held.tobytes() not in found:
            found[held.tobytes()] = held
            todo += [clockwise(face) @ held for face in "RU"]
    return list(found.values())


HOLDINGS = every_holding()


@dataclass(frozen=True, eq=False)
class Painted:
    """The solved puzzle: how many layers each way, and for each cell its painted polygons as ``(facet, corners)``."""

    layers: Place
    cells: dict[Place, tuple[tuple[str, np.ndarray], ...]]

    @property
    def solved(self) -> Held:
        return Held(self, {home: np.eye(3, dtype=int) for home in self.cells})


@dataclass(frozen=True, eq=False)
class Held:
    """A puzzle in somebody's hands: how each cell, by its home, has been rotated about the middle."""

    painted: Painted
    rotated: dict[Place, np.ndarray] = field(repr=False)

    def place(self, home: Place) -> Place:
        return tuple((self.rotated[home] @ home).tolist())

    def moved(self, rotation: np.ndarray, which=lambda place: True) -> Held:
        """The cells at ``which`` places rotated, the others left."""
        rotated = {h: rotation @ r if which(self.place(h)) else r for h, r in self.rotated.items()}
        return Held(self.painted, rotated)

    def turned(self, word: str) -> Held:
        """After the turns of a text; `ValueError` for what is none, or where layers catch."""
        held = self
        for token in word.split():
            held = held._one(token)
        return held

    def _one(self, token: str) -> Held:
        if token[0] in WHOLE:
            return self.moved(np.linalg.matrix_power(clockwise(WHOLE[token[0]]), _amount(token[1:])))
        found = TOKEN.fullmatch(token)
        if not found or len(set(found[2])) > 1:
            raise ValueError(f"{token} is no turn")
        number, letters, wide, amount, back = found.groups()
        axis, end = AXES[letters[0]]
        outer = self.painted.layers[axis] - 1 + 2 * (len(letters) - 1)
        if wide:
            deep = range(outer - 2 * (int(number or 2) - 1), outer + 1)
        else:
            deep = range(outer - 2 * (int(number or 1) - 1), outer - 2 * (int(number or 1) - 1) + 1)
        rotation = np.linalg.matrix_power(clockwise(letters[0]), _amount(amount + back))
        after = self.moved(rotation, lambda place: end * place[axis] in deep)
        places = [after.place(h) for h in after.rotated]
        if len(set(places)) < len(places):
            raise ValueError(f"{token} puts two blocks in one place")
        return after

    def look(self, paint: dict[str, str]) -> frozenset:
        """What can be seen: every painted polygon where it lies, with its paint."""
        return frozenset(
            (frozenset(map(tuple, (np.round(corners @ self.rotated[home].T, 4) + 0.0).tolist())), paint[facet])
            for home, polygons in self.painted.cells.items()
            for facet, corners in polygons
        )

    def is_done(self, paint: dict[str, str]) -> bool:
        """Whether it looks solved, however it is held."""
        seen = self.look(paint)
        return any(seen == self.painted.solved.moved(held).look(paint) for held in HOLDINGS)

    def at(self, place: Place) -> Place:
        """The home of the cell at a place."""
        return next(home for home in self.rotated if self.place(home) == place)

    def shown(self, place: Place, face: str, paint: dict[str, str]) -> str:
        """The paint on a face of the cell at a place, for puzzles whose cells show one polygon to each face."""
        home = self.at(place)
        back = self.rotated[home].T @ direction(face)
        found = [
            paint[facet] for facet, corners in self.painted.cells[home] if facet in AXES and (direction(facet) == back).all()
        ]
        return found[0]


def _amount(text: str) -> int:
    match = re.fullmatch(r"(\d*)('?)", text)
    return (int(match[1] or 1) * (-1 if match[2] else 1)) % 4


def box(sides: Place) -> Painted:
    """A cube or a box: a unit cube at each place of the surface, painted outside."""
    half = [side - 1 for side in sides]
    cells = {}
    for place in product(*(range(-h, h + 1, 2) for h in half)):
        polygons = []
        for face, (axis, end) in AXES.items():
            if place[axis] * end == half[axis]:
                others = [a for a in range(3) if a != axis]
                corners = np.array([place] * 4, dtype=float)
                corners[:, axis] += end
                corners[:, others] += [(-1, -1), (-1, 1), (1, 1), (1, -1)]
                polygons.append((face, corners))
        if polygons:
            cells[place] = tuple(polygons)
    return Painted(tuple(sides), cells)


def solid(facets: dict[str, tuple[np.ndarray, float]], cut: float) -> Painted:
    """A solid of half-spaces ``normal . x <= offset`` on three layers each way, whose outer planes lie at ``cut``."""
    bounds = {-2: (-SIZE, -cut), 0: (-cut, cut), 2: (cut, SIZE)}
    cells = {}
    for place in product((-2, 0, 2), repeat=3):
        walls = [w for axis, p in enumerate(place) for w in _slab(axis, *bounds[p])]
        polygons = []
        for name, (normal, offset) in facets.items():
            corners = _square(normal, offset)
            for other, most in [*(pair for key, pair in facets.items() if key != name), *walls]:
                corners = _clipped(corners, other, most)
            if _area(corners) > 1e-6:
                polygons.append((name, corners))
        if polygons:
            cells[place] = tuple(polygons)
    return Painted((3, 3, 3), cells)


def prism(sides: int) -> Painted:
    """The regular prism about U, one side facing F, inradius and half height 1; cut where an octagon's sides meet."""
    facets = {"U": (np.array([0.0, 1, 0]), 1.0), "D": (np.array([0.0, -1, 0]), 1.0)}
    round_trip = ["F", "FL", "L", "BL", "B", "BR", "R", "FR"]
    for i in range(sides):
        angle = 2 * np.pi * i / sides
        name = round_trip[8 * i // sides] if 8 * i % sides == 0 else f"side{i + 1}"
        facets[name] = np.array([-np.sin(angle), 0.0, np.cos(angle)]), 1.0
    return solid(facets, float(np.tan(np.pi / sides)) if sides > 5 else 1 / 3)


def askew(degrees: float) -> Painted:
    """A cube turned about U against its three layers, clockwise as seen from above."""
    angle = np.radians(degrees)
    turn = np.array([[np.cos(angle), 0, -np.sin(angle)], [0, 1, 0], [np.sin(angle), 0, np.cos(angle)]])
    return solid({face: (turn @ direction(face), 1.0) for face in AXES}, 1 / 3)


def _slab(axis: int, low: float, high: float):
    unit = np.eye(3)[axis]
    return [(unit, high), (-unit, -low)]


def _square(normal: np.ndarray, offset: float) -> np.ndarray:
    one = np.cross(normal, [1.0, 0, 0] if abs(normal[0]) < 0.9 else [0, 1.0, 0])
    one /= np.linalg.norm(one)
    two = np.cross(normal, one)
    return np.array([normal * offset + SIZE * (a * one + b * two) for a, b in ((1, 1), (-1, 1), (-1, -1), (1, -1))])


def _clipped(corners: np.ndarray, normal: np.ndarray, most: float) -> np.ndarray:
    """The part of a polygon where ``normal . x <= most``: I. Sutherland, G. Hodgman, Comm. ACM 17 (1974) 32-42."""
    kept = []
    heights = [float(normal @ c) - most for c in corners]
    for k in range(len(corners)):
        here, there = corners[k - 1], corners[k]
        a, b = heights[k - 1], heights[k]
        if a * b < 0 and min(abs(a), abs(b)) > 1e-9:
            kept.append(here + (there - here) * (a / (a - b)))
        if b <= 1e-9:
            kept.append(there)
    return np.array(kept).reshape(-1, 3)


def _area(corners: np.ndarray) -> float:
    if len(corners) < 3:
        return 0.0
    return (
        float(
            np.linalg.norm(sum(np.cross(a - corners[0], b - corners[0]) for a, b in zip(corners[1:], corners[2:], strict=False)))
        )
        / 2
    )


def mixed(held: Held, turns: list[str], length: int, dice: random.Random) -> Held:
    """After so many turns drawn at random."""
    return held.turned(" ".join(dice.choice(turns) for _ in range(length)))
