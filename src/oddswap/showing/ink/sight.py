"""What a point of view leaves hidden, which prints show every sticker, and the two plainest positions that show a law."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import permutations, product

import numpy as np

from oddswap.describing.changes import changed
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.sectors import Law
from oddswap.showing.ink.camera import Camera, cameras, directions
from oddswap.showing.ink.outline import within
from oddswap.showing.ink.painting import Layers
from oddswap.showing.ink.scene import Panel, placings_of, scene
from oddswap.values.position import START, Appearance, Arrangement, Holding

Place = tuple[int, str]
"""A sticker: the slot that it is in and the facet of the solid that it is from."""
ENOUGH = 0.25
"""The share of a sticker that a print must show for the sticker to count as seen."""
CIRCLES, RAYS = (0.35, 0.61, 0.79, 0.94), 16
"""Where a sticker is looked at: the circles halve shares of equal area."""
SQUARE = 0.12
"""The least cosine between a sticker's normal and the line of sight."""


@lru_cache(maxsize=256)
def views(puzzle: Puzzle, shown: Arrangement | Appearance, holding: Holding = START) -> tuple[tuple[Camera, str], ...]:
    """The points of view of the prints with their captions: two, or three when the two leave some sticker hidden."""
    front, back = cameras(puzzle, holding)
    taken = [(front, front.words), (back, f"the same, {back.words}")]
    every = stickers(puzzle, shown)
    hidden = every - seen_by(puzzle, shown, front, every) - seen_by(puzzle, shown, back, every)
    if hidden:
        further = [replace(front, direction=direction) for direction in directions(35.0) @ front.frame.T]
        best = max(further, key=lambda camera: len(seen_by(puzzle, shown, camera, hidden)))
        if seen_by(puzzle, shown, best, hidden):
            taken.append((best, f"the rest, {best.words}"))
    return tuple(taken)


def stickers(puzzle: Puzzle, shown: Arrangement | Appearance) -> frozenset[Place]:
    """All stickers of what is shown."""
    bodies = puzzle.geometry.bodies
    return frozenset(
        (slot, face.facet)
        for slot, placing in enumerate(placings_of(puzzle, shown))
        for face in bodies[placing.piece].faces
        if face.facet
    )


def seen_by(puzzle: Puzzle, shown: Arrangement | Appearance, camera: Camera, among: frozenset[Place]) -> frozenset[Place]:
    """The stickers ``among`` those given of which ``camera`` sees ``ENOUGH``, and not too much from the side."""
    view = scene(puzzle, shown, camera).open()
    faces = [pair for pair in zip(view.panels, view.outlines(), strict=True) if pair[0].role in ("body", "cut")]
    layers = Layers.of([outline for _, outline in faces])
    seen = set()
    for i, (panel, outline) in enumerate(faces):
        place = (panel.slot, panel.facet)
        if place in among and _squareness(panel, camera) >= SQUARE:
            spots = _samples(outline)
            covered = np.zeros(len(spots), dtype=bool)
            for later in layers.over(i, layers.low[i], layers.high[i]):
                covered |= within(later, spots)
            if 1 - covered.mean() >= ENOUGH:
                seen.add(place)
    return frozenset(seen)


def _samples(outline: np.ndarray) -> np.ndarray:
    """Points spread over a convex outline (k, 2): so many `RAYS` on each of the `CIRCLES` between its middle and its edge."""
    around = np.linspace(0, len(outline), RAYS, endpoint=False)
    at = around.astype(int)
    edge = outline[at] + (around - at)[:, None] * (np.roll(outline, -1, axis=0)[at] - outline[at])
    middle = outline.mean(axis=0)
    return np.concatenate([middle + ring * (edge - middle) for ring in CIRCLES])


def _squareness(panel: Panel, camera: Camera) -> float:
    """The cosine between the panel's normal and the line of sight."""
    v = panel.vertices
    area = np.cross(v, np.roll(v, -1, axis=0)).sum(axis=0)
    sight = camera.eye - v.mean(axis=0)
    return float(area @ sight / np.linalg.norm(area) / np.linalg.norm(sight))


def slots_where(shown: Arrangement | Appearance, pieces: Iterable[int]) -> list[int]:
    """The slots where pieces sit; of an appearance, they are named by their slots."""
    return [shown.pieces.index(piece) for piece in pieces] if isinstance(shown, Arrangement) else [*pieces]


def sides_of(puzzle: Puzzle, shown: Arrangement | Appearance, pieces: Iterable[int]) -> list[np.ndarray]:
    """For each piece the normals (k, 3) of its stickers where it sits; of an appearance, of what is seen in its slot."""
    placings, rotations = placings_of(puzzle, shown), puzzle.geometry.mechanism.rotations.matrices
    found = []
    for placing in (placings[slot] for slot in slots_where(shown, pieces)):
        normals = [rotations[placing.rotation] @ f.normal for f in puzzle.geometry.bodies[placing.piece].faces if f.facet]
        found.append(np.array(normals).reshape(-1, 3))
    return found


PLAIN = ("cube:2", "cube:3", "cube:4")
FLIPS, TWISTS, PAIRS, RINGS = "flips", "twists", "pairs", "rings"
"""What is counted: pieces turned over; twisted; swaps of two sorts at once; swaps of one sort."""


def plain_of(puzzle: Puzzle) -> Puzzle | None:
    """A cube with the same slots and turns of pieces, if there is one; ``None`` for that cube itself.

    >>> plain_of(load("shape-mod:prism8")).name
    'cube:3'
    """
    if puzzle.geometry is None or puzzle.name.startswith("cube:"):
        return None
    slots = puzzle.slots, [kind.twist for kind in puzzle.kind_of]
    return next((cube for cube in map(load, PLAIN) if (cube.slots, [kind.twist for kind in cube.kind_of]) == slots), None)


def on_plain(plain: Puzzle, shown: Arrangement) -> Arrangement:
    """The same arrangement of the plain puzzle."""
    return Arrangement(plain.name, shown.pieces, shown.twists)


@dataclass(frozen=True)
class Examples:
    """``kept`` is an arrangement that turns reach, ``broken`` one that they never reach; ``sort`` is what both are about."""

    puzzle: Puzzle
    sort: str
    kept: Arrangement
    broken: Arrangement


def sort_of(law: Law) -> str:
    """What a law counts, as one tells it; empty where it is none of the plain sorts."""
    parts = getattr(law, "parts", ())
    whats, twist = {part.what for part in parts}, parts[0].sector.kind.twist if parts else 0
    if whats == {"twist"} and twist in (2, 3):
        return FLIPS if twist == 2 else TWISTS
    return {1: RINGS, 2: PAIRS}.get(len(parts), "") if whats == {"sign"} else ""


@lru_cache(maxsize=64)
def examples(puzzle: Puzzle, law: Law, holding: Holding) -> Examples | None:
    """Two small positions that show what a law allows and what it does not; ``None`` where it is none of the plain sorts."""
    sort, shown_on = sort_of(law), plain_of(puzzle) or puzzle
    slots = [_seen_best(shown_on, part.sector.slots, holding) for part in law.parts] if sort else []
    if not sort or min(map(len, slots)) < 2 + (sort == RINGS):
        return None

    def told(state: Arrangement) -> bool:
        return any(law.seen for law in shown_on.laws.broken(state))

    for tried in product(*(permutations(some[:4], 2 + (sort == RINGS)) for some in slots)):
        one, other, *_ = tried[0]
        kept, broken = {
            FLIPS: ([f"flip {one}", f"flip {other}"], [f"flip {one}"]),
            TWISTS: ([f"twist {one} cw", f"twist {other} ccw"], [f"twist {one} cw"]),
            PAIRS: ([f"swap {' '.join(pair)}" for pair in tried], [f"swap {one} {other}"]),
            RINGS: ([f"cycle {' '.join(tried[0])}"], [f"swap {one} {other}"]),
        }[sort]
        if not told(state := changed(shown_on, kept)) and told(lone := changed(shown_on, broken)):
            return Examples(shown_on, sort, state, lone)
    return None


def _seen_best(puzzle: Puzzle, slots: tuple[int, ...], holding: Holding) -> list[str]:
    """The names of the slots, those first that one sees best."""
    if puzzle.geometry is None:
        return [puzzle.slots[slot] for slot in slots]
    way = cameras(puzzle, holding)[0].direction
    sides = zip(slots, sides_of(puzzle, puzzle.solved, slots), strict=True)
    shown = {slot: float(np.clip(normals @ way, -0.5, 0.6).sum()) for slot, normals in sides}
    return [puzzle.slots[slot] for slot in sorted(slots, key=lambda slot: -shown[slot])]
