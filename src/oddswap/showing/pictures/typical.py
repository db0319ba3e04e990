"""One small picture of an anomaly: the member of its sort and the point of view that show it best."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from matplotlib.axes import Axes

from oddswap.describing.changes import changed
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.verdicts.alarms import Alarm
from oddswap.showing.ink.camera import AWAY, Camera, cameras, directions, reach
from oddswap.showing.ink.flat import centred, colours_by_paint, extent, lay_flat
from oddswap.showing.ink.marking import hatched_pieces
from oddswap.showing.ink.painting import Inks, fitting, paint
from oddswap.showing.ink.scene import scene
from oddswap.values.position import Arrangement

PLAIN = 0.45
"""The cosine between a sticker and the line of sight from which on the sticker shows plainly."""
FILLED = 0.92
"""How much of its square a picture takes."""
FRAME = 4.5
"""How high the page is for which marks are drawn, in sides of a picture."""
FAVOUR = 0.3
"""How much better another point of view must be than that of the first print."""


@dataclass(frozen=True)
class Typical:
    """A member of a sort of anomaly: its arrangement, and where to look from (nowhere in particular where it is flat)."""

    alarm: Alarm
    arrangement: Arrangement
    camera: Camera | None


def typical(puzzle: Puzzle, members: Sequence[Alarm]) -> Typical:
    """The member that shows best, from the first print's point of view or a better one, higher than the puzzle's middle."""
    states = [changed(puzzle, alarm.changes) for alarm in members]
    if puzzle.geometry is None:
        return Typical(members[0], states[0], None)
    front = cameras(puzzle)[0]
    further = [Camera(way, AWAY * reach(puzzle)) for way in directions(30.0) if way[1] > 0.3]
    shows = [
        (_shown(puzzle, state, camera) + FAVOUR * (camera is front), -i, -j)
        for i, state in enumerate(states)
        for j, camera in enumerate([front, *further])
    ]
    _, i, j = max(shows)
    return Typical(members[-i], states[-i], [front, *further][-j])


def _shown(puzzle: Puzzle, state: Arrangement, camera: Camera) -> float:
    """How well one sees the slots that are changed: the sum over their facets of how squarely, and plainly is enough.

    A slot of which nothing is seen weighs against the rest.
    """
    geometry, total = puzzle.geometry, 0.0
    for slot in state.displaced():
        normals = np.array([geometry.facets[face.facet] for face in geometry.bodies[slot].faces if face.facet])
        squarely = float(np.clip(normals @ camera.direction, 0.0, PLAIN).sum())
        total += squarely if squarely > PLAIN / 2 else -1.0
    return round(total, 6)


def lay_typical(ax: Axes, puzzle: Puzzle, shown: Typical, x: float, y: float, side: float, size: float) -> None:
    """Lay the picture in a square round (x, y): what is changed marked and lettered, the rest pale, culprits hatched.

    ``size`` is that of the letters, in points, where there is room.
    """
    out = shown.arrangement.displaced()
    culprits = {piece for culprit in shown.alarm.culprits for piece in culprit.pieces}
    inks = Inks(
        colours=colours_by_paint(puzzle),
        hatched=hatched_pieces(puzzle, sorted(culprits)),
        marked=out,
        letters=out,
        faded=frozenset(range(len(puzzle.slots))) - out,
    )
    if puzzle.geometry is not None:
        seen = scene(puzzle, shown.arrangement, shown.camera).open()
        spot = fitting(np.concatenate(seen.outlines()), (x, y), FILLED * side)
        paint(ax, seen, inks, spot, size=size, frame=FRAME * side)
    else:
        lay_flat(
            ax,
            puzzle,
            shown.arrangement,
            replace(inks, highlight=out),
            centred(puzzle.flat, x, y, side / 2 / max(extent(puzzle.flat))),
        )
