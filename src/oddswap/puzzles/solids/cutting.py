"""Cut a solid by the planes of a mechanism: pieces, slots, kinds, twists, labels and turns follow from the geometry.

Method: split the solid by every plane, name the cells that show something of the outside, follow each piece's
placements under the turns (see `charts`), compare the pieces' coloured shapes (see `looks`), and write every turn as a
permutation of labels.
"""

from collections import Counter
from types import MappingProxyType

import numpy as np

from oddswap.errors import BadSolid
from oddswap.puzzles.base.mechanism import Body, Cell, Geometry, Mark, Mechanism, Slab
from oddswap.puzzles.base.puzzle import Kind, Puzzle, Turn
from oddswap.puzzles.base.space import Face, Polytope, split
from oddswap.puzzles.solids.charts import Names, chart, orbits
from oddswap.puzzles.solids.looks import looks_of
from oddswap.puzzles.solids.shapes import Solid
from oddswap.values.sequence import Alphabet, Step

SLIVER = 0.02
"""Pieces thinner than this (in half-edges) are refused: nobody could make or hold them."""
TOP = {"U": "B", "D": "F", "F": "U", "B": "U", "L": "U", "R": "U"}
"""What is at the top when a face of a box is looked at: the marks of one face point there."""


def cut_solid(
    name: str,
    title: str,
    solid: Solid,
    mechanism: Mechanism,
    alphabet: Alphabet,
    marked: frozenset[str] = frozenset(),
    hidden: frozenset[str] = frozenset(),
    buried: frozenset[str] = frozenset(),
) -> Puzzle:
    """The puzzle that ``mechanism`` makes of ``solid``.

    ``marked`` are families whose facets bear a mark that shows their turn; ``hidden`` are families that are not there
    to be seen (no pieces at all); ``buried`` are families that move although nothing of them shows. Raises `BadSolid` for
    slivers, lost pieces and cuts that do not close.
    """
    bodies, inner, names = _sort_out(_cells(solid, mechanism), mechanism, hidden, buried)
    charts = [chart(orbit, names, mechanism) for orbit in orbits(names, mechanism)]
    cells = [cell for one in charts for cell in one.cells]
    placements = np.array([placement for one in charts for placement in one.placements])
    kinds, first, start = [], 0, 0
    for one in charts:
        family = names[one.cells[0]][1]
        kinds.append(Kind(family, family, tuple(names[cell][0] for cell in one.cells), one.twist, first, start))
        first, start = first + len(one.placements), start + len(one.cells)
    kinds = _with_names_of_their_own(kinds)
    home = tuple(_body(cell, bodies[cell], names[cell][1] in marked, mechanism) for cell in cells)
    paints = {f.name: f.paint for f in solid.facets}
    looks, nearly = looks_of(kinds, home, placements, mechanism.rotations, paints)
    hidden_bodies = tuple(Body(cell, body.faces) for cell, body in inner.items())
    facets = MappingProxyType({f.name: f.normal for f in solid.facets})
    geometry = Geometry(mechanism, home, hidden_bodies, placements, facets, MappingProxyType(paints))
    turns: dict[str, Turn] = {}
    for slab in mechanism.slabs:
        turns |= _powers(slab, alphabet, kinds, cells, geometry)
    rotations: dict[str, Turn] = {}
    for letter, axis, times in mechanism.whole:
        rotations |= _powers(Slab(letter, 0, times, axis, ()), alphabet, kinds, cells, geometry)
    made, whole = MappingProxyType(turns), MappingProxyType(rotations)
    return Puzzle(name, title, tuple(kinds), made, alphabet, looks, whole, geometry, nearly=nearly)


def _cells(solid: Solid, mechanism: Mechanism) -> dict[Cell, Polytope]:
    parts: dict[Cell, Polytope] = {(): solid.body()}
    for normal, offset in zip(mechanism.normals, mechanism.offsets, strict=True):
        halves = ((cell, zip((-1, 1), split(body, normal, float(offset)), strict=True)) for cell, body in parts.items())
        parts = {(*cell, sign): half for cell, both in halves for sign, half in both if half is not None}
    return parts


def _sort_out(
    cells: dict[Cell, Polytope], mechanism: Mechanism, hidden: frozenset[str], buried: frozenset[str]
) -> tuple[dict[Cell, Polytope], dict[Cell, Polytope], Names]:
    """Pieces that can be seen, bodies that stay inside, and names; slivers and lost pieces are refused."""
    bodies, inner, names = {}, {}, {}
    gone = 0
    for cell, body in cells.items():
        name, family = mechanism.name_cell(cell, body)
        if family in hidden:
            gone += 1
            continue
        if not name or (family not in buried and all(face.facet is None for face in body.faces)):
            inner[cell] = body
            continue
        if body.thickness < SLIVER:
            reason = f"the cuts leave a sliver at {name}, thinner than {SLIVER} of the half-edge: move the cut or the solid"
            raise BadSolid(reason)
        bodies[cell], names[cell] = body, (name, family)
    names = _told_apart(names)
    for cell in bodies:
        for slab in mechanism.slabs:
            if slab.holds(cell):
                target = mechanism.carry(cell, mechanism.rotation(slab.axis, slab.order))
                if target not in bodies:
                    lost = mechanism.name_cell(target, None)[0] or f"where {slab.face} takes {names[cell][0]}"
                    raise BadSolid(f"the solid has no piece at {lost}: the cuts miss it there, so move them inwards")
    if len(bodies) + gone < mechanism.outer:
        lacking = mechanism.outer - len(bodies) - gone
        raise BadSolid(f"the cuts miss the solid at {lacking} of the {mechanism.outer} slots: move the cuts inwards")
    return bodies, inner, names


def _told_apart(names: Names) -> Names:
    """Slots that would share a name get numbers."""
    counts = Counter(name for name, _ in names.values())
    used: Counter[str] = Counter()
    apart = {}
    for cell, (name, family) in names.items():
        used[name] += 1
        apart[cell] = (f"{name}{'' if '.' in name else '.'}{used[name]}" if counts[name] > 1 else name, family)
    return apart


def _with_names_of_their_own(kinds: list[Kind]) -> list[Kind]:
    """One-slot kinds are called by their slot; where kinds share a family, one of their slots tells them apart."""
    named = []
    for kind in kinds:
        shared = [k for k in kinds if k.family == kind.family]
        name = kind.family if len(shared) == 1 else f"{kind.family} like {kind.slots[0]}"
        if len(kind.slots) == 1:
            name = f"{kind.family.removesuffix('s')} {kind.slots[0]}"
        named.append(Kind(name, kind.family, kind.slots, kind.twist, kind.first, kind.start))
    return named


def _body(cell: Cell, body: Polytope, marked: bool, mechanism: Mechanism) -> Body:
    faces = enumerate(body.faces)
    marks = [Mark(i, _wedge(face, mechanism)) for i, face in faces if marked and face.facet in TOP]
    return Body(cell, body.faces, tuple(marks))


def _wedge(face: Face, mechanism: Mechanism) -> np.ndarray:
    """A wedge on a face of a box that points to the top of that face, so that every turn of it shows."""
    up = mechanism.directions[TOP[face.facet]]
    reach = float(((face.vertices - face.centre) @ up).max())
    towards, across = reach * up, np.cross(face.normal, reach * up)
    return face.centre + np.array([0.72 * towards, -0.28 * towards - 0.34 * across, -0.28 * towards + 0.34 * across])


def _powers(slab: Slab, alphabet: Alphabet, kinds: list[Kind], cells: list[Cell], geometry: Geometry) -> dict[str, Turn]:
    """The turns of one slab by every amount, named as written: R, R2, R'."""
    table, placements = geometry.mechanism.rotations, geometry.placements
    rotation = geometry.mechanism.rotation(slab.axis, slab.order)
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
