"""The arrow that says which way a slab turns: on its face where the eye sees it, else along the side that it sees."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection

from oddswap.puzzles.puzzle import Puzzle, Turn
from oddswap.showing.camera import Camera
from oddswap.showing.painting import Spot
from oddswap.showing.palette import ARROW, PAPER
from oddswap.showing.scene import placings_of
from oddswap.values.arrangement import Arrangement

STEPS = 48
HEAD = 3.0
"""Length of an arrow's head, in shares of its breadth; its wings reach out by half of that."""
THICK = 0.082
"""Breadth of a slab's arrow, in half-edges."""


def draw_arrow(
    ax: Axes, puzzle: Puzzle, arrangement: Arrangement, turn: Turn, camera: Camera, spot: Spot, *, zorder: float
) -> None:
    """Lay the arrow of a turn over a picture of ``arrangement`` that ``camera`` took and that stands at ``spot``."""
    shape = ribbon(spot.place(camera.project(arc(puzzle, arrangement, turn, camera))), spot.scale * THICK)
    casing = 52 * THICK * spot.scale
    ax.add_collection(
        PolyCollection(
            [shape, shape],
            facecolors=ARROW,
            edgecolors=[PAPER, "none"],
            linewidths=[casing, 0],
            joinstyle="round",
            zorder=zorder,
        ),
        autolim=False,
    )


def arc(puzzle: Puzzle, arrangement: Arrangement, turn: Turn, camera: Camera) -> np.ndarray:
    """Points (k, 3) along which a turn's arrow runs, from its tail to its tip.

    Nothing hides it: it lies beyond everything along the axis, or on the eye's side of a cylinder about all pieces.
    """
    axis = np.array(turn.axis)
    corners = corners_of(puzzle, arrangement)
    heights = {slot: points @ axis for slot, points in corners.items()}
    lowest = min(heights[slot].min() for slot in turn.slots)
    highest = max(heights[slot].max() for slot in turn.slots)
    above, towards = (_across(axis, way) for way in (camera.up, camera.direction))
    if camera.direction @ axis > 0.3 and highest >= max(points.max() for points in heights.values()):
        height, radius, sweep, middle = highest + 0.1, 0.8, 125.0, above
    else:
        every = np.concatenate(list(corners.values()))
        wide = np.linalg.norm(every - np.outer(every @ axis, axis), axis=1).max()
        height, radius, sweep, middle = (lowest + highest) / 2, 1.03 * wide, 58.0, towards
    reach = np.radians(sweep) * (1.5 if abs(turn.angle) > 2 else 1.0) / 2
    angles = np.linspace(-reach, reach, STEPS) * np.sign(turn.angle)
    clockwise = np.cross(middle, axis)
    return height * axis + radius * (np.cos(angles)[:, None] * middle + np.sin(angles)[:, None] * clockwise)


def corners_of(puzzle: Puzzle, arrangement: Arrangement) -> dict[int, np.ndarray]:
    """For each slot, the corners (k, 3) of the piece that sits there."""
    matrices = puzzle.geometry.mechanism.rotations.matrices
    return {
        slot: np.concatenate([face.vertices for face in puzzle.geometry.bodies[placing.piece].faces])
        @ matrices[placing.rotation].T
        for slot, placing in enumerate(placings_of(puzzle, arrangement))
    }


def _across(axis: np.ndarray, way: np.ndarray) -> np.ndarray:
    """The unit vector square to ``axis`` that lies nearest to ``way``."""
    square = way - (way @ axis) * axis
    return square / np.linalg.norm(square)


def ribbon(path: np.ndarray, thick: float) -> np.ndarray:
    """The outline (m, 2) of an arrow ``thick`` in breadth along ``path`` (k, 2), its tip at the path's end."""
    lengths = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])
    marks = np.linspace(0.0, max(lengths[-1] - HEAD * thick, 0.2 * lengths[-1]), len(path))
    spine = np.stack([np.interp(marks, lengths, path[:, i]) for i in (0, 1)], axis=1)
    forward = np.gradient(spine, axis=0)
    forward /= np.linalg.norm(forward, axis=1, keepdims=True)
    half = np.stack([-forward[:, 1], forward[:, 0]], axis=1) * thick / 2
    ahead = (path[-1] - spine[-1]) / np.linalg.norm(path[-1] - spine[-1])
    wing = np.array([-ahead[1], ahead[0]]) * thick * HEAD / 2
    return np.concatenate([spine + half, [spine[-1] + wing, path[-1], spine[-1] - wing], (spine - half)[::-1]])
