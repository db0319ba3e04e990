"""Moves on packed states, and the words made of them that need to be tried.

Every state that n moves reach is reached by a *reduced* word of at most n moves: one in which no two neighbours
amount to one move or none, and commuting neighbours stand in the order of their numbers. (Of the shortest words for
a state take the one that is greatest when read from its end: a pair that breaks a rule could be shortened, or
exchanged for a greater word.) The rules are read off the permutations, so they hold for any puzzle. Where a blank
decides which moves there are, a word is reduced when each move takes the blank on from where the last one left it,
and not straight back.

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


def first_rows(rows: np.ndarray) -> list[int]:
    """Where each different row stands for the first time; for few rows, which NumPy's ``unique`` takes long to sort."""
    found: dict[bytes, int] = {}
    for at, row in enumerate(rows):
        found.setdefault(row.tobytes(), at)
    return list(found.values())


@dataclass(frozen=True, eq=False)
class Blank:
    """The code that the blank shows, and the slots between which each move takes it; both of shape (moves,)."""

    code: int
    begin: np.ndarray
    end: np.ndarray


@dataclass(frozen=True, eq=False)
class Moves:
    """Moves as permutations of the points (slot, code); ``images`` has shape (moves, slots, codes).

    Point (b, c) is numbered ``b * codes + c``: a state *has* the point when its slot b shows c. With a ``blank`` a move
    can be made only where the blank is at its begin.
    """

    images: np.ndarray
    blank: Blank | None = None

    @staticmethod
    def of(source: np.ndarray, lut: np.ndarray) -> Moves:
        """Moves from lookup tables such as those of `SeenModel`."""
        target = np.argsort(source, axis=1)[:, :, None]
        return Moves(target * lut.shape[2] + np.take_along_axis(lut, target, axis=1))

    def sliding(self, code: int, ends: np.ndarray) -> Moves:
        """The same moves, each once in either direction, where a blank that shows ``code`` slides between ``ends``.

        ``ends`` has shape (moves, 2).
        """
        blank = Blank(code, np.concatenate([ends[:, 0], ends[:, 1]]), np.concatenate([ends[:, 1], ends[:, 0]]))
        return Moves(np.concatenate([self.images, self.images]), blank)

    def __len__(self) -> int:
        return len(self.images)

    @cached_property
    def flat(self) -> np.ndarray:
        """The images as permutations, shape (moves, points)."""
        return self.images.reshape(len(self), self.images.shape[1] * self.images.shape[2])

    @property
    def distinct(self) -> Moves:
        """The moves, of which none needs a blank, without those that do the same as an earlier one."""
        return Moves(self.images[first_rows(self.flat)])

    @cached_property
    def inverse(self) -> Moves:
        """The move of each number undone."""
        blank = None if self.blank is None else Blank(self.blank.code, self.blank.end, self.blank.begin)
        return Moves(np.argsort(self.flat, axis=1).reshape(self.images.shape), blank)

    @cached_property
    def source(self) -> np.ndarray:
        """The slot from which each slot is filled: uint8, shape (moves, slots)."""
        return np.argsort(self.images[:, :, 0] // self.images.shape[2], axis=1).astype(np.uint8)

    @cached_property
    def lut(self) -> np.ndarray:
        """What each slot shows after the move, by the code that comes in; uint8, shape (moves, slots, codes)."""
        into = np.take_along_axis(self.images, self.source[:, :, None], axis=1)
        return (into % self.images.shape[2]).astype(np.uint8)

    def apply(self, states: np.ndarray, move: int) -> np.ndarray:
        """The states after a move; shape (…, slots)."""
        return self.lut[move, np.arange(states.shape[-1]), states[..., self.source[move]]]

    @cached_property
    def follow(self) -> np.ndarray:
        """Which moves may come next: bool, with a row for each move that was the last, and for each way to start."""
        if self.blank is not None:
            begin, end = self.blank.begin, self.blank.end
            on = (end[:, None] == begin) & (begin[:, None] != end)
            return np.concatenate([on, np.arange(self.images.shape[1])[:, None] == begin])
        known = {image.tobytes() for image in self.flat} | {np.arange(self.flat.shape[1]).tobytes()}
        allowed = np.ones((len(self) + 1, len(self)), dtype=bool)
        for a, first in enumerate(self.flat):
            both = self.flat[:, first]
            commute = (both == first[self.flat]).all(axis=1)
            allowed[a] = [image.tobytes() not in known for image in both] & ~(commute & (np.arange(len(self)) < a))
        return allowed

    @cached_property
    def following(self) -> tuple[np.ndarray, np.ndarray]:
        """The moves that may come next, for each row of ``follow`` first in order and then the others, uint16; and how many."""
        return np.argsort(~self.follow, axis=1, kind="stable").astype(np.uint16), self.follow.sum(axis=1)

    def can(self, states: np.ndarray, move: int) -> np.ndarray:
        """Whether a move can be made in each of these states: bool, shape (n,). A subclass may exclude some."""
        return np.ones(len(states), dtype=bool)

    def may_be(self, states: np.ndarray) -> np.ndarray:
        """Whether there can be each of these states: bool, shape (n,). A subclass may exclude some."""
        return np.ones(len(states), dtype=bool)

    def starting(self, states: np.ndarray) -> np.ndarray:
        """The row of ``follow`` for each state that no move led to; int16, shape (n,)."""
        if self.blank is None:
            return np.full(len(states), len(self), dtype=np.int16)
        return (len(self) + (states == self.blank.code).argmax(axis=1)).astype(np.int16)

    def words(self, length: int) -> np.ndarray:
        """How many reduced words of a length go on from each row of ``follow``: ints."""
        count = np.ones(len(self.follow), dtype=object)
        for _ in range(length):
            count = self.follow.astype(object) @ count[: len(self)]
        return count

    def word(self, last: int, length: int, number: int) -> list[int]:
        """The reduced word of that number, in order, among those of ``length`` that may follow ``last``."""
        word: list[int] = []
        while len(word) < length:
            below = self.words(length - len(word) - 1)
            for move in np.flatnonzero(self.follow[last]):
                if number < below[move]:
                    break
                number -= below[move]
            last = int(move)
            word.append(last)
        return word

    @cached_property
    def weights(self) -> np.ndarray:
        return weights(*self.images.shape[1:])

    def hashes(self, states: np.ndarray) -> np.ndarray:
        """The hash of each state, uint64."""
        return self.weights[np.arange(states.shape[1]), states].sum(axis=1, dtype=np.uint64)

    @cached_property
    def touched(self) -> np.ndarray:
        """Whether each move takes what is in each slot elsewhere or twists it: bool, shape (moves, slots)."""
        return (self.images != np.arange(self.flat.shape[1]).reshape(self.images.shape[1:])).any(axis=2)

    @cached_property
    def moved(self) -> np.ndarray:
        """For each move the slots that it changes, then some that it leaves: uint8, shape (moves, most moved)."""
        order = np.argsort(~self.touched, axis=1, kind="stable").astype(np.uint8)
        return order[:, : max(1, self.touched.sum(axis=1).max())]

    @cached_property
    def changes(self) -> np.ndarray:
        """What a moved slot that shows a code adds to the hash: uint64, shape (moves, most moved, codes)."""
        after = self.weights.reshape(-1)[self.images] - self.weights
        return np.take_along_axis(after, self.moved[:, :, None], axis=1)

    def hashes_after(self, states: np.ndarray, hashes: np.ndarray, move: int) -> np.ndarray:
        """The hash of each state after a move, from its hash before."""
        return hashes + sum(self.changes[move, j, states[:, slot]] for j, slot in enumerate(self.moved[move]))
