"""What a point of view leaves hidden, and which prints together show every sticker."""

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.camera import Camera, cameras, directions
from oddswap.showing.ink.outline import within
from oddswap.showing.ink.painting import Layers
from oddswap.showing.ink.scene import Panel, placings_of, scene
from oddswap.values.position import START, Appearance, Arrangement, Holding

Place = tuple[int, str]
"""A sticker: the slot that it is in and the facet of the solid that it is from."""
ENOUGH = 0.25
"""The share of a sticker that a print must show for the sticker to count as seen."""
RINGS, RAYS = (0.35, 0.61, 0.79, 0.94), 16
"""Where a sticker is looked at: the rings halve shares of equal area."""
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
    """Points spread over a convex outline (k, 2): so many `RAYS` on each of the `RINGS` between its middle and its edge."""
    around = np.linspace(0, len(outline), RAYS, endpoint=False)
    at = around.astype(int)
    edge = outline[at] + (around - at)[:, None] * (np.roll(outline, -1, axis=0)[at] - outline[at])
    middle = outline.mean(axis=0)
    return np.concatenate([middle + ring * (edge - middle) for ring in RINGS])


def _squareness(panel: Panel, camera: Camera) -> float:
    """The cosine between the panel's normal and the line of sight."""
    v = panel.vertices
    area = np.cross(v, np.roll(v, -1, axis=0)).sum(axis=0)
    sight = camera.eye - v.mean(axis=0)
    return float(area @ sight / np.linalg.norm(area) / np.linalg.norm(sight))


def sides_of(puzzle: Puzzle, shown: Arrangement | Appearance, pieces: Iterable[int]) -> list[np.ndarray]:
    """For each piece the normals (k, 3) of its stickers where it sits; of an appearance, of what is seen in its slot."""
    placings, rotations = placings_of(puzzle, shown), puzzle.geometry.mechanism.rotations.matrices
    found = []
    for piece in pieces:
        placing = placings[shown.pieces.index(piece) if isinstance(shown, Arrangement) else piece]
        normals = [rotations[placing.rotation] @ f.normal for f in puzzle.geometry.bodies[placing.piece].faces if f.facet]
        found.append(np.array(normals).reshape(-1, 3))
    return found
