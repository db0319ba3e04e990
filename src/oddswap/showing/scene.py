"""From an arrangement to polygons in the order in which a painter lays them on: exact, with no guess by depth.

Every piece is convex and stays in its cell between the cut planes. Of two cells, one lies beyond some plane as the
eye sees it and the other before it, so the first can never hide the second; sorting by *is it on the eye's side*, plane by
plane, therefore gives a right order for all pieces at once. Within a convex piece no face that looks towards the eye hides
another. In mid-turn the walls of the turning slab come first, and inside the slab the eye is turned back instead.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from oddswap.puzzles.geometry import Body
from oddswap.puzzles.mechanism import Cell, Mechanism, Slab
from oddswap.puzzles.puzzle import Puzzle, Turn
from oddswap.puzzles.rotations import turn_matrix
from oddswap.puzzles.stickers import stickers
from oddswap.showing.camera import Camera
from oddswap.showing.outline import inset, rounded
from oddswap.values.appearance import Appearance
from oddswap.values.arrangement import Arrangement

GAP, SHARE = 0.05, 0.15
"""How far a sticker stays from the edge of its piece: in half-edges, and at most as a share of a usual face's half breadth."""
BEND = 1.4
"""How far a sticker's corners are rounded off, in gaps."""

Turning = Sequence[tuple[Turn, float]]


class Panel(NamedTuple):
    """One polygon of a scene. ``vertices`` (k, 3) in half-edges.

    ``role``: ``body`` (the whole outer face of a piece), ``sticker`` (on it), ``mark`` (on that), or ``cut``. ``facet`` and
    ``paint`` name the solid's facet and its colour (``paint`` is ``None`` on a sticker that is not known). ``slot``
    and ``piece`` are numbers, ``None`` for what stays inside; ``moving`` in a slab that turns just now.
    """

    role: str
    vertices: np.ndarray
    facet: str | None
    paint: str | None
    slot: int | None
    piece: int | None
    moving: bool


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


def scene(
    puzzle: Puzzle,
    shown: Arrangement | Appearance,
    camera: Camera,
    turning: Turning = (),
) -> Scene:
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
    panels: list[Panel] = []
    for c in painters_order(cells, eyes, mechanism, _walls(turning, mechanism)):
        inside = c >= len(placings)
        piece, rotation, paints = Placing(c - len(placings), 0) if inside else placings[c]
        shell = (_inner_shells if inside else _shells)(puzzle)[piece]
        matrix = mechanism.rotations.matrices[rotation]
        matrix = matrix if spins[c] is None else spins[c] @ matrix
        slot, who = (None, None) if inside else (int(c), piece)
        panels.extend(_facing(shell, matrix, camera.eye, slot, who, paints, spins[c] is not None))
    return Scene(tuple(panels), camera)


def painters_order(cells: Sequence[Cell], eyes: np.ndarray, mechanism: Mechanism, first: Sequence[int]) -> np.ndarray:
    """The order in which to paint cells, farthest first; ``eyes`` (cells, 3), planes ``first`` before the others."""
    signs = np.array(cells)
    nearer = signs == np.where(eyes @ mechanism.normals.T > mechanism.offsets, 1, -1)
    planes = [*first, *(i for i in range(signs.shape[1]) if i not in first)]
    return np.lexsort(nearer[:, planes[::-1]].T)


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
    """The slab that a turn turns; ``None`` for a whole-puzzle rotation."""
    named = (s for s in mechanism.slabs if (s.face, s.depth) == (turn.step.stem, turn.step.first))
    return None if turn.whole else next(named)


def _walls(turning: Turning, mechanism: Mechanism) -> list[int]:
    slabs = [slab_of(turn, mechanism) for turn, _ in turning]
    return list(dict.fromkeys(plane for slab in slabs if slab for plane, _ in slab.walls))


def _spin(cell: Cell, turning: Turning, mechanism: Mechanism) -> np.ndarray | None:
    for turn, fraction in turning:
        slab = slab_of(turn, mechanism)
        if slab is None or slab.holds(cell):
            return turn_matrix(turn.axis, fraction * turn.angle)
    return None


@dataclass(frozen=True, eq=False)
class Shell:
    """A piece at home ready to be drawn: its panels one after the other, and the face that each lies on."""

    panels: tuple[tuple[str, str | None, str | None], ...]
    vertices: np.ndarray
    ends: np.ndarray
    normals: np.ndarray
    anchors: np.ndarray


def _facing(shell: Shell, matrix: np.ndarray, eye: np.ndarray, slot, piece, paints, moving: bool):
    turned = shell.vertices @ matrix.T
    towards = eye @ matrix - shell.anchors
    seen = np.einsum("ij,ij->i", shell.normals, towards) > 0
    for i in seen.nonzero()[0]:
        role, facet, paint = shell.panels[i]
        if paints is None or role != "mark":
            vertices = turned[shell.ends[i] : shell.ends[i + 1]]
            yield Panel(role, vertices, facet, paint if paints is None else paints.get(facet), slot, piece, moving)


@lru_cache(maxsize=64)
def _shells(puzzle: Puzzle) -> tuple[Shell, ...]:
    gap = gap_of(puzzle)
    return tuple(_shell(body, puzzle.geometry.paints, gap) for body in puzzle.geometry.bodies)


@lru_cache(maxsize=64)
def _inner_shells(puzzle: Puzzle) -> tuple[Shell, ...]:
    return tuple(_shell(body, puzzle.geometry.paints, GAP) for body in puzzle.geometry.inner)


def gap_of(puzzle: Puzzle) -> float:
    """How far the puzzle's stickers stay from the edges of their pieces, in half-edges: less where pieces are small."""
    faces = [face for body in puzzle.geometry.bodies for face in body.faces if face.facet]
    rims = [np.linalg.norm(face.vertices - np.roll(face.vertices, 1, axis=0), axis=1).sum() for face in faces]
    return min(GAP, SHARE * float(np.median([2 * face.area / rim for face, rim in zip(faces, rims, strict=True)])))


def _anticlockwise(polygon: np.ndarray, normal: np.ndarray) -> np.ndarray:
    """The convex polygon (k, 3) in the order that is anticlockwise as seen from where ``normal`` points."""
    return polygon if np.cross(polygon[1] - polygon[0], polygon[2] - polygon[1]) @ normal > 0 else polygon[::-1]


def _shell(body: Body, paints, gap: float) -> Shell:
    panels, polygons, hosts = [], [], []
    for i, face in enumerate(body.faces):
        parts = [("body" if face.facet else "cut", face.vertices)]
        if face.facet:
            parts.append(("sticker", rounded(inset(face.vertices, face.normal, gap), BEND * gap)))
        parts += [("mark", _anticlockwise(mark.vertices, face.normal)) for mark in body.marks if mark.face == i]
        for role, vertices in parts:
            panels.append((role, face.facet, paints[face.facet] if face.facet else None))
            polygons.append(vertices)
            hosts.append(face)
    return Shell(
        panels=tuple(panels),
        vertices=np.concatenate(polygons),
        ends=np.cumsum([0, *map(len, polygons)]),
        normals=np.array([face.normal for face in hosts]),
        anchors=np.array([face.centre for face in hosts]),
    )
