"""Cut a solid by the planes of a mechanism: pieces, slots, kinds, twists, labels and turns follow from the geometry.

Method: split the solid by every plane; follow each piece's placements (rotations, as indices) under the turns. The
placements of a piece that keep its slot form a finite group of rotations about one axis, so a cyclic group: the
twists. A placement of a piece of home a in slot b is *back to the base slot, twist, out to b*.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from oddswap.errors import BadSolid
from oddswap.puzzles.geometry import Body, Geometry, Mark
from oddswap.puzzles.looks import looks_of
from oddswap.puzzles.mechanism import Cell, Mechanism, Slab
from oddswap.puzzles.polytope import Face, Polytope, split
from oddswap.puzzles.puzzle import Kind, Puzzle, Turn
from oddswap.puzzles.shapes import Solid
from oddswap.values.alphabet import Alphabet
from oddswap.values.sequence import Step

SLIVER = 0.02
"""Pieces thinner than this (in half-edges) are refused: nobody could make or hold them."""


def cut_solid(
    name: str,
    title: str,
    solid: Solid,
    mechanism: Mechanism,
    alphabet: Alphabet,
    marked: frozenset[str] = frozenset(),
    hidden: frozenset[str] = frozenset(),
) -> Puzzle:
    """The puzzle that ``mechanism`` makes of ``solid``.

    ``marked`` are families whose facets bear a mark that shows their turn; ``hidden`` are families that are not there
    to be seen (no pieces at all). Raises `BadSolid` for slivers, lost pieces and cuts that do not close.
    """
    cells = _cells(solid, mechanism)
    bodies, inner = _sort_out(cells, mechanism, hidden)
    orbits = _orbits(list(bodies), mechanism)
    kinds, order, placements = [], [], []
    first = start = 0
    for orbit in orbits:
        chart = _chart(orbit, mechanism)
        slots = tuple(mechanism.name_cell(cell)[0] for cell in chart.cells)
        family = mechanism.name_cell(chart.cells[0])[1]
        kinds.append(Kind(slots[0] if len(slots) == 1 else family, family, slots, chart.twist, first, start))
        order.extend(chart.cells)
        placements.extend(chart.placements)
        first += len(chart.placements)
        start += len(slots)
    kinds = _with_names_of_their_own(kinds)
    home = tuple(_body(cell, bodies[cell], mechanism.name_cell(cell)[1] in marked) for cell in order)
    placed = np.array(placements)
    looks, near_misses = looks_of(kinds, home, placed, mechanism.rotations, {f.name: f.paint for f in solid.facets})
    geometry = Geometry(
        mechanism=mechanism,
        bodies=home,
        inner=tuple(Body(cell, body.faces) for cell, body in inner.items()),
        placements=placed,
        facets=MappingProxyType({f.name: f.normal for f in solid.facets}),
        paints=MappingProxyType({f.name: f.paint for f in solid.facets}),
        near_misses=near_misses,
    )
    turns: dict[str, Turn] = {}
    for slab in mechanism.slabs:
        turns |= _powers(slab, alphabet, kinds, order, placed, mechanism)
    rotations: dict[str, Turn] = {}
    for letter, axis, times in mechanism.whole:
        everything = Slab(letter, 0, times, axis, ())
        rotations |= _powers(everything, alphabet, kinds, order, placed, mechanism)
    return Puzzle(
        name=name,
        title=title,
        kinds=tuple(kinds),
        turns=MappingProxyType(turns),
        alphabet=alphabet,
        looks=looks,
        rotations=MappingProxyType(rotations),
        geometry=geometry,
        notes=near_misses,
    )


def _cells(solid: Solid, mechanism: Mechanism) -> dict[Cell, Polytope]:
    parts: list[tuple[Cell, Polytope]] = [((), solid.body())]
    for normal, offset in zip(mechanism.normals, mechanism.offsets, strict=True):
        following = []
        for signs, body in parts:
            below, beyond = split(body, normal, float(offset))
            if below is not None:
                following.append(((*signs, -1), below))
            if beyond is not None:
                following.append(((*signs, 1), beyond))
        parts = following
    return dict(parts)


def _sort_out(cells: dict[Cell, Polytope], mechanism: Mechanism, hidden: frozenset[str]):
    """Pieces that can be seen, and bodies that stay inside; slivers and lost pieces are refused."""
    bodies, inner = {}, {}
    for cell, body in cells.items():
        name, family = mechanism.name_cell(cell)
        if family in hidden:
            continue
        seen = any(face.facet is not None for face in body.faces)
        if not name or not seen:
            inner[cell] = body
            continue
        if body.thickness < SLIVER:
            raise BadSolid(
                f"the cuts leave a sliver at {name}, thinner than {SLIVER} of the half-edge: move the cut or the solid"
            )
        bodies[cell] = body
    for cell in bodies:
        for slab in mechanism.slabs:
            if slab.holds(cell):
                target = mechanism.carry(cell, mechanism.rotation(slab.axis, slab.order))
                if target not in bodies:
                    lost = mechanism.name_cell(target)[0] or "inside"
                    raise BadSolid(f"the solid has no piece at {lost}: the cuts miss it there, so move them inwards")
    return bodies, inner


def _orbits(cells: list[Cell], mechanism: Mechanism) -> list[list[Cell]]:
    """The cells by orbit under the turns, orbits by how many faces they touch, cells in the order of their names."""

    def key(cell: Cell):
        faces, _, rest = mechanism.name_cell(cell)[0].partition(".")
        return -len(faces), ["UDFBLR".find(c) for c in faces], rest

    rest, orbits = sorted(cells, key=key), []
    while rest:
        orbit, queue = {rest[0]}, [rest[0]]
        while queue:
            cell = queue.pop()
            for target, _ in _steps(cell, mechanism):
                if target not in orbit:
                    orbit.add(target)
                    queue.append(target)
        orbits.append([cell for cell in rest if cell in orbit])
        rest = [cell for cell in rest if cell not in orbit]
    return orbits


def _steps(cell: Cell, mechanism: Mechanism):
    """Where one turn, or one whole rotation, can take a cell: ``(cell, rotation)`` pairs."""
    for slab in mechanism.slabs:
        if slab.holds(cell):
            rotation = mechanism.rotation(slab.axis, slab.order)
            yield mechanism.carry(cell, rotation), rotation
    for _, axis, order in mechanism.whole:
        rotation = mechanism.rotation(axis, order)
        yield mechanism.carry(cell, rotation), rotation


@dataclass(frozen=True, eq=False)
class Chart:
    """An orbit's slots in order, its order of twist, and the placement (a rotation from the base) of each label."""

    cells: list[Cell]
    twist: int
    placements: list[int]


def _chart(cells: list[Cell], mechanism: Mechanism) -> Chart:
    table, base = mechanism.rotations, cells[0]
    reached, queue = {0: base}, [0]
    while queue:
        placement = queue.pop()
        for target, rotation in _steps(reached[placement], mechanism):
            following = int(table.then[placement, rotation])
            if following not in reached:
                reached[following] = target
                queue.append(following)
    keeping = [r for r, cell in reached.items() if cell == base]
    one_step = _smallest_clockwise(keeping, base, mechanism)
    placements = []
    for cell in cells:
        reference = min(
            (r for r, where in reached.items() if where == cell),
            key=lambda r: (not _keeps_first_face(base, cell, r, mechanism), r),
        )
        twisted = reference
        powers = [0]
        for _ in range(len(keeping)):
            powers.append(int(table.then[powers[-1], one_step]))
        placements.extend(int(table.then[power, twisted]) for power in powers[:-1])
    return Chart(cells, len(keeping), placements)


def _smallest_clockwise(keeping: list[int], base: Cell, mechanism: Mechanism) -> int:
    if len(keeping) == 1:
        return 0
    outward = _outward(base, mechanism)
    for rotation in keeping:
        matrix = mechanism.rotations.matrices[rotation]
        angle = 2 * np.pi / len(keeping)
        off_axis = np.array([matrix[2, 1] - matrix[1, 2], matrix[0, 2] - matrix[2, 0], matrix[1, 0] - matrix[0, 1]])
        if abs(np.trace(matrix) - 1 - 2 * np.cos(angle)) < 1e-6 and (
            len(keeping) == 2 or off_axis @ outward < 0
        ):
            return rotation
    raise BadSolid(f"the placements at {mechanism.name_cell(base)[0]} are not turns about one axis")


def _outward(cell: Cell, mechanism: Mechanism) -> np.ndarray:
    """A direction that points out of the puzzle through a cell."""
    direction = np.zeros(3)
    for slab in mechanism.slabs:
        if slab.holds(cell) and slab.depth == 1:
            direction = direction + np.array(slab.axis)
    return direction


def _keeps_first_face(base: Cell, cell: Cell, rotation: int, mechanism: Mechanism) -> bool:
    names = mechanism.name_cell(base)[0], mechanism.name_cell(cell)[0]
    if not all(name and name[0] in mechanism.directions for name in names):
        return True
    was, now = (mechanism.directions[name[0]] for name in names)
    return bool(np.allclose(mechanism.rotations.matrices[rotation] @ was, now))


def _with_names_of_their_own(kinds: list[Kind]) -> list[Kind]:
    """One-slot kinds are called by their slot; where several kinds share a family, their first slot tells them apart."""
    named = []
    for kind in kinds:
        shared = [k for k in kinds if k.family == kind.family]
        name = kind.family if len(shared) == 1 else f"{kind.family} {kind.slots[0]}"
        if len(kind.slots) == 1:
            name = f"{kind.family.removesuffix('s')} {kind.slots[0]}"
        named.append(Kind(name, kind.family, kind.slots, kind.twist, kind.first, kind.start))
    return named


def _body(cell: Cell, body: Polytope, marked: bool) -> Body:
    if not marked:
        return Body(cell, body.faces)
    marks = [Mark(i, _arrow(face)) for i, face in enumerate(body.faces) if face.facet is not None]
    return Body(cell, body.faces, tuple(marks))


def _arrow(face: Face) -> np.ndarray:
    """A wedge on a face, from its middle towards the middle of its first side: shows how far the face is turned."""
    towards = (face.vertices[0] + face.vertices[1]) / 2 - face.centre
    across = np.cross(face.normal, towards)
    return np.array(
        [
            face.centre + 0.72 * towards,
            face.centre - 0.28 * towards - 0.34 * across,
            face.centre - 0.28 * towards + 0.34 * across,
        ]
    )


def _powers(
    slab: Slab,
    alphabet: Alphabet,
    kinds: list[Kind],
    cells: list[Cell],
    placements: np.ndarray,
    mechanism: Mechanism,
) -> dict[str, Turn]:
    """The turns of one slab by every amount, named as written: R, R2, R'."""
    rotation = mechanism.rotation(slab.axis, slab.order)
    table = mechanism.rotations
    image = np.arange(len(placements))
    for kind in kinds:
        label_at = {int(placements[label]): label for label in kind.labels}
        for label in kind.labels:
            if slab.holds(cells[kind.start + (label - kind.first) // kind.twist]):
                image[label] = label_at[int(table.then[placements[label], rotation])]
    moving = frozenset(i for i, cell in enumerate(cells) if slab.holds(cell))
    circle = alphabet.turns_to_the_circle(slab.face)
    turns, power = {}, np.arange(len(placements))
    for amount in range(1, slab.order):
        power = image[power]
        power.setflags(write=False)
        step = Step(slab.face, slab.depth, slab.depth, amount * circle // slab.order, circle)
        angle = step.amount * 2 * np.pi / circle
        turns[str(step)] = Turn(str(step), step, power, slab.axis, angle, moving, whole=not slab.walls)
    return turns
