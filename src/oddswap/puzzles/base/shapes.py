"""Shapes and arrows: a puzzle whose shape decides which turns there are, and what comes back to its shape at home.

A shape is a vertex and a turn is an arrow from shape to shape, labelled by the turn's permutation of labels. Breadth first from
home, a tree of shapes gives each of them a *frame*: what the turns along the tree do. An arrow off the tree closes a loop: out
along the tree, over the arrow and back along the tree. The loops of all arrows generate the vertex group, which is all that comes
home (they are Schreier's generators); those of some arrows generate a part of it.

A shape is a row of bytes, whatever they mean to the puzzle. What a puzzle has to say is in `Shaped`.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.base.shape_tree import STAGES, around_home, explored
from oddswap.puzzles.base.whole_turns import holdings, turns_fit_every_holding
from oddswap.values.position import Appearance, Arrangement, Holding, Sight
from oddswap.values.sequence import Sequence

FAR = 100_000
"""So many shapes are gone through around one from which no way home was found at first, where there is time."""


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
        return np.ones(len(looks), dtype=bool)

    def lets(self, looks: np.ndarray, slots: np.ndarray, moved: np.ndarray) -> np.ndarray:
        """Whether states, as for `may_stand`, let a turn be made that moves what is in the slots ``moved``: bool, shape (n,)."""
        return np.ones(len(looks), dtype=bool)

    def unchecked(self, moves: str | Sequence) -> tuple[tuple[Turn, ...], Holding]:
        """The elementary turns of a sequence and the holding afterwards, whatever the shape allows."""
        return Puzzle.settled(self, moves)

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


class Filled(Shaped):
    """To stand before `Puzzle` among the bases; ``filled[b]`` says whether slot b has something in it at home."""

    filled: np.ndarray

    @cached_property
    def void(self) -> frozenset[int]:
        """The slots that are empty at home."""
        return frozenset(np.flatnonzero(~self.filled).tolist())

    def shape_of(self, permutation: np.ndarray) -> np.ndarray:
        """Which slots are filled, eight to a byte."""
        return np.packbits(self._outline_after(permutation))

    @cached_property
    def _solid_looks(self) -> tuple[frozenset[int], ...]:
        """For each slot the looks of what fills one."""
        solid = {kind: frozenset(self.looks[[j for j in kind.labels if self.pieces[j]]].tolist()) for kind in self.kinds}
        return tuple(solid[kind] for kind in self.kind_of)

    def solid(self, slots: np.ndarray) -> np.ndarray:
        """Which codes each of these slots shows when it is filled: bool, shape (slots, codes).

        After all looks come two codes more, which a mask leaves to be seen: nothing there, and something.
        """
        table = np.zeros((len(slots), int(self.looks.max()) + 3), dtype=bool)
        table[:, -1] = True
        for row, slot in zip(table, slots.tolist(), strict=True):
            row[list(self._solid_looks[slot])] = True
        return table

    def unsure(self, appearance: Appearance) -> tuple[int, ...]:
        """The slots of which it is not seen whether they are filled."""
        both = zip(appearance.sights, self._solid_looks, strict=True)
        return tuple(b for b, (sight, solid) in enumerate(both) if 0 < len(sight & solid) < len(sight))

    def outline_seen(self, appearance: Appearance) -> np.ndarray:
        """Which slots an appearance shows filled, or may show so."""
        return np.array([bool(sight & solid) for sight, solid in zip(appearance.sights, self._solid_looks, strict=True)])

    def standing(self, appearance: Appearance) -> Iterator[np.ndarray]:
        """With the outline that is seen, if each kind of slot has as many filled as at home."""
        outline = self.outline_seen(appearance)
        if self.unsure(appearance):
            return
        pieces = np.arange(len(self.slots))
        for kind in self.kinds:
            here = list(kind.places)
            (there,), (own,) = (np.nonzero(filled[here]) for filled in (outline, self.filled))
            if len(there) != len(own):
                return
            gone, left = (np.setdiff1d(one, other) for one, other in ((own, there), (there, own)))
            pieces[kind.start + left], pieces[kind.start + gone] = kind.start + gone, kind.start + left
        yield self.permutation(Arrangement(self.name, tuple(pieces.tolist()), (0,) * len(pieces)))

    @cached_property
    def _sources(self) -> np.ndarray:
        """For each turn the slot from which each slot is filled."""
        return np.argsort([self.slot_images[name] for name in self.turns], axis=1)

    @cached_property
    def _by_bytes(self) -> np.ndarray:
        """What each turn makes of each byte of a shape with each value: uint8 (turns, bytes, 256, bytes)."""
        width = -(-len(self.slots) // 8)
        alone = np.zeros((width, 256, width), dtype=np.uint8)
        alone[np.arange(width), :, np.arange(width)] = np.arange(256)
        cells = np.unpackbits(alone, axis=2, count=len(self.slots))
        return np.array([np.packbits(cells[:, :, source], axis=2) for source in self._sources])

    def _carried_bytes(self, shapes: np.ndarray) -> np.ndarray:
        after = self._by_bytes[:, 0, shapes[:, 0]]
        for place in range(1, shapes.shape[1]):
            after |= self._by_bytes[:, place, shapes[:, place]]
        return after

    def outline(self, arrangement: Arrangement) -> np.ndarray:
        """Which slots are filled: bool, shape (slots,)."""
        return self.filled[list(arrangement.pieces)]

    def closed(self, arrangement: Arrangement) -> bool:
        """Whether the outline is that at home."""
        return bool((self.outline(arrangement) == self.filled).all())

    def _outline_after(self, permutation: np.ndarray) -> np.ndarray:
        outline = np.zeros(len(self.slots), dtype=bool)
        outline[self.slots_of(permutation[self.base_label[self.filled]])] = True
        return outline

    def _carried(self, outline: np.ndarray, turn) -> np.ndarray:
        after = np.empty_like(outline)
        after[self.slot_images[turn.name]] = outline
        return after

    @cached_property
    def slot_images(self) -> dict[str, np.ndarray]:
        """The slot to which each turn or rotation takes what is in each slot."""
        every = {**self.turns, **self.rotations}
        return {name: self.slots_of(turn.permutation[self.base_label]) for name, turn in every.items()}
