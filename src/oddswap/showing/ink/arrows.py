"""The arrow that says which way a slab turns: on its face where the eye sees it, else along the side that it sees."""

from collections.abc import Iterable

import numpy as np
from matplotlib.axes import Axes

from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.showing.ink.camera import Camera, reach
from oddswap.showing.ink.canvas import lay_polygons
from oddswap.showing.ink.painting import Spot
from oddswap.showing.ink.palette import ARROW, PAPER
from oddswap.showing.ink.scene import placings_of
from oddswap.values.position import Arrangement

STEPS = 48
HEAD = 3.0
"""Length of an arrow's head, in shares of its breadth; its wings reach out by half of that."""
THICK, WIDE = 0.047, 0.46
"""Breadth of a slab's arrow, and radius of one that lies on the slab's face, in shares of the solid's radius."""
RADII = (1.03, *np.arange(1.1, 4.0, 0.05))
"""Radii of an arrow about the whole solid that are tried, the smallest first, in shares of the solid's own about that axis."""


def draw_arrows(
    ax: Axes, puzzle: Puzzle, arrangement: Arrangement, turns: Iterable[Turn], camera: Camera, spot: Spot, *, zorder: float
) -> None:
    """Lay the arrow of each turn over a picture of ``arrangement`` that ``camera`` took and that stands at ``spot``."""
    for turn in turns:
        path = spot.place(camera.project(arc(puzzle, arrangement, turn, camera)))
        lay_arrow(ax, path, spot.scale * THICK * reach(puzzle), zorder)


def lay_arrow(ax: Axes, path: np.ndarray, thick: float, zorder: float) -> None:
    """Lay an arrow along ``path`` (k, 2), ``thick`` in breadth, with a pale casing that parts it from what is beneath."""
    shape = ribbon(path, thick)
    lay_polygons(
        ax,
        [shape, shape],
        facecolors=ARROW,
        edgecolors=[PAPER, "none"],
        linewidths=[52 * thick, 0],
        joinstyle="round",
        zorder=zorder,
    )


def arc(puzzle: Puzzle, arrangement: Arrangement, turn: Turn, camera: Camera) -> np.ndarray:
    """Points (k, 3) along which a turn's arrow runs, from its tail to its tip.

    Nothing hides it: it lies beyond everything along the axis, or outside a cylinder about all pieces, so far out that the
    lines of sight pass the cylinder by; on the eye's side, or above where the eye looks along the axis.
    """
    axis = np.array(turn.axis)
    corners = corners_of(puzzle, arrangement)
    heights = {slot: points @ axis for slot, points in corners.items()}
    lowest = min(heights[slot].min() for slot in turn.slots if slot in heights)
    highest = max(heights[slot].max() for slot in turn.slots if slot in heights)
    further = 1.5 if abs(turn.step.amount) > 1 else 1.0
    if camera.direction @ axis > 0.3 and highest >= max(points.max() for points in heights.values()):
        return (highest + 0.1) * axis + WIDE * reach(puzzle) * _sweep(turn, camera.up, 125.0 * further)
    every = np.concatenate(list(corners.values()))
    wide = np.linalg.norm(every - np.outer(every @ axis, axis), axis=1).max()
    along_axis = abs(camera.direction @ axis) > 0.98
    unit = _sweep(turn, camera.up if along_axis else camera.direction, 58.0 * further)
    lines = ((lowest + highest) / 2 * axis + radius * wide * unit for radius in RADII)
    return next(line for line in lines if _passes_by(camera.eye, line, axis, every @ axis, wide))


def _sweep(turn: Turn, way: np.ndarray, degrees: float) -> np.ndarray:
    """Points (k, 3) on the unit circle about a turn's axis, so many degrees the way it turns, ``way`` in their middle."""
    angles = np.radians(np.linspace(-degrees, degrees, STEPS) / 2) * np.sign(turn.angle)
    middle = across(np.array(turn.axis), way)
    return np.cos(angles)[:, None] * middle + np.sin(angles)[:, None] * np.cross(middle, turn.axis)


def _passes_by(eye: np.ndarray, line: np.ndarray, axis: np.ndarray, heights: np.ndarray, wide: float) -> bool:
    """Whether what an eye sees of a line (k, 3) is seen past a cylinder about an axis between the least and most heights."""
    between = np.linspace(0, 1, 60)[:, None, None]
    sights = eye + between * (line - eye)
    level = sights @ axis
    apart = np.linalg.norm(sights - level[..., None] * axis, axis=-1)
    return bool((apart > wide)[(level > heights.min()) & (level < heights.max())].all())


def corners_of(puzzle: Puzzle, arrangement: Arrangement) -> dict[int, np.ndarray]:
    """For each slot in which there is something, the corners (k, 3) of the piece that sits there."""
    matrices = puzzle.geometry.mechanism.rotations.matrices
    return {
        slot: np.concatenate([face.vertices for face in puzzle.geometry.bodies[placing.piece].faces])
        @ matrices[placing.rotation].T
        for slot, placing in enumerate(placings_of(puzzle, arrangement))
        if puzzle.geometry.bodies[placing.piece].faces
    }


def across(axis: np.ndarray, way: np.ndarray) -> np.ndarray:
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
