"""Puzzles some of whose slots are empty: which of them are filled is the shape."""

from collections.abc import Iterator
from functools import cached_property

import numpy as np

from oddswap.puzzles.base.shapes import Shaped
from oddswap.values.position import Appearance, Arrangement


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
