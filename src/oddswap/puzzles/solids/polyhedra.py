"""The face-turning tetrahedron, octahedron and dodecahedron, and the cube that turns about its corners.

Facets are called by letters (see each picture); a slot is called by the facets that it touches, and a turn by the face or
the corner that it turns about. Cuts are parallel to faces, or through the middle at right angles to a corner's axis.
"""

from collections.abc import Iterable, Mapping
from itertools import combinations
from string import ascii_uppercase

import numpy as np

from oddswap.errors import BadOption, UnknownPuzzle, quoted
from oddswap.puzzles.base.mechanism import DIRECTIONS, Cell, Mechanism, Slab
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.space import Polytope, turn_matrix
from oddswap.puzzles.solids.cutting import cut_solid
from oddswap.puzzles.solids.shapes import Facet, Solid, cuboid_solid
from oddswap.values.sequence import Alphabet

FAMILY_NAMES = {1: "centres", 2: "edges"}
Cuts = Mapping[str, tuple[np.ndarray, float, int]]
"""By letter the unit normal of a cut, how far out it lies, and how many turns of what is beyond it make a full circle."""


def face_turning(name: str, size: str, options: dict[str, str]) -> Puzzle:
    """Return the solid that a name begins with; the tetrahedron takes the option ``tips``."""
    family = name.partition(",")[0].partition(":")[0].strip()
    if size:
        raise UnknownPuzzle(f"{family} takes no size: leave out {quoted(':' + size)}")
    if family == "tetrahedron":
        tips = options.pop("tips", "yes")
        if tips not in ("yes", "no"):
            raise BadOption(f"{quoted(f'tips={tips}')} is not offered: write yes or no")
        return tetrahedron(name, tips == "yes")
    return {"octahedron": octahedron, "dodecahedron": dodecahedron, "corner-cube": corner_cube}[family](name)


def tetrahedron(name: str, tips: bool) -> Puzzle:
    """The tetrahedron whose faces' layers turn, said from the corner opposite: a corner's block of two layers turns.

    Edges are cut in three. The block of a corner is what lies above the middle cut; its small tip turns too, if ``tips``,
    and is called by the same letters in lower case. The corner pieces under the tips only turn in place, so they fix the
    holding.
    """
    normals = _tetrahedron_normals()
    solid = _faces_solid(normals)
    slabs, planes, offsets = [], [], []
    for corner in combinations(normals, 3):
        (opposite,) = set(normals) - set(corner)
        axis = tuple(-normals[opposite])
        block = "".join(_sorted(corner))
        planes.append(-normals[opposite])
        offsets.append(1 / 3)
        if tips:
            planes.append(-normals[opposite])
            offsets.append(5 / 3)
            slabs.append(Slab(block.lower(), 1, 3, axis, ((len(planes) - 1, 1),)))
        slabs.append(Slab(block, 1, 3, axis, ((len(planes) - (2 if tips else 1), 1),)))
    tip_planes = [i for i, offset in enumerate(offsets) if offset > 1]

    def name_cell(cell: Cell, body: Polytope | None) -> tuple[str, str]:
        faces, family = _by_facets(body)
        if any(cell[i] > 0 for i in tip_planes):
            return f"{faces}.tip", "tips"
        return faces, family

    title = "face-turning tetrahedron" + ("" if tips else " without its tips")
    mechanism = Mechanism(np.array(planes), np.array(offsets), tuple(slabs), normals, name_cell)
    return cut_solid(name, title, solid, mechanism, Alphabet(tuple(s.face for s in slabs), 3))


def octahedron(name: str) -> Puzzle:
    """The octahedron whose eight faces turn by thirds, each axis cut in three; the middle slabs stay with the core."""
    normals = {
        letter: np.array(signs) / 3**0.5
        for letter, signs in zip(
            "ABCDEFGH",
            [(1, 1, 1), (-1, 1, 1), (-1, 1, -1), (1, 1, -1), (1, -1, 1), (-1, -1, 1), (-1, -1, -1), (1, -1, -1)],
            strict=True,
        )
    }
    cuts = {letter: (normal, 1 / 3, 3) for letter, normal in normals.items()}
    return turned_beyond_cuts(name, "face-turning octahedron", _faces_solid(normals), cuts, whole="AB")


def dodecahedron(name: str) -> Puzzle:
    """The dodecahedron whose twelve faces turn by fifths; A is on top, B at the front, then clockwise, L below."""
    normals = _dodecahedron_normals()
    cuts = {letter: (normal, 0.75, 5) for letter, normal in normals.items()}
    return turned_beyond_cuts(name, "face-turning dodecahedron", _faces_solid(normals), cuts)


def corner_cube(name: str) -> Puzzle:
    """The cube of which half turns about a corner by thirds, cut through the middle at right angles to its diagonals."""
    return cut_solid(name, "corner-turning cube", cuboid_solid((1.0, 1.0, 1.0)), *corner_mechanism())


def corner_mechanism() -> tuple[Mechanism, Alphabet]:
    """The mechanism of the corner-turning cube, whatever solid is around it, and the names of its turns.

    Named are four corners, no two of them neighbours: they only turn in place, so they fix the holding, and the turn about
    any other corner is the opposite one's with the puzzle held differently.
    """
    corners = ("UFR", "UBL", "DFL", "DBR")
    axes = np.array([sum((DIRECTIONS[c] for c in corner), np.zeros(3)) / 3**0.5 for corner in corners])
    slabs = tuple(Slab(corner, 1, 3, tuple(axis), ((i, 1),)) for i, (corner, axis) in enumerate(zip(corners, axes, strict=True)))

    def name_cell(cell: Cell, _: Polytope | None) -> tuple[str, str]:
        middle = np.array(cell) @ axes
        faces = "".join(face for face, way in DIRECTIONS.items() if middle @ way > 0.1)
        return faces, {1: "centres", 3: "corners"}.get(len(faces), "")

    return Mechanism(axes, np.zeros(4), slabs, DIRECTIONS, name_cell, outer=14), Alphabet(corners, 3)


def turned_beyond_cuts(name: str, title: str, solid: Solid, cuts: Cuts, whole: Iterable[str] = ()) -> Puzzle:
    """The solid of which turns what lies beyond each cut, and all of it about the axes of the cuts ``whole``."""
    letters = tuple(cuts)
    normals, offsets, _ = (np.array(part) for part in zip(*cuts.values(), strict=True))
    slabs = tuple(Slab(letter, 1, turns, tuple(n), ((i, 1),)) for i, (letter, (n, _, turns)) in enumerate(cuts.items()))
    directions = {facet.name: facet.normal for facet in solid.facets}
    held = tuple((f"whole{letter}", tuple(cuts[letter][0]), cuts[letter][2]) for letter in whole)
    mechanism = Mechanism(normals, offsets, slabs, directions, lambda *cut: _by_facets_and_layers(*cut, letters), held)
    orders = {letter: turns for letter, (_, _, turns) in cuts.items()} | {name: turns for name, _, turns in mechanism.whole}
    alphabet = Alphabet(letters, orders, names=tuple(name for name, _, _ in mechanism.whole))
    return cut_solid(name, title, solid, mechanism, alphabet)


def _faces_solid(normals: dict[str, np.ndarray]) -> Solid:
    return Solid(tuple(Facet(letter, normal, 1.0, letter) for letter, normal in normals.items()))


def _by_facets(body: Polytope | None) -> tuple[str, str]:
    if body is None:
        return "", ""
    letters = "".join(_sorted({face.facet for face in body.faces if face.facet is not None}))
    return letters, FAMILY_NAMES.get(len(letters), "corners") if letters else ""


def _by_facets_and_layers(cell: Cell, body: Polytope | None, letters: tuple[str, ...]) -> tuple[str, str]:
    """The facets that a piece touches, then in lower case the other layers in which it lies."""
    name, family = _by_facets(body)
    others = [letter.lower() for letter, sign in zip(letters, cell, strict=True) if sign > 0 and letter not in name]
    return name + ("." + "".join(sorted(others)) if name and others else ""), family


def _sorted(letters) -> list[str]:
    """In the order U D F B L R, or by the alphabet where facets have other letters."""
    order = "UDFBLR" if set(letters) <= set("UDFBLR") else ascii_uppercase
    return sorted(letters, key=order.index)


def _tetrahedron_normals() -> dict[str, np.ndarray]:
    """D below; F to the viewer, L and R behind it to the left and to the right."""
    down = np.array([0.0, -1.0, 0.0])
    front = np.array([0.0, 1 / 3, 8**0.5 / 3])
    normals = {"D": down, "F": front}
    normals["L"] = turn_matrix((0, 1, 0), 2 * np.pi / 3) @ front
    normals["R"] = turn_matrix((0, 1, 0), -2 * np.pi / 3) @ front
    return normals


def _dodecahedron_normals() -> dict[str, np.ndarray]:
    top = np.array([0.0, 1.0, 0.0])
    tilt = np.arctan(2)
    front = np.array([0.0, np.cos(tilt), np.sin(tilt)])
    upper = [turn_matrix(top, 2 * np.pi * k / 5) @ front for k in range(5)]
    lower = [-upper[(k + 2) % 5] for k in range(5)]
    return dict(zip("ABCDEFGHIJKL", [top, *upper, *lower, -top], strict=True))
