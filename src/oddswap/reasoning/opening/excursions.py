"""Ways out of the box and back that change what the box's own turns cannot change.

Levels of states grow around the ticket and around the solved box until they share a state, told apart as a `Frame` tells them
apart. What this leaves is for turns that keep the outline.
"""

from collections.abc import Iterator

import numpy as np

from oddswap.reasoning.budget import Clock
from oddswap.reasoning.opening.box_levels import BoxLevels
from oddswap.reasoning.opening.frames import Frame


def meetings(frame: Frame, start: np.ndarray, clock: Clock, most: int) -> Iterator[list[int]]:
    """Words of moves from ``start`` to where turns inside the box can finish as far as their laws tell, the shortest first."""
    out, back = BoxLevels(frame, start[None]), BoxLevels(frame, frame.labelled.solved[None])
    inverse = inverses(frame)
    while not clock.spent:
        yield from words_through(out, back, inverse)
        smaller = min((out, back), key=lambda levels: len(levels.edge))
        if not len(smaller.edge) or len(smaller.edge) * len(frame.moves) > most:
            return
        smaller.grow()


def words_through(out: BoxLevels, back: BoxLevels, inverse: list[int]) -> Iterator[list[int]]:
    """The words from a start of ``out`` to one of ``back`` through each state that both edges have."""
    _, here, there = np.intersect1d(out.edge_keys, back.edge_keys, assume_unique=True, return_indices=True)
    for i, j in zip(here.tolist(), there.tolist(), strict=True):
        yield [*out.word(i), *(inverse[move] for move in reversed(back.word(j)))]


def inverses(frame: Frame) -> list[int]:
    """The number of the move that undoes each move."""
    names = list(frame.box.turns)
    return [names.index(str(turn.step.inverse())) for turn in frame.box.turns.values()]
