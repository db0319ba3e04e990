"""The moving part of a puzzle: cut planes, the slabs between them, their turns; and every piece's polygons, for the pictures.

A *cell* is a region between the planes, named by one sign per plane (+1 beyond it, -1 before it). A turn takes the
cells of its slab to cells again; where it does not, the cuts do not come back onto themselves and are refused.
Frame: x to the right (R), y up (U), z to the viewer (F). Clockwise is as seen from outside.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from oddswap.errors import BadSolid
from oddswap.puzzles.base.space import Face, Polytope, RotationTable, generate, turn_matrix
from oddswap.values.sequence import ROTATIONS

Cell = tuple[int, ...]

DIRECTIONS = {
    "U": np.array([0.0, 1.0, 0.0]),
    "D": np.array([0.0, -1.0, 0.0]),
    "F": np.array([0.0, 0.0, 1.0]),
    "B": np.array([0.0, 0.0, -1.0]),
    "L": np.array([-1.0, 0.0, 0.0]),
    "R": np.array([1.0, 0.0, 0.0]),
}


AXIS = {face: int(np.abs(way).argmax()) for face, way in DIRECTIONS.items()}
"""The number of the axis, x, y or z, on which a face lies."""


@dataclass(frozen=True)
class Slab:
    """What turns together: cells whose signs agree with ``walls``, as ``(plane, sign)`` pairs.

    ``depth`` counts from the face that names it, 1 being the outer one; ``order`` turns make a full circle.
    """

    face: str
    depth: int
    order: int
    axis: tuple[float, float, float]
    walls: tuple[tuple[int, int], ...]

    def holds(self, cell: Cell) -> bool:
        return all(cell[plane] == sign for plane, sign in self.walls)


@dataclass(frozen=True, eq=False)
class Mechanism:
    """Planes ``normals . x = offsets``, the slabs that may turn, and the directions that a slot's letters name.

    ``name_cell`` gives a cell with the body in it its slot's name and the family of its kind, ``("", "")`` for an inner cell.
    ``whole`` are whole-puzzle rotations that join the moves: letter, axis, and how many make a full circle. ``outer`` is
    how many cells must hold a piece that can be seen; 0 where the solid decides.
    """

    normals: np.ndarray
    offsets: np.ndarray
    slabs: tuple[Slab, ...]
    directions: Mapping[str, np.ndarray]
    name_cell: Callable[[Cell, Polytope | None], tuple[str, str]]
    whole: tuple[tuple[str, tuple[float, float, float], int], ...] = ()
    outer: int = 0

    @cached_property
    def rotations(self) -> RotationTable:
        quarter = [turn_matrix(s.axis, 2 * np.pi / s.order) for s in self.slabs]
        return generate([*quarter, *(turn_matrix(axis, 2 * np.pi / order) for _, axis, order in self.whole)])

    def rotation(self, axis, order: int) -> int:
        """The index of the smallest clockwise turn about ``axis``."""
        return self.rotations.index(turn_matrix(axis, 2 * np.pi / order))

    def plane_images(self, matrix: np.ndarray) -> np.ndarray:
        """Onto which plane a rotation or reflection takes each, plus one: negative when its side flips, 0 if onto none."""
        turned = self.normals @ matrix.T
        images = np.zeros(len(turned), dtype=int)
        for sign in (1, -1):
            near = np.abs(turned[:, None] - sign * self.normals[None]).max(axis=2) < 1e-7
            near &= np.abs(self.offsets[:, None] - sign * self.offsets[None]) < 1e-7
            hit = near.any(axis=1)
            images[hit] = sign * (near[hit].argmax(axis=1) + 1)
        return images

    @cached_property
    def _images_by_rotation(self) -> list[np.ndarray]:
        return [self.plane_images(matrix) for matrix in self.rotations.matrices]

    def carry(self, cell: Cell, rotation: int) -> Cell:
        """Where ``rotation`` takes a cell."""
        image = self._images_by_rotation[rotation]
        if not image.all():
            reason = "the cuts do not come back onto themselves: give planes that every turn takes to planes"
            raise BadSolid(reason)
        signs = [0] * len(cell)
        for sign, target in zip(cell, image, strict=True):
            signs[abs(target) - 1] = sign if target > 0 else -sign
        return tuple(signs)


Planes = tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]
"""How far out the planes across x, y and z lie, each from the lowest on."""


def even_planes(counts: tuple[int, int, int], cut: float) -> Planes:
    """The planes that make ``counts`` slabs along x, y, z: three of width ``2 * cut``, or equal ones between the outermost.

    ``cut`` is the distance of the outermost planes from the middle of the longest axis, in half-edges.

    >>> even_planes((2, 3, 1), 0.25)
    ((0.0,), (-0.25, 0.25), ())
    """
    longest = max(counts)
    width = 2 * cut / (longest - 2) if longest > 2 else 1.0
    x, y, z = (tuple((k - n / 2) * width for k in range(1, n)) for n in counts)
    return x, y, z


def grid_mechanism(planes: Planes, centres: bool = True) -> Mechanism:
    """The slabs between the ``planes`` (half-edges) of each axis.

    On an axis with an odd number of slabs the middle one stays, because it carries the core. Without visible centres, or where
    an axis has an even number, nothing fixes the holding and whole-puzzle rotations join the moves.
    """
    counts = len(planes[0]) + 1, len(planes[1]) + 1, len(planes[2]) + 1
    start = {0: 0, 1: len(planes[0]), 2: len(planes[0]) + len(planes[1])}
    normals, slabs = np.repeat(np.eye(3), [len(offsets) for offsets in planes], axis=0), []
    order = [4 if len({*counts[:axis], *counts[axis + 1 :]}) == 1 else 2 for axis in range(3)]
    for face, way in DIRECTIONS.items():
        axis, sign = AXIS[face], int(way.sum())
        for depth in range(1, counts[axis] // 2 + 1):
            inner = start[axis] + (counts[axis] - 1 - depth if sign > 0 else depth - 1)
            outer = [(inner + sign, -sign)] if depth > 1 else []
            slabs.append(Slab(face, depth, order[axis], tuple(way), ((inner, sign), *outer)))
    free = not centres or any(n % 2 == 0 for n in counts)
    whole = [(name, tuple(DIRECTIONS[face]), order[AXIS[face]]) for name, face in ROTATIONS.items()] if free else []
    outer = math.prod(counts) - math.prod(max(n - 2, 0) for n in counts)

    def name_cell(cell: Cell, _: Polytope | None) -> tuple[str, str]:
        return name_grid_cell(cell, counts, start)

    return Mechanism(normals, np.concatenate(planes), tuple(slabs), DIRECTIONS, name_cell, tuple(whole), outer)


def name_grid_cell(cell: Cell, counts: tuple[int, int, int], start: dict[int, int]) -> tuple[str, str]:
    """The canonical slot name of a grid cell, and the family of its kind; ``("", "")`` for an inner cell.

    Touched faces in the order U D F B L R; where that is not unique, the layers counted from the nearer named face.
    """
    position = [sum(sign > 0 for sign in cell[start[axis] : start[axis] + counts[axis] - 1]) for axis in range(3)]
    faces, inner, off_middle, axes = "", [], [], 0
    for low, high, axis in (("D", "U", 1), ("B", "F", 2), ("L", "R", 0)):
        n, p = counts[axis], position[axis]
        touched = [high] * (p == n - 1) + [low] * (p == 0)
        faces += "".join(touched)
        axes += bool(touched)
        if not touched:
            depth_high, depth_low = n - p, p + 1
            near = (high, depth_high) if depth_high <= depth_low else (low, depth_low)
            off_middle.append(0 if depth_high == depth_low else near[1])
            if depth_high != depth_low:
                inner.append(f"{near[0].lower()}{near[1]}")
    faces = "".join(sorted(faces, key="UDFBLR".index))
    if not faces:
        return "", ""
    return faces + ("." + "".join(inner) if inner else ""), _family(axes, off_middle)


CENTRES = frozenset({"centres", "T-centres", "diagonal centres", "oblique centres"})
"""The families of grid cells that show on one face only."""


def _family(touched: int, off_middle: list[int]) -> str:
    """The word for a grid cell that reaches the outside along ``touched`` axes."""
    if touched >= 3:
        return "corners"
    if touched == 2:
        return "edges" if off_middle == [0] else "wings"
    if off_middle == [0, 0]:
        return "centres"
    if 0 in off_middle:
        return "T-centres"
    return "diagonal centres" if len(set(off_middle)) == 1 else "oblique centres"


@dataclass(frozen=True, eq=False)
class Mark:
    """A drawing on a facet that shows how far it is turned: a polygon (k, 3) on the face ``face`` of its piece."""

    face: int
    vertices: np.ndarray


@dataclass(frozen=True, eq=False)
class Body:
    """One piece at home: its cell, its polygons, and marks on them, if any."""

    cell: Cell
    faces: tuple[Face, ...]
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True, eq=False)
class Geometry:
    """``bodies[p]`` for the piece of home slot p; ``inner`` for what never moves against the core and shows no facet.

    ``placements[j]`` is, for label j = (slot, twist), the rotation that takes the piece at the base slot of the
    kind (its first) to that slot with that twist. ``facets`` maps each facet's name to its outward unit normal and
    ``paints`` to the facet that gives it its colour (itself, unless facets share one).
    """

    mechanism: Mechanism
    bodies: tuple[Body, ...]
    inner: tuple[Body, ...]
    placements: np.ndarray
    facets: Mapping[str, np.ndarray]
    paints: Mapping[str, str]

    def paints_of(self, body: Body) -> frozenset[str]:
        """The paints that a piece shows."""
        return frozenset(self.paints[face.facet] for face in body.faces if face.facet)

    def rotation_of(self, base_label: np.ndarray, kind_twist: int, home: int, slot: int, twist: int) -> int:
        """The rotation (an index) that a piece of ``home`` has made when it sits in ``slot`` with ``twist``."""
        table = self.mechanism.rotations
        back = table.inverse[self.placements[base_label[home]]]
        return int(table.then[back, self.placements[base_label[slot] + twist % kind_twist]])
