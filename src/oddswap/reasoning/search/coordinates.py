"""Coordinates of a sliding search: where a few of the pieces are, numbered, with a table of where each move takes each number.

All other pieces, and the blank, show nothing in particular. The states of a coordinate are found by following the moves
as if a slide exchanged what is at its two ends, so twins and goals with don't-cares need no formula of their own.
"""

from dataclasses import dataclass

import numpy as np

from oddswap.reasoning.search.levels import Ball, Check, Level
from oddswap.reasoning.search.words import Moves

NOWHERE = -1
"""Where a move leads that cannot be made, and the number of a state that no moves lead to."""
FAR = 255
"""The count of moves to what has not been reached."""


@dataclass(frozen=True, eq=False)
class Coordinate:
    """The numbered places of the pieces that show ``codes``; ``steps`` (states, moves) says where each move leads, int32."""

    codes: tuple[int, ...]
    moves: Moves
    hashes: np.ndarray
    steps: np.ndarray

    def __len__(self) -> int:
        return len(self.hashes)

    def numbers(self, states: np.ndarray) -> np.ndarray:
        """The number of each state, int32, shape (n,); `NOWHERE` where its pieces are not those of the goals."""
        return _found(self.hashes, self.moves.hashes(_seen(states, self.codes)))


def coordinate(moves: Moves, goals: np.ndarray, codes: tuple[int, ...], check: Check) -> Coordinate | None:
    """The coordinate of the pieces that show ``codes``; None where two of its states share a hash, which is hardly ever."""
    looks = np.arange(len(codes) + 1, dtype=np.uint8)
    slides = Moves.of(moves.source, np.broadcast_to(looks, (*moves.source.shape, len(looks))))
    ball = Ball(slides.distinct, _seen(goals, codes))
    while len(ball.edge):
        ball.grow(check)
    states = Level.joined(ball.levels)
    order = np.argsort(states.hashes)
    rows, hashes = states.rows[order], states.hashes[order]
    if (hashes[1:] == hashes[:-1]).any():
        return None
    steps = [_found(hashes, slides.hashes_after(rows, hashes, move)) for move in range(len(slides))]
    return Coordinate(codes, slides, hashes, np.stack(steps, axis=1))


def blank_steps(moves: Moves) -> np.ndarray:
    """Where each move takes the blank: int32, shape (slots, moves), `NOWHERE` unless the blank is at its begin."""
    steps = np.full((moves.images.shape[1], len(moves)), NOWHERE, dtype=np.int32)
    steps[moves.blank.begin, np.arange(len(moves))] = moves.blank.end
    return steps


def _seen(states: np.ndarray, codes: tuple[int, ...]) -> np.ndarray:
    """Which of the codes each slot shows, counted from one; 0 for any other."""
    number = np.zeros(256, dtype=np.uint8)
    number[list(codes)] = np.arange(1, len(codes) + 1)
    return number[states]


def _found(hashes: np.ndarray, sought: np.ndarray) -> np.ndarray:
    at = np.minimum(np.searchsorted(hashes, sought), len(hashes) - 1)
    return np.where(hashes[at] == sought, at, NOWHERE).astype(np.int32)
