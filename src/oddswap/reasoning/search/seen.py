"""What is seen, packed: one byte per slot, and turns as lookup tables.

The byte of a slot is the number of the look that it shows, within the slot's kind. A turn takes what sits in slot b
to slot b' and adds a fixed twist to it, whatever it is; looks are classes under that, so a turn acts on what is seen:
``new[b'] = lut[move, b', old[source[move, b']]]``. Lookalikes need no special case: equal looks have equal bytes.

Of moves that change a shape only states that have one count, as those of a box whose cells hang together by faces. Whether they
have one is seen in every state, so levels hold no other, and a way between two states is one of such states. Of a box two turns
that commute may be possible in one order alone, so both orders are tried. Words of which only the ends' hashes
are kept are not looked at in between: they are more than the ways, so what they exclude is excluded.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache, reduce

import numpy as np

from oddswap.errors import OddswapError, TooLarge
from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.puzzles.base.shapes import Shaped
from oddswap.reasoning.search.words import Moves
from oddswap.values.position import Appearance


class Unseen(OddswapError):
    """An appearance that no search can start from: not every slot shows for certain one look that it can have."""


@dataclass(frozen=True, eq=False)
class SeenModel:
    """The packed states of a puzzle.

    ``slots`` numbers the slots that are kept: those whose kind shows more than one look. ``names`` are the turns and
    then the rotations; ``source`` has shape (moves, slots), ``lut`` shape (moves, slots, codes), both uint8.
    """

    puzzle: Puzzle
    slots: np.ndarray
    codes: int
    names: tuple[str, ...]
    source: np.ndarray
    lut: np.ndarray

    @cached_property
    def blank(self) -> int | None:
        """The code of the blank, where one decides which turns there are."""
        puzzle = self.puzzle
        return None if puzzle.blank is None else int(puzzle.looks[puzzle.base_label[puzzle.blank]])

    @cached_property
    def ends(self) -> np.ndarray:
        """The two slots between which each turn slides something, shape (turns, 2); only with a blank."""
        return np.searchsorted(self.slots, self.puzzle.edges)

    @cached_property
    def moves(self) -> Moves:
        """The turns and the rotations as moves."""
        return within_shapes(self, Moves.of(self.source, self.lut))

    def may(self, state: np.ndarray, name: str) -> bool:
        """Whether a turn can be made in that state: always, unless a blank or the shape decides."""
        move = self.names.index(name)
        if self.blank is not None:
            return bool((state[self.ends[move]] == self.blank).any())
        return bool(self.moves.can(state[None], move)[0])

    @cached_property
    def solved(self) -> np.ndarray:
        """The solved state, shape (slots,)."""
        return self.pack(self.puzzle.appearance(self.puzzle.solved))

    @cached_property
    def goals(self) -> np.ndarray:
        """Solved in every holding, shape (holdings, slots): one row unless the holding is free."""
        return self.closure(self.solved[None], self.puzzle.rotations)

    def closure(self, states: np.ndarray, names: Iterable[str]) -> np.ndarray:
        """All states that the named moves make of ``states``, each once."""
        moves, found = [self.names.index(name) for name in names], np.unique(states, axis=0)
        while True:
            grown = np.unique(np.concatenate([found, *(self.apply(found, m) for m in moves)]), axis=0)
            if len(grown) == len(found):
                return found
            found = grown

    def apply(self, states: np.ndarray, move: int | str) -> np.ndarray:
        """The states after a move (its number in ``names``, or its name); shape (…, slots)."""
        m = self.names.index(move) if isinstance(move, str) else move
        return self.lut[m, np.arange(len(self.slots)), states[..., self.source[m]]]

    def follow(self, state: np.ndarray, names: Iterable[str]) -> np.ndarray:
        """The state after moves one after the other; shape (slots,)."""
        return reduce(self.apply, names, state)

    def pack(self, appearance: Appearance) -> np.ndarray:
        """One byte per kept slot. `Unseen` unless every slot shows one look for certain that its kind has."""
        puzzle = self.puzzle
        for name, kind, sight in zip(puzzle.slots, puzzle.kind_of, appearance.sights, strict=True):
            if len(sight) != 1 or not sight <= looks_of(puzzle, kind):
                what = f"{len(sight)} possible looks" if len(sight) > 1 else "what no piece shows there"
                raise Unseen(f"slot {name} of {puzzle.name} has {what}: give every slot one look of its kind")
        return np.array([next(iter(appearance.sights[b])) for b in self.slots], dtype=np.uint8)

    def unpack(self, state: np.ndarray) -> Appearance:
        """The appearance of one packed state."""
        looks = [min(looks_of(self.puzzle, kind)) for kind in self.puzzle.kind_of]
        for b, code in zip(self.slots, state, strict=True):
            looks[b] = int(code)
        return Appearance(self.puzzle.name, tuple(frozenset((look,)) for look in looks))


@lru_cache(maxsize=32)
def seen_model(puzzle: Puzzle) -> SeenModel:
    """The packed states of a puzzle; the tables come from its label permutations and looks, and are checked."""
    kept = [b for b, kind in enumerate(puzzle.kind_of) if len(looks_of(puzzle, kind)) > 1]
    codes = 1 + int(puzzle.looks.max())
    if max(codes, len(kept)) > 256:
        raise TooLarge(f"{puzzle.name} is too large to be searched: at most 256 slots with 256 looks fit")
    moves = {**puzzle.turns, **puzzle.rotations}
    source = np.empty((len(moves), len(kept)), dtype=np.uint8)
    lut = np.empty((len(moves), len(kept), codes), dtype=np.uint8)
    twisted = {kind: [_twisted(puzzle, kind, twist, codes) for twist in range(kind.twist)] for kind in puzzle.kinds}
    place = {b: i for i, b in enumerate(kept)}
    for m, turn in enumerate(moves.values()):
        for b in kept:
            kind, (target, twist) = puzzle.kind_of[b], _carried(puzzle, turn.permutation, b)
            source[m, place[target]] = place[b]
            lut[m, place[target]] = twisted[kind][twist]
    return SeenModel(puzzle, np.array(kept, dtype=np.intp), codes, tuple(moves), source, lut)


@lru_cache(maxsize=512)
def looks_of(puzzle: Puzzle, kind: Kind) -> frozenset[int]:
    """All looks that a kind has."""
    return frozenset(puzzle.looks[list(kind.labels)].tolist())


def _carried(puzzle: Puzzle, permutation: np.ndarray, b: int) -> tuple[int, int]:
    """The slot to which a turn takes what sits in slot b, and the twist that it adds."""
    kind, way = puzzle.kind_of[b], np.arange(puzzle.kind_of[b].twist)
    images = permutation[puzzle.base_label[b] + way] - kind.first
    target, twist = divmod(int(images[0]), kind.twist)
    if (images != target * kind.twist + (way + twist) % kind.twist).any():
        raise ValueError(f"a turn of {puzzle.name} does not take all twists at {puzzle.slots[b]} round alike")
    return kind.start + target, twist


def _twisted(puzzle: Puzzle, kind: Kind, twist: int, codes: int) -> np.ndarray:
    """What each look of a kind becomes when its piece is twisted; codes that the kind has not stay as they are."""
    looks = puzzle.looks[list(kind.labels)].reshape(-1, kind.twist)
    after = np.roll(looks, -twist, axis=1)
    table = np.arange(codes, dtype=np.uint8)
    table[looks] = after
    if (table[looks] != after).any():
        raise ValueError(f"a twist tells the looks of the {kind.name} of {puzzle.name} apart that are numbered alike")
    return table


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
        return self.puzzle.lets(states, self.slots, self.slots[self.touched[move]])

    def may_be(self, states: np.ndarray) -> np.ndarray:
        """Whether each state has a shape."""
        return self.puzzle.may_stand(states, self.slots)

    def shape_as_in(self, goal: np.ndarray) -> np.ndarray:
        """Whether each slot may show each code while the shape is that of a goal: bool, shape (slots, codes)."""
        if self.puzzle.void:
            solid = self.puzzle.solid(self.slots)[:, : self.images.shape[2]]
            return solid == solid[np.arange(len(goal)), goal][:, None]
        free = ~np.isin(self.slots, list(self.puzzle.bound))
        return free[:, None] | (np.arange(self.images.shape[2]) == goal[:, None])


class OutlineMoves(ShapedMoves):
    """Moves of which both orders are tried where two of them commute: a box may let one of the orders alone be made."""

    @cached_property
    def follow(self) -> np.ndarray:
        """Which moves may come next: all but those that make one move, or none, with the last; bool (moves + 1, moves)."""
        known = {image.tobytes() for image in self.flat} | {np.arange(self.flat.shape[1]).tobytes()}
        after = [[second[first].tobytes() not in known for second in self.flat] for first in self.flat]
        return np.array([*after, [True] * len(self)])


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
            good &= self.single.can(states, step)
            states = self.single.apply(states, step)
            good &= self.single.may_be(states) & self.kept[slots, states].all(axis=1)
        return good


def within_shapes(model: SeenModel, moves: Moves) -> Moves:
    """The moves of a puzzle whose shape has to be seen; those of any other puzzle as they are."""
    if not model.puzzle.shape_first:
        return moves
    kind = OutlineMoves if model.puzzle.leaves_outline else ShapedMoves
    return kind(moves.images, puzzle=model.puzzle, slots=model.slots)
