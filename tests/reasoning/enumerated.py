"""Every assembly of a small puzzle, sorted into classes by walking alone: no laws, no chains, no lookalikes."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, cached_property
from itertools import permutations, product

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle


@dataclass(frozen=True, eq=False)
class Assemblies:
    """``rows`` (count, degree): every label permutation that keeps each label in its orbit under the turns, each once.

    A blank, if there is one, is at home, and the turns are the loops at home.
    """

    puzzle: Puzzle
    rows: np.ndarray

    @cached_property
    def _sorted(self) -> tuple[np.ndarray, np.ndarray]:
        keys = _keys(self.rows)
        order = np.argsort(keys)
        return keys[order], order

    def numbers(self, rows: np.ndarray) -> np.ndarray:
        """The number of each of these assemblies."""
        keys, order = self._sorted
        at = np.searchsorted(keys, _keys(rows))
        assert (keys[at] == _keys(rows)).all()
        return order[at]

    @cached_property
    def classes(self) -> np.ndarray:
        """For each assembly a number, equal for two if turns lead from one to the other."""
        return joined(len(self.rows), [self.numbers(turn[self.rows]) for turn in self.puzzle.generators])

    @cached_property
    def seen(self) -> np.ndarray:
        """For each assembly a number, equal for two that look alike."""
        return numbered(self.looks)

    @cached_property
    def looks(self) -> np.ndarray:
        """What shows in each slot: shape (count, slots)."""
        puzzle, kinds = self.puzzle, self.puzzle.kind_of
        shown = np.empty((len(self.rows), len(kinds)), dtype=int)
        for piece, kind in enumerate(kinds):
            where = self.rows[:, puzzle.base_label[piece]] - kind.first
            shown[np.arange(len(shown)), kind.start + where // kind.twist] = puzzle.looks[
                puzzle.base_label[piece] + where % kind.twist
            ]
        return shown

    @cached_property
    def seen_classes(self) -> np.ndarray:
        """For each assembly a number, equal for two if turns and exchanges that nobody sees lead from one to the other."""
        return merged(self.classes, self.seen)

    @cached_property
    def reached(self) -> np.ndarray:
        """Whether the turns lead from solved to it."""
        (solved,) = self.numbers(np.arange(self.puzzle.degree)[None])
        return self.classes == self.classes[solved]


@cache
def assemblies(puzzle: Puzzle) -> Assemblies:
    """All assemblies of a puzzle over the orbits of its turns."""
    orbit = joined(puzzle.degree, puzzle.generators)
    rows = np.arange(puzzle.degree)[None]
    for kind in puzzle.kinds:
        for slots in _together(kind, orbit):
            ways = np.array([image for image in _ways(kind, slots, orbit)])
            labels = [label for slot in slots for label in _labels(kind, slot)]
            rows = np.repeat(rows, len(ways), axis=0)
            rows[:, labels] = np.tile(ways, (len(rows) // len(ways), 1))
    return Assemblies(puzzle, rows)


def _labels(kind, slot: int) -> range:
    return range(kind.first + kind.twist * slot, kind.first + kind.twist * (slot + 1))


def _together(kind, orbit: np.ndarray) -> list[list[int]]:
    """The slots of a kind (from 0) in sets that the turns move among each other."""
    sets: dict[int, list[int]] = {}
    for slot in range(len(kind.slots)):
        sets.setdefault(min(int(orbit[label]) for label in _labels(kind, slot)), []).append(slot)
    return list(sets.values())


def _ways(kind, slots: list[int], orbit: np.ndarray) -> Iterable[list[int]]:
    """The images of the labels of these slots in every way that keeps each label in its orbit."""
    turned = {
        (p, q): [
            image
            for t in range(kind.twist)
            for image in [np.roll(_labels(kind, q), -t).tolist()]
            if (orbit[image] == orbit[_labels(kind, p)]).all()
        ]
        for p, q in product(slots, repeat=2)
    }
    for order in permutations(slots):
        for images in product(*(turned[pair] for pair in zip(slots, order, strict=True))):
            yield [label for image in images for label in image]


def _keys(rows: np.ndarray) -> np.ndarray:
    narrow = np.ascontiguousarray(rows.astype(np.uint8))
    return narrow.view(np.dtype((np.void, narrow.shape[1]))).ravel()


def numbered(rows: np.ndarray) -> np.ndarray:
    """Equal rows get equal numbers."""
    return np.unique(rows, axis=0, return_inverse=True)[1].ravel()


def joined(count: int, steps: Iterable[np.ndarray]) -> np.ndarray:
    """For each of ``count`` things the least one that steps, each a permutation of them, lead to or from."""
    both = [way for step in steps for way in (step, np.argsort(step))]
    least = np.arange(count)
    while True:
        lower = np.minimum.reduce([least, *(least[way] for way in both)])
        lower = lower[lower]
        if (lower == least).all():
            return least
        least = lower


def merged(some: np.ndarray, others: np.ndarray) -> np.ndarray:
    """The finest partition in which things are together that are so in one or the other."""
    found = some
    while True:
        lower = found.copy()
        for partition in (some, others):
            best = np.full(partition.max() + 1, len(found))
            np.minimum.at(best, partition, lower)
            lower = best[partition]
        if (lower == found).all():
            return found
        found = lower


def same_partition(some: Iterable, others: Iterable) -> bool:
    pairs = set(zip(some, others, strict=True))
    return len(pairs) == len({a for a, _ in pairs}) == len({b for _, b in pairs})


def relabellings(puzzle: Puzzle, pieces: Iterable[int] | None = None) -> np.ndarray:
    """Every exchange of names that nobody sees, of these pieces (all, when left out): shape (count, degree).

    Read off the looks: p may be called q, e steps further round, if p, e steps further round, always looks as q does.
    """
    every = set(range(len(puzzle.slots)))
    free = every if pieces is None else set(pieces)
    rows = np.arange(puzzle.degree)[None]
    for kind in puzzle.kinds:
        members = [piece for piece in kind.places if piece in free]
        names = [[image for q in members for image in _names(puzzle, kind, p, q)] for p in members]
        chosen = [images for images in product(*names) if len({image[0] for image in images}) == len(images)]
        if members:
            labels = [puzzle.base_label[p] + t for p in members for t in range(kind.twist)]
            ways = np.array([[label for _, image in images for label in image] for images in chosen])
            rows = np.repeat(rows, len(ways), axis=0)
            rows[:, labels] = np.tile(ways, (len(rows) // len(ways), 1))
    return rows


def _names(puzzle: Puzzle, kind, p: int, q: int) -> Iterable[tuple[int, list[int]]]:
    """Every way to call p by the name of q: q with the labels by which p's are called."""
    way = np.arange(kind.twist)
    for extra in range(kind.twist):
        further = (way + extra) % kind.twist
        if (puzzle.looks[puzzle.base_label[p] + further] == puzzle.looks[puzzle.base_label[q] + way]).all():
            yield q, (puzzle.base_label[q] + further).tolist()


def renamed(puzzle: Puzzle, relabelling: np.ndarray) -> frozenset[int]:
    """The pieces that a relabelling calls by another name, or sees another way round."""
    return frozenset(np.flatnonzero(relabelling[puzzle.base_label] != puzzle.base_label).tolist())
