"""Moves on packed states, and the words made of them that need to be tried.

Every state that n moves reach is reached by a *reduced* word of at most n moves: one in which no two neighbours amount
to one move or none, and commuting neighbours stand in the order of their numbers. (Of the shortest words for a state
take the one that is greatest when read from its end: a pair that breaks a rule could be shortened, or exchanged for a
greater word.) The rules are read off the permutations, so they hold for any puzzle.

The hash of a state is the sum, modulo 2**64, of one random number per (slot, code). A turn changes it by a sum over
the slots that it moves, which needs no new state.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np


def weights(slots: int, codes: int) -> np.ndarray:
    """The random numbers of the hash: seeded, uint64, shape (slots, codes)."""
    return np.random.default_rng(20240229).integers(0, 2**64, (slots, codes), dtype=np.uint64)


@dataclass(frozen=True, eq=False)
class Moves:
    """Named moves as permutations of the points (slot, code); ``images`` has shape (moves, slots, codes).

    Point (b, c) is ``b * codes + c``: a state *has* the point when its slot b shows c.
    """

    names: tuple[str, ...]
    images: np.ndarray

    @staticmethod
    def of(names: tuple[str, ...], source: np.ndarray, lut: np.ndarray) -> Moves:
        """Moves from lookup tables as `SeenModel` has them."""
        target = np.argsort(source, axis=1)
        images = np.take_along_axis(lut, target[:, :, None], axis=1) + target[:, :, None] * lut.shape[2]
        return Moves(names, images.astype(np.int64))

    def __len__(self) -> int:
        return len(self.names)

    @cached_property
    def inverse(self) -> Moves:
        """The move of each number undone."""
        flat = self.images.reshape(len(self), -1)
        return Moves(self.names, np.argsort(flat, axis=1).reshape(self.images.shape))

    @cached_property
    def source(self) -> np.ndarray:
        """The slot from which each slot is filled, shape (moves, slots)."""
        return np.argsort(self.images[:, :, 0] // self.images.shape[2], axis=1)

    @cached_property
    def lut(self) -> np.ndarray:
        """What each slot shows after the move, by the code that comes in; uint8, shape (moves, slots, codes)."""
        return np.take_along_axis(self.images % self.images.shape[2], self.source[:, :, None], axis=1).astype(np.uint8)

    @cached_property
    def follow(self) -> np.ndarray:
        """Which moves may follow which, shape (moves + 1, moves), bool; the last row is for *after nothing*."""
        flat = self.images.reshape(len(self), -1)
        known = {image.tobytes() for image in flat} | {np.arange(flat.shape[1]).tobytes()}
        allowed = np.ones((len(self) + 1, len(self)), dtype=bool)
        for a, first in enumerate(flat):
            for b, second in enumerate(flat):
                both = second[first]
                commute = (both == first[second]).all()
                allowed[a, b] = both.tobytes() not in known and not (commute and b < a)
        return allowed

    def words(self, length: int) -> np.ndarray:
        """How many reduced words of a length may follow each move; shape (moves + 1,), the last for *after nothing*."""
        count = np.ones(len(self) + 1, dtype=object)
        for _ in range(length):
            count = self.follow.astype(object) @ count[:-1]
        return count

    def word(self, last: int, length: int, number: int) -> tuple[int, ...]:
        """The reduced word of that number among those of ``length`` that may follow ``last``, in order."""
        word: list[int] = []
        while len(word) < length:
            below = self.words(length - len(word) - 1)
            for move in np.flatnonzero(self.follow[last]):
                if number < below[move]:
                    break
                number -= below[move]
            word.append(int(move))
            last = int(move)
        return tuple(word)

    def apply(self, states: np.ndarray, move: int) -> np.ndarray:
        """The states after a move; shape (…, slots)."""
        return self.lut[move, np.arange(states.shape[-1]), states[..., self.source[move]]]

    @cached_property
    def weights(self) -> np.ndarray:
        return weights(*self.images.shape[1:])

    def hashes(self, states: np.ndarray) -> np.ndarray:
        """The hash of each state, uint64."""
        return self.weights[np.arange(states.shape[1]), states].sum(axis=1, dtype=np.uint64)

    @cached_property
    def moved(self) -> np.ndarray:
        """For each move the slots that it changes, padded with slots that it leaves; shape (moves, most moved)."""
        still = self.images == np.arange(self.images[0].size).reshape(self.images.shape[1:])
        changed = ~still.all(axis=2)
        width = max(1, int(changed.sum(axis=1).max()))
        return np.argsort(~changed, axis=1, kind="stable")[:, :width]

    @cached_property
    def changes(self) -> np.ndarray:
        """What a moved slot that shows a code adds to the hash; uint64, shape (moves, most moved, codes)."""
        after = self.weights.reshape(-1)[self.images] - self.weights
        return np.ascontiguousarray(np.take_along_axis(after, self.moved[:, :, None], axis=1))

    def hashes_after(self, states: np.ndarray, hashes: np.ndarray, move: int) -> np.ndarray:
        """The hash of each state after a move, from its hash before."""
        return hashes + sum(self.changes[move, j][states[:, slot]] for j, slot in enumerate(self.moved[move]))
