"""Shapes and arrows: a puzzle whose shape decides which turns there are, and what comes back to its shape at home.

A shape is a vertex and a turn is an arrow from shape to shape, labelled by the turn's permutation of labels. Breadth first from
home, a tree of shapes gives each of them a *frame*: what the turns along the tree do. An arrow off the tree closes a loop: out
along the tree, over the arrow and back along the tree. The loops of all arrows generate the vertex group, which is all that comes
home (they are Schreier's generators); those of some arrows generate a part of it.

A shape is a row of bytes, whatever they mean to the puzzle. What a puzzle has to say is in `Shaped`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.base.whole_turns import holdings, turns_fit_every_holding
from oddswap.values.appearance import Appearance, Sight
from oddswap.values.arrangement import Arrangement

STAGES = 3_000, 30_000, 300_000
"""As soon as there are more shapes than this no further ones are made: at first, and where fewer were not enough."""
FAR = 100_000
"""So many shapes are gone through around one from which no way home was found at first, where there is time."""
AT_ONCE = 2048
ROOM = 30_000
"""Frames are kept of so many shapes; those of others are made when they are asked for."""


class Shaped:
    """What makes a puzzle one whose shape decides its turns; to stand before `Puzzle` among the bases of its class.

    Each says ``void``, `shape_of`, `arrows` and `standing`. One of its turns must undo every turn, and where a turn takes a label
    must not depend on the shape: only whether it can be made does.
    """

    steady = False
    shape_first = True
    shape_word = "shape"
    """What errors call it."""

    def shape_of(self, permutation: np.ndarray) -> np.ndarray:
        """The shape that a label permutation makes of the solved puzzle: uint8, shape (width,)."""
        raise NotImplementedError

    def arrows(self, shapes: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """What each turn makes of shapes (n, width): shapes (turns, n, width), and whether it can be made (turns, n)."""
        raise NotImplementedError

    def standing(self, appearance: Appearance) -> Iterator[np.ndarray]:
        """For each shape that an appearance may have, a label permutation that has it."""
        raise NotImplementedError

    def unsure(self, appearance: Appearance) -> tuple[int, ...]:
        """The slots that leave it open which shape an appearance has."""
        return ()

    def torn(self, appearance: Appearance) -> str:
        """Why an appearance has no shape at all, as the beginning of a sentence; empty where it has one."""
        return ""

    def narrowed(self, sights: tuple[Sight, ...]) -> tuple[Sight, ...]:
        """What each slot may show, less what the shape that is seen excludes."""
        return sights

    def may_stand(self, looks: np.ndarray, slots: np.ndarray) -> np.ndarray:
        """Whether states (n, slots) that show these looks in the slots of these numbers have a shape: bool, shape (n,)."""
        raise NotImplementedError

    def lets(self, looks: np.ndarray, slots: np.ndarray, moved: np.ndarray) -> np.ndarray:
        """Whether states, as for `may_stand`, let a turn be made that moves what is in the slots ``moved``: bool, shape (n,)."""
        return np.ones(len(looks), dtype=bool)

    def for_viewer(self) -> dict:
        """What tells the viewer which turns the shape allows: plain data, with ``sort``."""
        raise NotImplementedError

    def legal(self, arrangement: Arrangement) -> tuple[Turn, ...]:
        """The turns that can be made now."""
        _, can = self.arrows(self.shape_of(self.permutation(arrangement))[None])
        return tuple(turn for turn, made in zip(self.turns.values(), can[:, 0].tolist(), strict=True) if made)

    @cached_property
    def pieces(self) -> np.ndarray:
        """Whether each label is that of a piece which the shape does not place: bool, shape (degree,)."""
        number = self.slots_of(np.arange(self.degree))
        return ~np.isin(number, sorted(self.fixed))

    @cached_property
    def whole_turns(self) -> tuple[np.ndarray, ...]:
        """The label permutations of the whole-puzzle rotations, if they join the turns; that of none comes first."""
        joined = self.rotations and not self.chosen and turns_fit_every_holding(self)
        return tuple(image for _, image in holdings(self)) if joined else (np.arange(self.degree),)

    @cached_property
    def _met(self) -> dict[bytes, np.ndarray]:
        """What `homeward` found from far away, by the shape."""
        return {}

    def homeward(self, permutation: np.ndarray, most: int = STAGES[1]) -> np.ndarray | None:
        """The label permutation that takes the shape home from where this one has it; ``None`` where no way home is known.

        Where it is none of the nearest, at least ``most`` of the shapes around it are gone through, once for each shape.
        """
        rows = np.array([self.shape_of(whole[permutation]) for whole in self.whole_turns])
        far = rows[0].tobytes()
        for near in () if far in self._met else STAGES[:2]:
            shapes = around_home(self, near)
            for whole, number in zip(self.whole_turns, shapes.find(rows).tolist(), strict=True):
                if number >= 0:
                    return shapes.homeward(number)[whole]
            if shapes.whole:
                return None
        if far not in self._met:
            there = explored(self, far, most)
            numbers = shapes.find(there.rows)
            for number in np.flatnonzero(numbers >= 0)[:1].tolist():
                self._met[far] = shapes.homeward(numbers[number])[there.frames(np.array([number]))[0]]
        return self._met.get(far)

    def homed(self, permutation: np.ndarray) -> np.ndarray | None:
        """The label permutation after the shape was taken home; ``None`` where no way home is known."""
        back = self.homeward(permutation)
        return None if back is None else self.pieces_moved(back[permutation])

    def never_home(self, permutation: np.ndarray) -> bool:
        """Whether it is known that no turns take a label permutation to the shape at home."""
        if self.homeward(permutation) is not None:
            return False
        return around_home(self, STAGES[1]).whole or explored(self, self.shape_of(permutation).tobytes(), STAGES[1]).whole

    def pieces_moved(self, permutation: np.ndarray) -> np.ndarray:
        """What a label permutation that keeps the shape at home does to the pieces."""
        return np.where(self.pieces, permutation, np.arange(self.degree))


@dataclass(frozen=True, eq=False)
class Shapes:
    """The shapes around one, (n, width), in the order of their distance; ``levels`` counts those of each.

    ``parents[i]`` and ``turns[i]`` are the shape, and the number of the turn, by which shape i was reached. ``whole``: there are
    no more.
    """

    puzzle: Shaped | Puzzle
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


def count_of_shapes(puzzle: Puzzle) -> int | None:
    """How many shapes the turns give as the puzzle is held, 1 where they need none; ``None`` if more than were gone through."""
    if puzzle.steady:
        return 1
    shapes = around_home(puzzle, STAGES[1])
    return len(shapes) if shapes.whole else None


def copies_held(puzzle: Puzzle) -> int:
    """How many times as many there are, where rotations of the whole puzzle join the turns, which do not lead to all of these."""
    if puzzle.steady:
        return 1
    met = around_home(puzzle, STAGES[1]).find(np.array([puzzle.shape_of(image) for image in puzzle.whole_turns])) >= 0
    return len(met) // int(met.sum())


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
