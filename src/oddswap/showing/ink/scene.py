"""From an arrangement to polygons in the order in which a painter lays them on: exact, with no guess by depth.

Every piece is convex and stays in its cell between the cut planes. Of two cells, one lies beyond some plane as the
eye sees it and the other before it, so the first can never hide the second; sorting by *is it on the eye's side*, plane by
plane, therefore gives a right order for all pieces at once. Within a convex piece no face that looks towards the eye hides
another. In mid-turn the walls of the turning slab come first, and inside the slab the eye is turned back instead.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from oddswap.describing.stickers import stickers
from oddswap.puzzles.base.mechanism import Cell, Mechanism, Slab
from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.base.space import turn_matrix
from oddswap.showing.ink.camera import Camera
from oddswap.showing.ink.shells import Shell, inner_shells, shells
from oddswap.values.position import Appearance, Arrangement

Turning = Sequence[tuple[Turn, float]]


class Panel(NamedTuple):
    """One polygon of a scene. ``vertices`` (k, 3) in half-edges.

    ``role``: ``body`` (the whole outer face of a piece), ``sticker`` (on it), ``mark`` (on that), or ``cut``. ``facet`` and
    ``paint`` name the solid's facet and its colour (``paint`` is ``None`` on a sticker that is not known). ``slot``
    and ``piece`` are numbers, ``None`` for what stays inside; ``moving`` in a slab that turns just now. A cut is ``covered``
    where the same cut of another piece lies against it, so that neither can be seen.
    """

    role: str
    vertices: np.ndarray
    facet: str | None
    paint: str | None
    slot: int | None
    piece: int | None
    moving: bool
    covered: bool = False


class Placing(NamedTuple):
    """What is drawn in a slot: a piece, and the rotation (an index) that brought it there.

    Where a slot's look is not certain it is the slot's own piece, at rest, and ``paints`` has what is known of its facets.
    """

    piece: int
    rotation: int
    paints: Mapping[str, str] | None = None


@dataclass(frozen=True, eq=False)
class Scene:
    """``panels`` from the farthest to the nearest, as seen by ``camera``."""

    panels: tuple[Panel, ...]
    camera: Camera

    def outlines(self) -> list[np.ndarray]:
        """The panels in the picture, each (k, 2)."""
        counts = np.cumsum([len(panel.vertices) for panel in self.panels])[:-1]
        return np.split(self.camera.project(np.concatenate([p.vertices for p in self.panels])), counts)

    def open(self) -> Scene:
        """The same without what is covered: the same picture, as long as nothing is taken away from it."""
        return Scene(tuple(panel for panel in self.panels if not panel.covered), self.camera)

    def without(self, slots: Iterable[int]) -> Scene:
        """The same with the pieces in these slots taken out, and the walls that they covered."""
        return Scene(tuple(panel for panel in self.panels if panel.slot not in slots), self.camera)


def scene(puzzle: Puzzle, shown: Arrangement | Appearance, camera: Camera, turning: Turning = ()) -> Scene:
    """What ``camera`` sees of the puzzle, with ``turning`` slabs on their way.

    ``turning`` are pairs (turn, fraction done) of slabs about one axis that turn at once; ``shown`` is from before them.
    """
    geometry = puzzle.geometry
    mechanism = geometry.mechanism
    placings = placings_of(puzzle, shown)
    homes = [geometry.bodies[b].cell for b in range(len(placings))]
    cells = homes + [body.cell for body in geometry.inner]
    spins = [_spin(cell, turning, mechanism) for cell in cells]
    eyes = np.array([camera.eye if spin is None else camera.eye @ spin for spin in spins])
    bodies = [
        _placed(shells(puzzle)[piece], mechanism.rotations.matrices[rotation], spin, slot, piece, paints)
        for slot, ((piece, rotation, paints), spin) in enumerate(zip(placings, spins, strict=False))
    ]
    bodies += [
        _placed(shell, np.eye(3), spin, None, None, None)
        for shell, spin in zip(inner_shells(puzzle), spins[len(placings) :], strict=True)
    ]
    contacts = Counter(corners_at(polygon) for body in bodies for polygon in body.faces("cut"))
    slabs = [slab_of(turn, mechanism) for turn, _ in turning]
    walls = list(dict.fromkeys(plane for slab in slabs if slab for plane, _ in slab.walls))
    order = painters_order(cells, eyes, mechanism, walls)
    return Scene(tuple(panel for c in order for panel in _facing(bodies[c], camera.eye, contacts)), camera)


def piece_alone(puzzle: Puzzle, piece: int, slot: int, matrix: np.ndarray, shift: np.ndarray, camera: Camera) -> Scene:
    """What ``camera`` sees of a piece that is turned by ``matrix`` (3, 3) from home and carried on by ``shift`` (3,)."""
    placed = _placed(shells(puzzle)[piece], matrix, None, slot, piece, None)
    near = (panel._replace(vertices=panel.vertices + shift) for panel in _facing(placed, camera.eye - shift, Counter()))
    return Scene(tuple(near), camera)


def outer_faces(puzzle: Puzzle, shown: Arrangement | Appearance, slot: int, turning: Turning = ()) -> list[np.ndarray]:
    """The outer faces (k, 3) of the piece in a slot, whether they look towards the eye or away."""
    (piece, rotation, _), geometry = placings_of(puzzle, shown)[slot], puzzle.geometry
    spin = _spin(geometry.bodies[slot].cell, turning, geometry.mechanism)
    placed = _placed(shells(puzzle)[piece], geometry.mechanism.rotations.matrices[rotation], spin, slot, piece, None)
    return list(placed.faces("body"))


Corners = frozenset[tuple[float, ...]]


class Placed(NamedTuple):
    """A shell where it stands: turned by ``matrix``, its vertices ``turned``, in the slot of this number or inside."""

    shell: Shell
    matrix: np.ndarray
    turned: np.ndarray
    slot: int | None
    piece: int | None
    paints: Mapping[str, str] | None
    moving: bool

    def faces(self, sort: str) -> Iterator[np.ndarray]:
        """The faces with this role, those that look away from the eye as well."""
        for i, (role, _, _) in enumerate(self.shell.panels):
            if role == sort:
                yield self.turned[self.shell.ends[i] : self.shell.ends[i + 1]]


def _placed(shell: Shell, matrix: np.ndarray, spin: np.ndarray | None, slot, piece, paints) -> Placed:
    matrix = matrix if spin is None else spin @ matrix
    return Placed(shell, matrix, shell.vertices @ matrix.T, slot, piece, paints, spin is not None)


def painters_order(cells: Sequence[Cell], eyes: np.ndarray, mechanism: Mechanism, first: Sequence[int]) -> np.ndarray:
    """The order in which to paint cells, farthest first; ``eyes`` (cells, 3), planes ``first`` before the others.

    A piece that reaches through a plane has the sign 0 there; then of two pieces one waits for the other only where a plane lies
    between them.
    """
    signs = np.array(cells)
    near = np.where(eyes @ mechanism.normals.T > mechanism.offsets, 1, -1)
    nearer = signs == near
    if signs.all():
        planes = [*first, *(i for i in range(signs.shape[1]) if i not in first)]
        return np.lexsort(nearer[:, planes[::-1]].T)
    groups = nearer[:, list(first)[::-1]]
    before = (signs == -near).astype(int) @ nearer.T.astype(int) > 0
    before &= ~before.T & (groups[:, None] == groups[None]).all(axis=2)
    depth = np.zeros(len(signs), dtype=int)
    while (further := np.where(before, depth[:, None] + 1, 0).max(axis=0)).tolist() != depth.tolist():
        depth = further
    return np.lexsort([depth, *groups.T])


def placings_of(puzzle: Puzzle, shown: Arrangement | Appearance) -> list[Placing]:
    """What to draw in each slot; of an appearance, some piece with the look, or what is known of the slot."""
    if isinstance(shown, Arrangement):
        return [_placing(puzzle, b, p, t) for b, (p, t) in enumerate(zip(shown.pieces, shown.twists, strict=True))]
    return [
        _placing(puzzle, b, *_first_with(puzzle, b, next(iter(sight))))
        if len(sight) == 1
        else Placing(b, 0, _agreed_paints(puzzle, b, sight) | _read_paints(puzzle, b, shown))
        for b, sight in enumerate(shown.sights)
    ]


def _placing(puzzle: Puzzle, slot: int, piece: int, twist: int) -> Placing:
    kind_twist = puzzle.kind_of[slot].twist
    return Placing(piece, puzzle.geometry.rotation_of(puzzle.base_label, kind_twist, piece, slot, twist))


def _first_with(puzzle: Puzzle, slot: int, look: int) -> tuple[int, int]:
    """A piece and its twist, such that it has this look in the slot."""
    kind = puzzle.kind_of[slot]
    i, twist = divmod(int((puzzle.looks[kind.labels.start : kind.labels.stop] == look).argmax()), kind.twist)
    return kind.start + i, twist


def _agreed_paints(puzzle: Puzzle, slot: int, sight: frozenset[int]) -> dict[str, str]:
    """By facet of the slot's own piece, the paints that all the looks it may have show at just that place."""
    geometry = puzzle.geometry
    matrices = geometry.mechanism.rotations.matrices

    def shows(placing: Placing) -> dict[tuple[float, ...], str]:
        turned = ((face.facet, matrices[placing.rotation] @ face.centre) for face in geometry.bodies[placing.piece].faces)
        return {tuple(at.round(6) + 0.0): geometry.paints[facet] for facet, at in turned if facet}

    several = [shows(_placing(puzzle, slot, *_first_with(puzzle, slot, look))) for look in sight]
    places = {face.facet: tuple(face.centre.round(6) + 0.0) for face in geometry.bodies[slot].faces if face.facet}
    found = {facet: {paints.get(at) for paints in several} for facet, at in places.items()}
    return {facet: paints.pop() for facet, paints in found.items() if len(paints) == 1 and None not in paints}


def _read_paints(puzzle: Puzzle, slot: int, shown: Appearance) -> dict[str, str]:
    """By facet of the slot's own piece, the paints that were read for certain, sticker by sticker."""
    table = stickers(puzzle) if shown.stickers else None
    if table is None:
        return {}
    facets = (face.facet for face in puzzle.geometry.bodies[slot].faces if face.facet)
    read = {facet: shown.stickers[table.at[slot, facet]] for facet in facets}
    return {facet: next(iter(paints)) for facet, paints in read.items() if len(paints) == 1}


def slab_of(turn: Turn, mechanism: Mechanism) -> Slab | None:
    """The slab that a turn turns, several as one; ``None`` for a whole-puzzle rotation."""
    if turn.whole:
        return None
    slab = next(s for s in mechanism.slabs if (s.face, s.depth) == (turn.step.stem, turn.step.last))
    return replace(slab, walls=slab.walls[:1]) if turn.step.first < turn.step.last else slab


def _spin(cell: Cell, turning: Turning, mechanism: Mechanism) -> np.ndarray | None:
    for turn, fraction in turning:
        slab = slab_of(turn, mechanism)
        if slab is None or slab.holds(cell):
            return turn_matrix(turn.axis, fraction * turn.angle)
    return None


def _facing(placed: Placed, eye: np.ndarray, contacts: Mapping[Corners, int]) -> Iterator[Panel]:
    shell, slot, piece, paints = placed.shell, placed.slot, placed.piece, placed.paints
    towards = eye @ placed.matrix - shell.anchors
    seen = np.einsum("ij,ij->i", shell.normals, towards) > 0
    for i in seen.nonzero()[0]:
        role, facet, paint = shell.panels[i]
        if paints is None or role != "mark":
            vertices = placed.turned[shell.ends[i] : shell.ends[i + 1]]
            covered = role == "cut" and contacts[corners_at(vertices)] > 1
            paint = paint if paints is None else paints.get(facet)
            yield Panel(role, vertices, facet, paint, slot, piece, placed.moving, covered)


def corners_at(vertices: np.ndarray) -> Corners:
    """Where the corners of a polygon (k, 3) are, in whatever order."""
    return frozenset(map(tuple, (vertices.round(6) + 0.0).tolist()))
