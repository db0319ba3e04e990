"""The outlines that the turns of a box give, gone through level by level, whatever pieces lie in them."""

from functools import lru_cache

import numpy as np

from oddswap.puzzles.base.whole_turns import holdings
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.reasoning.search.levels import Ball, Level, in_common
from oddswap.reasoning.search.outlines import OutlineMoves
from oddswap.values.appearance import Appearance

FEW, MANY = 20_000, 400_000
"""Where there are more outlines no further level is made: at first, and where it is worth some seconds."""


def outline_seen(box: BoxPuzzle, appearance: Appearance) -> np.ndarray:
    """Which slots a complete appearance shows filled: bool, shape (slots,)."""
    filled = []
    for kind, (look,) in zip(box.kind_of, appearance.sights, strict=True):
        home = next(piece for piece in kind.places if look in box.looks[box.base_label[piece] + np.arange(kind.twist)])
        filled.append(bool(box.filled[home]))
    return np.array(filled)


def outline_is_reached(box: BoxPuzzle, outline: np.ndarray, most: int = MANY) -> bool | None:
    """Whether turns give an outline (bool, shape (slots,)), however the box is held; ``None`` where more than ``most`` are in
    the way.

    >>> from oddswap.puzzles.catalogue import load
    >>> box = load("cuboid:1x3x3,turns=all")
    >>> outline_is_reached(box, box.outlines("U F2")[-1])
    True
    """
    ball = outlines_around_home(box, most)
    sought = Level.of(ball.moves, _held(box, outline))
    if any(len(level) and in_common(sought, level) for level in ball.levels):
        return True
    return False if not len(ball.edge) else None


def count_of_outlines(box: BoxPuzzle, most: int = MANY) -> int | None:
    """How many outlines the turns give; ``None`` where they are more than were gone through."""
    ball = outlines_around_home(box, most)
    return None if len(ball.edge) else sum(map(len, ball.levels))


@lru_cache(maxsize=8)
def outlines_around_home(box: BoxPuzzle, most: int = MANY) -> Ball:
    """The outlines by the number of turns that give them; the last level is empty if these are all."""
    images = np.array([box.slot_images[name] for name in box.turns])
    solid = np.zeros((len(box.slots), 2), dtype=bool)
    solid[:, 1] = True
    points = 2 * images[:, :, None] + np.arange(2)
    moves = OutlineMoves(points, solid=solid, neighbours=box.neighbours)
    ball = Ball(moves, box.filled[None].astype(np.uint8))
    while len(ball.edge) and sum(map(len, ball.levels)) <= most:
        ball.grow(lambda: None)
    return ball


def _held(box: BoxPuzzle, outline: np.ndarray) -> np.ndarray:
    """The outline in every holding that rotations of the whole box lead to."""
    found = []
    for names, _ in holdings(box):
        turned = outline.astype(np.uint8)
        for name in names:
            turned = turned[np.argsort(box.slot_images[name])]
        found.append(turned)
    return np.unique(found, axis=0)
