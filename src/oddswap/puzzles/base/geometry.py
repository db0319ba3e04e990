"""The geometry of a cut solid as the pictures need it: every piece's polygons, and where a turn takes them."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from oddswap.puzzles.base.mechanism import Cell, Mechanism
from oddswap.puzzles.base.polytope import Face


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
