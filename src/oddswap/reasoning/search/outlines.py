"""Moves that change a shape: only states that have one count, as those of a box whose cells hang together by faces.

Whether they have one is seen in every state, so levels hold no other, and a way between two states is one of such states.
Of a box two turns that commute may be possible in one order alone, so both orders are tried. Words of which only the ends' hashes
are kept are not looked at in between: they are more than the ways, so what they exclude is excluded.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from oddswap.puzzles.base.shapes import Shaped
from oddswap.puzzles.boxes.outlines import touching
from oddswap.reasoning.search.seen import SeenModel
from oddswap.reasoning.search.words import Moves


@dataclass(frozen=True, eq=False, kw_only=True)
class ShapedMoves(Moves):
    """``slots`` are the numbers of the slots whose looks a state has; from these the ``puzzle`` knows whether it may stand so."""

    puzzle: Shaped
    slots: np.ndarray

    @property
    def distinct(self) -> ShapedMoves:
        return replace(self, images=super().distinct.images)

    @cached_property
    def inverse(self) -> ShapedMoves:
        return replace(self, images=Moves(self.images).inverse.images)

    def can(self, states: np.ndarray, move: int) -> np.ndarray:
        """Whether the shape of each state lets a move be made."""
        return self.puzzle.lets(states, self.slots, self.slots[self.source[move] != np.arange(len(self.slots))])

    def may_be(self, states: np.ndarray) -> np.ndarray:
        """Whether each state has a shape."""
        return self.puzzle.may_stand(states, self.slots)

    def finds(self, states: np.ndarray, move: int) -> np.ndarray:
        """Whether there is something in the layer that a move turns."""
        return np.ones(len(states), dtype=bool)

    def shape_as_in(self, goal: np.ndarray) -> np.ndarray:
        """Whether each slot may show each code while the shape is that of a goal: bool, shape (slots, codes)."""
        if self.puzzle.void:
            solid = self.puzzle.solid(self.slots)[:, : self.images.shape[2]]
            return solid == solid[np.arange(len(goal)), goal][:, None]
        free = ~np.isin(self.slots, list(self.puzzle.bound))
        return free[:, None] | (np.arange(self.images.shape[2]) == goal[:, None])


@dataclass(frozen=True, eq=False, kw_only=True)
class OutlineMoves(ShapedMoves):
    """``solid[b, c]``: whether slot b is filled when it shows c; ``neighbours`` (slots and what is always filled, 6)."""

    solid: np.ndarray
    neighbours: np.ndarray

    @cached_property
    def follow(self) -> np.ndarray:
        """Which moves may come next: all but those that make one move, or none, with the last; bool (moves + 1, moves)."""
        known = {image.tobytes() for image in self.flat} | {np.arange(self.flat.shape[1]).tobytes()}
        after = [[second[first].tobytes() not in known for second in self.flat] for first in self.flat]
        return np.array([*after, [True] * len(self)])

    def apply(self, states: np.ndarray, move: int) -> np.ndarray:
        """The states after a move; shape (…, slots)."""
        from oddswap.reasoning.search.outline_kernels import turned

        return turned(_rows(states), self.source[move], self.lut[move]).reshape(states.shape)

    def hashes_after(self, states: np.ndarray, hashes: np.ndarray, move: int) -> np.ndarray:
        """The hash of each state after a move, from its hash before."""
        from oddswap.reasoning.search.outline_kernels import hashes_after

        return hashes_after(_rows(states), hashes, self.moved[move], self.changes[move])

    def may_be(self, states: np.ndarray) -> np.ndarray:
        """Whether the cells of each state hang together."""
        from oddswap.reasoning.search.outline_kernels import hang_together

        return hang_together(_rows(states), self.solid, self.neighbours)

    def finds(self, states: np.ndarray, move: int) -> np.ndarray:
        """Whether there is more than air in the layer that a move turns."""
        moved = np.flatnonzero(self.source[move] != np.arange(len(self.slots)))
        return self.solid[moved, states[:, moved]].any(axis=1)


@dataclass(frozen=True, eq=False, kw_only=True)
class SequenceMoves(Moves):
    """Sequences of moves that change a shape, each counting as one, made only where each of its moves can be made in turn.

    ``made_of`` are the moves of ``single`` in each; ``kept`` (slots, codes) is what slots may show after each move.
    """

    single: ShapedMoves
    made_of: tuple[tuple[int, ...], ...]
    kept: np.ndarray

    @cached_property
    def inverse(self) -> SequenceMoves:
        made_of = tuple(word[::-1] for word in self.made_of)
        return replace(self, images=Moves(self.images).inverse.images, single=self.single.inverse, made_of=made_of)

    @cached_property
    def follow(self) -> np.ndarray:
        """All may come next but what undoes the last: another that does what two do may not be possible where they are."""
        still = np.arange(self.flat.shape[1])
        return np.array([*([(b[a] != still).any() for b in self.flat] for a in self.flat), [True] * len(self)])

    def can(self, states: np.ndarray, move: int) -> np.ndarray:
        """Whether the shapes of each state and of those after it let each move of a sequence be made."""
        good, slots = np.ones(len(states), dtype=bool), np.arange(states.shape[1])
        for step in self.made_of[move]:
            good &= self.single.can(states, step) & self.single.finds(states, step)
            states = self.single.apply(states, step)
            good &= self.single.may_be(states) & self.kept[slots, states].all(axis=1)
        return good


def _rows(states: np.ndarray) -> np.ndarray:
    return np.ascontiguousarray(states).reshape(-1, states.shape[-1])


def within_shapes(model: SeenModel, moves: Moves) -> Moves:
    """The moves of a puzzle whose shape has to be seen; those of any other puzzle as they are."""
    puzzle = model.puzzle
    if not puzzle.shape_first:
        return moves
    if not puzzle.leaves_outline:
        return ShapedMoves(moves.images, puzzle=puzzle, slots=model.slots)
    kept, solid = model.slots.tolist(), puzzle.solid(model.slots)[:, : model.codes]
    always = [place for b, place in enumerate(puzzle.places) if b not in set(kept) and puzzle.filled[b]]
    core = [(0, 0, 0)] if all(n % 2 for n in puzzle.sides) else []
    places = (*(puzzle.places[b] for b in kept), *always, *core)
    return OutlineMoves(moves.images, puzzle=puzzle, slots=model.slots, solid=solid, neighbours=touching(places))
