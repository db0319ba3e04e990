"""Arrows on a flat picture: which way the pieces go that a move takes along.

What slides into a blank has an arrow into it, a ring that turns one along its outside, two pieces that change places one
with two tips, and any other piece one from its slot to the next.
"""

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes

from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.base.space import FlatLayout, on_circle
from oddswap.showing.ink.arrows import lay_arrow
from oddswap.showing.ink.painting import Spot
from oddswap.values.permutation import cycles
from oddswap.values.position import Arrangement

THICK = 0.13
"""Breadth of an arrow, in steps from slot to slot; all lengths here are in such steps."""
OUTSIDE = 0.62
"""How far outside its ring a ring's arrow runs."""
SWEEP = 2.6
"""How long it is."""
ROUND = 0.05
"""How far from a circle, in shares of its radius, slots may lie that count as a ring."""
BOW, CLEAR, NEAR = 0.25, 0.3, 0.2
"""How far an arrow between two slots bows out, as a share of its length, and how far from their middles arrows end."""
STEPS = 32


def draw_flat_arrows(
    ax: Axes, puzzle: Puzzle, arrangement: Arrangement, turns: Sequence[Turn], spot: Spot, *, zorder: float
) -> None:
    """Lay the arrows of ``turns``, made one after the other, over a picture of ``arrangement`` that stands at ``spot``."""
    for path in flat_paths(puzzle, arrangement, turns):
        lay_arrow(ax, spot.place(path), spot.scale * THICK, zorder)


def flat_paths(puzzle: Puzzle, arrangement: Arrangement, turns: Sequence[Turn]) -> list[np.ndarray]:
    """The lines (k, 2) along which the arrows of ``turns`` run, from tail to tip, as the layout's positions lie."""
    positions = puzzle.flat.positions
    if puzzle.blank is not None:
        return [_between(positions, *pair, bow=0.0, short=(CLEAR, 0.05)) for pair in slid(puzzle, arrangement, turns)]
    image = puzzle.slots_of(_after(puzzle, turns))
    paths = _twisted(puzzle, turns)
    for cycle in cycles(puzzle.slots_of(_after(puzzle, turns[:1]))):
        points = positions[list(cycle)]
        ring = _ring(points)
        if ring is not None:
            paths.append(_along(*ring, points, puzzle.flat))
        elif len(cycle) == 2:
            exchange = _between(positions, *cycle, BOW, (NEAR, NEAR))
            paths += [exchange[STEPS // 2 :], exchange[: STEPS // 2 + 1][::-1]]
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


def _after(puzzle: Puzzle, turns: Sequence[Turn]) -> np.ndarray:
    """For each slot the label where ``turns`` take what is there with twist 0."""
    labels = puzzle.base_label
    for turn in turns:
        labels = turn.permutation[labels]
    return labels


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
    return on_circle(start + way * np.linspace(-half, half, STEPS), radius + OUTSIDE, middle)


def _between(positions: np.ndarray, origin: int, target: int, bow: float, short: tuple[float, float]) -> np.ndarray:
    """A line from slot to slot that bows out to the left and keeps clear of their middles."""
    start, end = positions[origin], positions[target]
    along = (end - start) / np.linalg.norm(end - start)
    beside = bow * np.linalg.norm(end - start) * np.array([-along[1], along[0]])
    t = np.linspace(0, 1, STEPS)[:, None]
    path = (1 - t) ** 2 * start + 2 * t * (1 - t) * ((start + end) / 2 + 2 * beside) + t**2 * end
    lengths = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])
    kept = np.linspace(short[0], lengths[-1] - short[1], STEPS)
    return np.stack([np.interp(kept, lengths, path[:, i]) for i in (0, 1)], axis=1)


def _twisted(puzzle: Puzzle, turns: Sequence[Turn]) -> list[np.ndarray]:
    """A loop round each piece that is turned in its place, the way round that it turns."""
    paths, labels = [], _after(puzzle, turns)
    for slot in (puzzle.slots_of(labels) == np.arange(len(labels))).nonzero()[0]:
        steps, order = int(labels[slot] - puzzle.base_label[slot]), puzzle.kind_of[slot].twist
        if steps:
            ends = (-0.35, 0.35) if 2 * steps <= order else (0.35, -0.35)
            paths.append(on_circle(np.linspace(*ends, STEPS), OUTSIDE, puzzle.flat.positions[slot]))
    return paths
