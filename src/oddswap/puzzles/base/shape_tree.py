"""The tree of shapes around one, breadth first, with what the turns along it do, and the loops that other arrows close."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle

STAGES = 3_000, 30_000, 300_000
"""As soon as there are more shapes than this no further ones are made: at first, and where fewer were not enough."""
AT_ONCE = 2048
ROOM = 30_000
"""Frames are kept of so many shapes; those of others are made when they are asked for."""


@dataclass(frozen=True, eq=False)
class Shapes:
    """The shapes around one, (n, width), in the order of their distance; ``levels`` counts those of each.

    ``parents[i]`` and ``turns[i]`` are the shape, and the number of the turn, by which shape i was reached. ``whole``: there are
    no more.
    """

    puzzle: Puzzle
    rows: np.ndarray
    parents: np.ndarray
    turns: np.ndarray
    levels: tuple[int, ...]
    whole: bool

    def __len__(self) -> int:
        return len(self.rows)

    @cached_property
    def _nearest(self) -> np.ndarray:
        """The frames of the shapes in the first levels, as many as there is room for."""
        images = _images(self.puzzle)
        frames, end = [np.arange(self.puzzle.degree, dtype=np.min_scalar_type(self.puzzle.degree))[None]], 1
        for count in self.levels[1:]:
            if end + count > ROOM:
                break
            last, made = self.parents[end : end + count], self.turns[end : end + count]
            before = frames[-1][last - (end - len(frames[-1]))].astype(np.intp)
            frames.append(np.take_along_axis(images[made], before, axis=1).astype(frames[0].dtype))
            end += count
        return np.concatenate(frames)

    def frames(self, numbers: np.ndarray) -> np.ndarray:
        """The label permutations from the first shape to those of these numbers: shape (n, degree)."""
        images, near, at = _images(self.puzzle), self._nearest, np.array(numbers, dtype=np.intp)
        further = np.tile(np.arange(self.puzzle.degree), (len(at), 1))
        while len(far := np.flatnonzero(at >= len(near))):
            further[far] = np.take_along_axis(further[far], images[self.turns[at[far]]], axis=1)
            at[far] = self.parents[at[far]]
        return np.take_along_axis(further, near[at].astype(np.intp), axis=1)

    @cached_property
    def _sorted(self) -> tuple[np.ndarray, np.ndarray]:
        keys = keys_of(self.rows)
        order = np.argsort(keys)
        return keys[order], order

    def find(self, rows: np.ndarray) -> np.ndarray:
        """The numbers of shapes (n, width), -1 for what is not here."""
        keys, order = self._sorted
        sought = keys_of(rows)
        at = np.searchsorted(keys, sought).clip(max=len(keys) - 1)
        return np.where(keys[at] == sought, order[at], -1)

    def homeward(self, number: int) -> np.ndarray:
        """The label permutation back along the tree."""
        return np.argsort(self.frames(np.array([number]))[0])

    def word(self, number: int) -> tuple[str, ...]:
        """The turns along the tree to a shape."""
        names, word = list(self.puzzle.turns), []
        while number:
            word.append(names[self.turns[number]])
            number = int(self.parents[number])
        return tuple(reversed(word))

    def round_trip(self, number: int, turn: int) -> tuple[str, ...]:
        """The loop that an arrow closes, as turns."""
        row = self.puzzle.arrows(self.rows[number][None])[0][turn]
        back = (str(self.puzzle.turns[name].step.inverse()) for name in reversed(self.word(int(self.find(row)[0]))))
        return *self.word(number), list(self.puzzle.turns)[turn], *back

    def loops(self, numbers: Iterable[int] | None = None) -> Iterator[tuple[np.ndarray, np.ndarray, np.ndarray]]:
        """The loops of all arrows from these shapes (all when left out), each edge once, without those that do nothing: the
        numbers of the shapes, those of the turns, and the label permutations, many at once.
        """
        chosen = np.arange(len(self)) if numbers is None else np.array(numbers, dtype=np.intp)
        images = _images(self.puzzle)
        pieces, still = self.puzzle.pieces, np.arange(self.puzzle.degree)
        for begin in range(0, len(chosen), AT_ONCE):
            part = chosen[begin : begin + AT_ONCE]
            after, can = self.puzzle.arrows(self.rows[part])
            frames = self.frames(part)
            for turn in range(len(images)):
                there = self.find(after[turn])
                kept = np.flatnonzero(can[turn] & (there >= 0) & (there <= part))
                ahead, behind = images[turn][frames[kept]], self.frames(there[kept])
                back = np.empty_like(behind)
                np.put_along_axis(back, behind, still[None], axis=1)
                rows = np.where(pieces, np.take_along_axis(back, ahead, axis=1), still)
                moved = (rows != still).any(axis=1)
                if moved.any():
                    yield part[kept][moved], np.full(moved.sum(), turn), rows[moved]


def keys_of(rows: np.ndarray) -> np.ndarray:
    """Rows of bytes as one comparable item each."""
    return np.ascontiguousarray(rows).view(f"S{rows.shape[1]}").ravel()


def around_home(puzzle: Puzzle, most: int) -> Shapes:
    """The shapes around home, all of them or at least ``most`` of the nearest.

    >>> from oddswap.puzzles.catalogue import load
    >>> around_home(load("cuboid:1x3x3,turns=all"), 1000).levels
    (1, 4, 50, 286, 152, 2)
    """
    return explored(puzzle, puzzle.shape_of(np.arange(puzzle.degree)).tobytes(), most)


@lru_cache(maxsize=32)
def explored(puzzle: Puzzle, start: bytes, most: int) -> Shapes:
    """The shapes around one, all of them or at least ``most`` of the nearest; frames begin there."""
    levels, parents, turns = [np.frombuffer(start, np.uint8)[None]], [np.zeros(1, np.int32)], [np.zeros(1, np.uint16)]
    total, before = 1, keys_of(levels[0])[:0]
    while len(levels[-1]) and total < most:
        edge, now, found = levels[-1], keys_of(levels[-1]), []
        known = np.sort(np.concatenate([before, now]))
        for begin in range(0, len(edge), AT_ONCE):
            found.append(_fresh(*puzzle.arrows(edge[begin : begin + AT_ONCE]), known, begin))
            if total + sum(len(rows) for rows, *_ in found) > 2 * most:
                break
        rows, last, made = (np.concatenate(part) for part in zip(*found, strict=True))
        _, first = np.unique(keys_of(rows), return_index=True)
        first = np.sort(first)
        before, levels = now, [*levels, rows[first]]
        parents.append((total - len(edge) + last[first]).astype(np.int32))
        turns.append(made[first].astype(np.uint16))
        total += len(first)
    joined = (np.concatenate(part) for part in (levels, parents, turns))
    return Shapes(puzzle, *joined, tuple(len(level) for level in levels if len(level)), whole=not len(levels[-1]))


def _fresh(after: np.ndarray, can: np.ndarray, known: np.ndarray, begin: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Shapes that turns lead to and that are not ``known``, sorted keys, each once, with the numbers of the shapes before and of
    the turns.
    """
    made, last = np.nonzero(can)
    rows = after[made, last]
    keys, first = np.unique(keys_of(rows), return_index=True)
    at = np.searchsorted(known, keys).clip(max=len(known) - 1)
    first = np.sort(first[known[at] != keys])
    return rows[first], last[first] + begin, made[first]


def _images(puzzle: Puzzle) -> np.ndarray:
    return np.reshape([turn.permutation for turn in puzzle.turns.values()], (-1, puzzle.degree)).astype(np.intp)
