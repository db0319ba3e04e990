"""The arrow that says which way pieces go: of a slab on its face, where the eye sees that, else along its side; flat ones."""

from collections.abc import Iterable, Sequence

import numpy as np
from matplotlib.axes import Axes

from oddswap.puzzles.base.puzzle import Puzzle, Turn, carried
from oddswap.puzzles.base.space import FlatLayout, on_circle
from oddswap.showing.ink.camera import Camera, reach
from oddswap.showing.ink.canvas import lay_polygons
from oddswap.showing.ink.painting import Spot
from oddswap.showing.ink.palette import ARROW, PAPER
from oddswap.showing.ink.scene import placings_of
from oddswap.values.permutation import cycles
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


FLAT_THICK = 0.13
"""Breadth of an arrow, in steps from slot to slot; all lengths here are in such steps."""
OUTSIDE = 0.62
"""How far outside its ring a ring's arrow runs."""
SWEEP = 2.6
"""How long it is."""
ROUND = 0.05
"""How far from a circle, in shares of its radius, slots may lie that count as a ring."""
BOW, CLEAR, NEAR = 0.25, 0.3, 0.2
"""How far an arrow between two slots bows out, as a share of its length, and how far from their middles arrows end."""
FLAT_STEPS = 32


def draw_flat_arrows(
    ax: Axes, puzzle: Puzzle, arrangement: Arrangement, turns: Sequence[Turn], spot: Spot, *, zorder: float
) -> None:
    """Lay the arrows of ``turns``, made one after the other, over a flat picture of ``arrangement`` that stands at ``spot``.

    What slides into a blank has an arrow into it, a ring that turns one along its outside, two pieces that change places one
    with two tips, and any other piece one from its slot to the next.
    """
    for path in flat_paths(puzzle, arrangement, turns):
        lay_arrow(ax, spot.place(path), spot.scale * FLAT_THICK, zorder)


def flat_paths(puzzle: Puzzle, arrangement: Arrangement, turns: Sequence[Turn]) -> list[np.ndarray]:
    """The lines (k, 2) along which the arrows of ``turns`` run, from tail to tip, as the layout's positions lie."""
    positions = puzzle.flat.positions
    if puzzle.blank is not None:
        return [_between(positions, *pair, bow=0.0, short=(CLEAR, 0.05)) for pair in slid(puzzle, arrangement, turns)]
    image = puzzle.slots_of(carried(puzzle.base_label, turns))
    paths = _twisted(puzzle, turns)
    for cycle in cycles(puzzle.slots_of(carried(puzzle.base_label, turns[:1]))):
        points = positions[list(cycle)]
        ring = _ring(points)
        if ring is not None:
            paths.append(_along(*ring, points, puzzle.flat))
        elif len(cycle) == 2:
            exchange = _between(positions, *cycle, BOW, (NEAR, NEAR))
            paths += [exchange[FLAT_STEPS // 2 :], exchange[: FLAT_STEPS // 2 + 1][::-1]]
        else:
            paths += [_between(positions, slot, image[slot], BOW, (CLEAR, CLEAR)) for slot in cycle if image[slot] != slot]
    return paths


def slid(puzzle: Puzzle, arrangement: Arrangement, turns: Sequence[Turn]) -> list[tuple[int, int]]:
    """Of a puzzle with a blank, for each turn the slot from which a piece slides and the slot to which it does."""
    blank, pairs = arrangement.pieces.index(puzzle.blank), []
    for turn in turns:
        (origin,) = turn.slots - {blank}
        pairs.append((origin, blank))
        blank = origin
    return pairs


def _ring(points: np.ndarray) -> tuple[np.ndarray, float, int] | None:
    """The middle and radius of the circle on which the points lie in order, and 1 where they run clockwise, else -1."""
    if len(points) < 3:
        return None
    system = np.column_stack([2 * points, np.ones(len(points))])
    solved, _, rank, _ = np.linalg.lstsq(system, (points**2).sum(axis=1))
    if rank < 3:
        return None
    middle = solved[:2]
    radii = np.linalg.norm(points - middle, axis=1)
    bearings = np.arctan2(*(points - middle).T) / (2 * np.pi)
    onwards = (np.roll(bearings, -1) - bearings) % 1
    way = 1 if abs(onwards.sum() - 1) < 1e-6 else -1 if abs((1 - onwards).sum() - 1) < 1e-6 else 0
    return (middle, float(radii.mean()), way) if way and np.ptp(radii) < ROUND * radii.mean() else None


def _along(middle: np.ndarray, radius: float, way: int, points: np.ndarray, layout: FlatLayout) -> np.ndarray:
    """A line outside a ring, where it is farthest from everything else; below, where there is nothing else."""
    others = [p for p in layout.positions if not (np.abs(points - p).max(axis=1) < 1e-9).any()]
    away = middle - np.mean(others, axis=0) if others else np.array([0.0, -1.0])
    away = away if np.linalg.norm(away) > 1e-6 else np.array([0.0, -1.0])
    half = min(SWEEP / (radius + OUTSIDE) / 2, np.pi / 2) / (2 * np.pi)
    start = np.arctan2(*away) / (2 * np.pi)
    return on_circle(start + way * np.linspace(-half, half, FLAT_STEPS), radius + OUTSIDE, middle)


def _between(positions: np.ndarray, origin: int, target: int, bow: float, short: tuple[float, float]) -> np.ndarray:
    """A line from slot to slot that bows out to the left and keeps clear of their middles."""
    start, end = positions[origin], positions[target]
    along = (end - start) / np.linalg.norm(end - start)
    beside = bow * np.linalg.norm(end - start) * np.array([-along[1], along[0]])
    t = np.linspace(0, 1, FLAT_STEPS)[:, None]
    path = (1 - t) ** 2 * start + 2 * t * (1 - t) * ((start + end) / 2 + 2 * beside) + t**2 * end
    lengths = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])
    kept = np.linspace(short[0], lengths[-1] - short[1], FLAT_STEPS)
    return np.stack([np.interp(kept, lengths, path[:, i]) for i in (0, 1)], axis=1)


def _twisted(puzzle: Puzzle, turns: Sequence[Turn]) -> list[np.ndarray]:
    """A loop round each piece that is turned in its place, the way round that it turns."""
    paths, labels = [], carried(puzzle.base_label, turns)
    for slot in (puzzle.slots_of(labels) == np.arange(len(labels))).nonzero()[0]:
        steps, order = int(labels[slot] - puzzle.base_label[slot]), puzzle.kind_of[slot].twist
        if steps:
            ends = (-0.35, 0.35) if 2 * steps <= order else (0.35, -0.35)
            paths.append(on_circle(np.linspace(*ends, FLAT_STEPS), OUTSIDE, puzzle.flat.positions[slot]))
    return paths
