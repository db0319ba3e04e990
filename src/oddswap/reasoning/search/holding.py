"""What is searched, and the holding: where nothing fixes it, states are counted and sought up to rotation.

Where one piece can always be told from all others, the puzzle is turned as a whole after each turn that moved that
piece, so that it is back in its place; then of all states that differ only by how the puzzle is held exactly one is
left. Turns that have become the same are one move. Otherwise every goal is sought in every holding.
"""

from dataclasses import dataclass
from functools import reduce

import numpy as np

from oddswap.puzzles.base.whole_turns import holdings
from oddswap.reasoning.search.seen import SeenModel, within_shapes
from oddswap.reasoning.search.words import Moves


@dataclass(frozen=True, eq=False)
class Anchor:
    """A piece that stays in its place, as a point (slot, code); ``back[p]`` is the rotation that takes p there."""

    point: int
    rotations: Moves
    back: dict[int, int]

    def points(self, state: np.ndarray) -> set[int]:
        """Where a state has the piece: one point, unless it lacks the piece or has another like it."""
        points = np.arange(len(state)) * self.rotations.images.shape[2] + state
        return self.back.keys() & set(points.tolist())

    def settled(self, state: np.ndarray) -> np.ndarray:
        """The state turned as a whole so that the piece is in its place."""
        return self.rotations.apply(state, self.back[min(self.points(state))])

    def held(self, turns: Moves) -> Moves:
        """Each turn followed by the rotation that takes the piece back."""
        flat = [self.rotations.flat[self.back[int(turn[self.point])]][turn] for turn in turns.flat]
        return Moves(np.reshape(flat, turns.images.shape))


@dataclass(frozen=True, eq=False)
class Task:
    """A search: with ``moves`` from ``start`` (slots,) to any of ``goals`` (n, slots).

    ``seen`` is the start as it is held; ``names`` are the turns allowed.
    """

    model: SeenModel
    names: tuple[str, ...]
    seen: np.ndarray
    moves: Moves
    start: np.ndarray
    goals: np.ndarray
    anchor: Anchor | None

    def named(self, word: list[int]) -> tuple[str, ...]:
        """The turns that a word of moves stands for, from the start as it is held."""
        found, seen, state = [], self.seen, self.start
        for move in word:
            state = self.moves.apply(state, move)
            for name in filter(lambda name: self.model.may(seen, name), self.names):
                after = self.model.apply(seen, name)
                if ((self.anchor.settled(after) if self.anchor else after) == state).all():
                    break
            else:
                raise AssertionError("a move of the search is no turn of the puzzle")
            found.append(name)
            seen = after
        return tuple(found)


def task(model: SeenModel, names: tuple[str, ...], start: np.ndarray, goals: np.ndarray) -> Task:
    """The search from ``start`` to any of ``goals``, in any holding where that is free, with the named turns."""
    chosen = [model.names.index(name) for name in names]
    turns = Moves.of(model.source[chosen], model.lut[chosen])
    if model.blank is not None:
        slides = turns.sliding(model.blank, model.ends[chosen])
        return Task(model, names, start, slides, start, goals, None)
    if (anchor := _anchor(model, turns, [start, *goals])) is None:
        goals = model.closure(goals, model.puzzle.rotations)
        return Task(model, names, start, within_shapes(model, turns.distinct), start, goals, None)
    settled = np.unique([anchor.settled(goal) for goal in goals], axis=0)
    moves = within_shapes(model, anchor.held(turns).distinct)
    return Task(model, names, start, moves, anchor.settled(start), settled, anchor)


def _anchor(model: SeenModel, turns: Moves, states: list[np.ndarray]) -> Anchor | None:
    """A piece by which the holding can be settled: each state has it once, and only rotations are needed for it."""
    rotations = _rotations(model)
    known = {turn.tobytes() for turn in turns.flat}
    turned = (rotation[turn][np.argsort(rotation)] for rotation in rotations.flat for turn in turns.flat)
    if len(rotations) == 1 or any(np.ascontiguousarray(turn).tobytes() not in known for turn in turned):
        return None
    for point in np.arange(len(model.slots)) * model.codes + model.solved:
        back = {int(image): i for i, image in enumerate(rotations.inverse.flat[:, point])}
        anchor = Anchor(int(point), rotations, back)
        turned_back = len(back) == len(rotations) and back.keys() >= set(turns.flat[:, point].tolist())
        if turned_back and all(len(anchor.points(state)) == 1 for state in states):
            return anchor
    return None


def _rotations(model: SeenModel) -> Moves:
    """All whole-puzzle rotations, the identity first."""
    given = len(model.puzzle.turns)
    turns = dict(zip(model.names[given:], Moves.of(model.source[given:], model.lut[given:]).flat, strict=True))
    still = np.arange(len(model.slots) * model.codes)
    every = [reduce(lambda row, name: turns[name][row], names, still) for names, _ in holdings(model.puzzle)]
    return Moves(np.reshape(every, (len(every), len(model.slots), model.codes))).distinct
