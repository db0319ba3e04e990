"""Frames: how the states of a box that may open are told apart, so that a search sees what its own turns cannot change.

Two states are taken for one when turns that keep the outline relabel one into the other as far as their laws tell: every
piece shows only its orbit under these turns, and beside that there is a *class*. For each orbit without twins the pieces
are read in the order of the slots that they are in; of four or fewer pieces that reading counts in full, of more only its sign.
Twists that show are added up for each orbit.
A turn inside the box relabels these readings from the left, and readings that it relabels into one another are one class.
A turn of any layer changes them from the right, so classes can be followed while the box is open.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from itertools import permutations, product

import numpy as np

from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.reasoning.laws.characters import pairing
from oddswap.reasoning.laws.sectors import by_orbits, sectors
from oddswap.reasoning.search.seen import OutlineMoves, SeenModel, seen_model, within_shapes
from oddswap.reasoning.search.words import Moves
from oddswap.values.orbits import least_joined, numbered

MOST = 2_000_000
"""At most so many readings are told apart; where there are more, orbits of four count by their pairs, or by sign alone."""


@dataclass(frozen=True, eq=False)
class Codes:
    """What each kept slot tells when it shows a code, shape (slots, codes): the label orbit ``seen``; the ``orbit`` that is
    read and the ``rank`` of its piece in it; the twist sum ``twisted`` to which it adds ``by``. -1: none.

    ``sizes`` counts the pieces of each orbit that is read, ``ways`` the values of each twist sum.
    """

    seen: np.ndarray
    orbit: np.ndarray
    rank: np.ndarray
    sizes: tuple[int, ...]
    twisted: np.ndarray
    by: np.ndarray
    ways: tuple[int, ...]


@dataclass(frozen=True, eq=False)
class Frame:
    """A box with the turns ``inner`` that keep its outline, and how its states are told apart."""

    box: BoxPuzzle
    inner: tuple[str, ...]

    @cached_property
    def labelled(self) -> SeenModel:
        """States in which every coloured piece shows which it is."""
        box, looks = self.box, []
        for kind in box.kinds:
            shown = []
            for piece in kind.places:
                coloured = box.filled[piece] and not box.blank_inside[piece]
                labels = box.base_label[piece] + np.arange(kind.twist)
                shown += [(piece if coloured else -1, int(look)) for look in box.looks[labels]]
            looks += numbered(shown)
        return seen_model(replace(box, name=f"{box.name} piece by piece", looks=np.array(looks)))

    @cached_property
    def moves(self) -> OutlineMoves:
        model = self.labelled
        chosen = range(len(self.box.turns))
        return within_shapes(model, Moves.of(model.source[chosen], model.lut[chosen]))

    @cached_property
    def _codes(self) -> Codes:
        box, model = self.box, self.labelled
        coarse = by_orbits(box, self.inner)
        shape = (len(model.slots), model.codes)
        seen, orbit, rank, twisted, by = (np.full(shape, fill, dtype=np.int16) for fill in (0, -1, 0, -1, 0))
        sizes: list[int] = []
        ways: list[int] = []
        place = {slot: i for i, slot in enumerate(model.slots.tolist())}
        for sector in sectors(box, [box.turns[name].permutation for name in self.inner]):
            kind, coloured = sector.kind, [p for p in sector.slots if box.filled[p] and not box.blank_inside[p]]
            looks = [frozenset(box.looks[box.base_label[p] + np.arange(kind.twist)].tolist()) for p in coloured]
            apart = len(frozenset().union(*looks)) == sum(map(len, looks))
            shows = apart and sector.twist > 1 and all(len(one) == kind.twist for one in looks)
            for number, piece in enumerate(coloured):
                first = int(sector.labels[sector.slots.index(piece), 0] - box.base_label[piece])
                for twist, here in product(range(kind.twist), (place[b] for b in kind.places if b in place)):
                    code = model.puzzle.looks[box.base_label[piece] + twist]
                    if apart and len(coloured) > 1:
                        orbit[here, code], rank[here, code] = len(sizes), number
                    if shows:
                        twisted[here, code] = len(ways)
                        by[here, code] = (twist + first) % kind.twist // (kind.twist // sector.twist)
            sizes += [len(coloured)] if apart and len(coloured) > 1 else []
            ways += [sector.twist] if shows and coloured else []
        for kind in box.kinds:
            labels = list(kind.labels)
            for here in (place[b] for b in kind.places if b in place):
                seen[here, model.puzzle.looks[labels]] = coarse.looks[labels]
        return Codes(seen.astype(np.uint8), orbit, rank, tuple(sizes), twisted, by, tuple(ways))

    @cached_property
    def _folded(self) -> tuple[np.ndarray, ...]:
        """For each orbit, the number that each of its readings gets: shape (readings,)."""
        sizes, most = self._codes.sizes, MOST / np.prod(self._codes.ways)
        for fold in (_in_full, _by_pairs, _by_sign):
            folded = tuple(fold(n) if n <= 4 else np.arange(2) for n in sizes)
            if np.prod([one.max() + 1.0 for one in folded]) <= most:
                break
        return folded

    @cached_property
    def by_sign(self) -> bool:
        """Whether some orbit of four is told by its sign alone, because the readings would be too many."""
        return any(n == 4 and one.max() == 1 for n, one in zip(self._codes.sizes, self._folded, strict=True))

    @cached_property
    def _sizes(self) -> tuple[int, ...]:
        """How many readings of each orbit, and how many values of each twist sum, are told apart."""
        return (*(int(one.max()) + 1 for one in self._folded), *self._codes.ways)

    def read(self, rows: np.ndarray) -> np.ndarray:
        """The number of each state's reading, int64 (n,), the last twist sum running fastest.

        Of four or fewer pieces a reading is its place in the order of all permutations, of more its sign; `_folded` renumbers it.
        """
        codes, at, numbers = self._codes, np.arange(rows.shape[1]), np.zeros(len(rows), dtype=np.int64)
        orbit, rank, twisted, by = (part[at, rows] for part in (codes.orbit, codes.rank, codes.twisted, codes.by))
        for o, (count, folded) in enumerate(zip(codes.sizes, self._folded, strict=True)):
            ranks, number = rank[orbit == o].reshape(len(rows), count), np.zeros(len(rows), dtype=np.int64)
            for i in range(count):
                smaller = (ranks[:, i + 1 :] < ranks[:, i, None]).sum(axis=1)
                number = number * (count - i) + smaller if count <= 4 else number ^ (smaller & 1)
            numbers = numbers * (folded.max() + 1) + folded[number]
        for w, ways in enumerate(codes.ways):
            numbers = numbers * ways + np.where(twisted == w, by, 0).sum(axis=1) % ways
        return numbers

    @cached_property
    def _tables(self) -> list[np.ndarray]:
        """For each orbit that is read, and for each twist sum, the products of its readings."""
        tables = [_products(n, folded) for n, folded in zip(self._codes.sizes, self._folded, strict=True)]
        return tables + [np.add.outer(range(ways), range(ways)) % ways for ways in self._codes.ways]

    @cached_property
    def _inner_readings(self) -> list[tuple[int, ...]]:
        """What the solved box reads after each turn inside the box, orbit by orbit."""
        numbers = [list(self.box.turns).index(name) for name in self.inner]
        turned = np.concatenate([self.moves.apply(self.labelled.solved[None], n) for n in numbers])
        return [tuple(map(int, np.unravel_index(one, self._sizes))) for one in self.read(turned)] if self._sizes else []

    @cached_property
    def classes(self) -> np.ndarray:
        """The class of each reading: the least reading into which turns inside the box relabel it."""
        images = [_image(table[by] for table, by in zip(self._tables, turn, strict=True)) for turn in self._inner_readings]
        return least_joined(np.arange(int(np.prod(self._sizes, dtype=np.int64))), images)

    @cached_property
    def families(self) -> np.ndarray:
        """For each reading the least reading of its family: all that turns inside the box make of its class."""
        images = [_image(table[:, by] for table, by in zip(self._tables, turn, strict=True)) for turn in self._inner_readings]
        return least_joined(self.classes, images)

    def between(self, first: np.ndarray, second: np.ndarray) -> np.ndarray:
        """The family that an excursion leads to which goes out to a state of one class, and back as from one of another.

        Both are readings, int (n,), of states in which pieces of one orbit lie at the same places; so is the result.
        """
        number = np.zeros(len(first), dtype=np.int64)
        parts = (np.unravel_index(one, self._sizes) if self._sizes else () for one in (first, second))
        for table, there, back in zip(self._tables, *parts, strict=True):
            undone = (table == 0).argmax(axis=1)
            number = number * len(table) + table[there, undone[back]]
        return self.families[number]

    def keys(self, rows: np.ndarray) -> np.ndarray:
        """What tells states apart, one comparable item for each: what is where by orbit, and last, in four bytes, the class."""
        seen = self._codes.seen[np.arange(rows.shape[1]), rows]
        classes = self.classes[self.read(rows)].astype(np.uint32).view(np.uint8).reshape(len(rows), 4)
        key = np.ascontiguousarray(np.concatenate([seen, classes], axis=1))
        return key.view(np.dtype((np.void, key.shape[1]))).ravel()


def _image(rows: Iterable[np.ndarray]) -> np.ndarray:
    """Where each reading goes, from where the readings of each orbit go; the last orbit runs fastest."""
    image = np.zeros(1, dtype=np.int64)
    for row in rows:
        image = np.add.outer(len(row) * image, row).ravel()
    return image


def _in_full(n: int) -> np.ndarray:
    return np.arange(math.factorial(n))


def _by_pairs(n: int) -> np.ndarray:
    """Four pieces by how they fall into two pairs (in which their sign is included), fewer in full."""
    if n < 4:
        return _in_full(n)
    return np.array(numbered(tuple(pairing(one[0], one[place]) for place in (1, 2, 3)) for one in _every(4)))


def _by_sign(n: int) -> np.ndarray:
    return np.array([sum(b < a for i, a in enumerate(one) for b in one[i + 1 :]) % 2 for one in _every(n)])


def _every(n: int) -> list[tuple[int, ...]]:
    return list(permutations(range(n)))


def _products(n: int, folded: np.ndarray) -> np.ndarray:
    """``[a, b]``: reading b relabelled from the left by reading a."""
    if n > 4:
        return np.array([[0, 1], [1, 0]])
    every = _every(n)
    table = np.empty((folded.max() + 1,) * 2, dtype=int)
    for i, by in enumerate(every):
        for j, one in enumerate(every):
            table[folded[i], folded[j]] = folded[every.index(tuple(by[k] for k in one))]
    return table


@lru_cache(maxsize=8)
def frame_of(box: BoxPuzzle, inner: tuple[str, ...]) -> Frame:
    return Frame(box, inner)
