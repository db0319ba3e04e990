"""Where a puzzle stands on the print: it fills its box at rest, and stays within its field all through every turn."""

from collections.abc import Iterable
from functools import cache, partial

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.space import turn_matrix
from oddswap.showing.ink.arrows import THICK, arc, corners_of, ribbon
from oddswap.showing.ink.camera import reach
from oddswap.showing.ink.painting import Spot
from oddswap.story.large_words import MARGIN, Box, Format
from oddswap.story.telling.timeline import Shot
from oddswap.story.telling.views import between, bounds

SAMPLES = np.linspace(0, 1, 9)
"""The moments of a turn, and of a way of the camera, at which it is asked how far the puzzle reaches."""


def reach_of(puzzle: Puzzle, shots: Iterable[Shot]) -> np.ndarray:
    """The `bounds` of a solid in all shots where it is seen whole: at rest, and with arrows and what is on its way (2, 2, 2)."""
    rest, swung, corners_at = [], [], cache(partial(corners_of, puzzle))
    for shot in shots:
        corners = corners_at(shot.shown)
        whole = np.concatenate([*corners.values()])
        rest.append(shot.camera.whole.project(whole))
        if shot.towards:
            swung += (between(shot.camera, shot.towards, share).whole.project(whole) for share in SAMPLES)
        for turn in shot.turns:
            if not shot.moving:
                path = shot.camera.project(arc(puzzle, shot.shown, turn, shot.camera))
                swung.append(ribbon(path, THICK * reach(puzzle)))
                continue
            moved = np.concatenate([corners[slot] for slot in turn.slots if slot in corners])
            swung += (shot.camera.project(moved @ turn_matrix(turn.axis, share * turn.angle).T) for share in SAMPLES)
    return np.array([bounds(np.concatenate(rest)), bounds(np.concatenate([*rest, *swung]))])


def spot_in(box: Box, field: Box, reach: np.ndarray) -> Spot:
    """Where a solid of that `reach_of` stands: at rest no larger than the ``box``, and never beyond the ``field``."""
    (rest, swung), (x, y, wide, tall) = reach, field
    scale = float(min(*np.divide(box[2:], np.ptp(rest, axis=0)), *np.divide(field[2:], np.ptp(swung, axis=0))))
    middle = scale * swung.mean(axis=0)
    return Spot(x + wide / 2 - middle[0], y + tall / 2 - middle[1], scale)


def on_the_print(layout: Format, spot: Spot, points: np.ndarray) -> Spot:
    """A spot near the given one where what lies at these points (k, 2) of its picture stays on the print, below the words."""
    (x, y, wide, high), seen = layout.picture or layout.puzzle, bounds(spot.place(points))
    top = min(y + high, layout.below_words) - MARGIN
    low = np.maximum((x + MARGIN, y + MARGIN) - seen[0], 0.0)
    across, up = low + np.minimum((x + wide - MARGIN, top) - seen[1], 0.0)
    return Spot(spot.x + across, spot.y + up, spot.scale)
