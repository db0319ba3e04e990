"""Which pieces a picture marks: slots by name or number, the lookalikes that an x-ray hatches, and tape on a piece."""

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from oddswap.puzzles.base.mechanism import Body, Mark
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.showing.ink.outline import level_on

LONG, BROAD, ASIDE, TILT = 0.36, 0.12, 0.24, 7.0
"""Half the length, half the breadth and the distance from the middle, in shares of the sticker's height; degrees."""
TEETH = 3


def hatched_pieces(puzzle: Puzzle, xray: bool | Iterable[str | int]) -> dict[int, tuple[str, ...]]:
    """For each piece (its home slot) with lookalikes the keys of its hatching.

    ``xray`` is True for all pieces, or names the home slots of those that are meant.
    """
    if xray is False:
        return {}
    alike = lookalikes(puzzle)
    twins = {piece for pieces in alike.twins for piece in pieces}
    chosen = range(len(puzzle.slots)) if xray is True else slot_numbers(puzzle, xray)
    reasons = {p: ("twins",) * (p in twins) + ("hidden turns",) * (p in alike.hidden_turns) for p in chosen}
    return {piece: keys for piece, keys in reasons.items() if keys}


def slot_numbers(puzzle: Puzzle, named: Iterable[str | int]) -> list[int]:
    """The numbers of slots given by name or number; `UnknownSlot` for a name that the puzzle has not."""
    return [puzzle.slot(slot) if isinstance(slot, str) else int(slot) for slot in named]


def with_tape(body: Body) -> Body:
    """The piece with a strip of tape on its largest sticker."""
    sticker = max((i for i, face in enumerate(body.faces) if face.facet), key=lambda i: body.faces[i].area)
    return replace(body, marks=(*body.marks, Mark(sticker, strip(body.faces[sticker].vertices, body.faces[sticker].normal))))


def strip(outline: np.ndarray, normal: np.ndarray) -> np.ndarray:
    """A strip of tape (k, 3) with torn ends, off the middle of a face, so that no turn of the face keeps it in place."""
    level, upwards = level_on(normal)
    size = float(np.ptp(outline @ upwards))
    heights = np.linspace(-BROAD, BROAD, 2 * TEETH + 1)
    right = np.stack([LONG + 0.03 * (-1.0) ** np.arange(2 * TEETH + 1), heights], axis=1)
    points = np.concatenate([right, right[::-1] * (-1, 1)])
    c, s = np.cos(np.radians(TILT)), np.sin(np.radians(TILT))
    points = size * (points @ np.array([[c, s], [-s, c]]) + (0.0, ASIDE))
    return outline.mean(axis=0) + points[:, :1] * level + points[:, 1:] * upwards
