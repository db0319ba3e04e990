"""Half-seen puzzles by going through all that they may be: every completion is listed, and each is judged by its definition.

Nothing here knows of laws, classes, sectors or a dynamic programme. Arrangements are label permutations, as rows; where the turns
lead is sifted through a stabiliser chain of SymPy's, or walked where a blank moves.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import islice, product

import numpy as np
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import holdings
from oddswap.puzzles.catalogue import with_all_turns
from oddswap.values.position import Appearance, Sight
from tests.common.walking import depths
from tests.reasoning.enumerated import relabellings

Looks = tuple[int, ...]
OPEN = {"ordinary", "lookalike"}


@dataclass(frozen=True, eq=False)
class Sifted:
    """A group, by its generators, as label permutations."""

    generators: list[list[int]]

    @cached_property
    def levels(self) -> list[tuple[int, np.ndarray, np.ndarray]]:
        """For each base point which points it comes to, and for each of those a way back."""
        group, degree, found = PermutationGroup([Permutation(g) for g in self.generators]), len(self.generators[0]), []
        for point, ways in zip(group.base, group.basic_transversals, strict=True):
            met, back = np.zeros(degree, bool), np.tile(np.arange(degree), (degree, 1))
            for image, way in ways.items():
                met[image], back[image] = True, (~way).array_form
            found.append((point, met, back))
        return found

    def contains(self, rows: np.ndarray) -> np.ndarray:
        """Which of these rows belong to the group."""
        good = np.ones(len(rows), bool)
        for point, met, back in self.levels:
            good &= met[rows[:, point]]
            rows = np.take_along_axis(back[rows[:, point]], rows, axis=1)
        return good & (rows == np.arange(rows.shape[1])).all(axis=1)


@dataclass(frozen=True, eq=False)
class Walked:
    """What sliding reaches from solved, as the pieces in the slots."""

    puzzle: Puzzle

    @cached_property
    def states(self) -> set[bytes]:
        return {row.tobytes() for level in depths(self.puzzle) for row in level.astype(np.int8)}

    def contains(self, rows: np.ndarray) -> np.ndarray:
        return np.array([row.tobytes() in self.states for row in np.argsort(rows, axis=1).astype(np.int8)])


@dataclass(frozen=True, eq=False)
class HalfSeen:
    """What is true of a puzzle of which only a part is seen."""

    puzzle: Puzzle

    def __post_init__(self):
        self.__dict__["known"] = {}

    @cached_property
    def reached(self) -> Sifted | Walked:
        if self.puzzle.blank is not None:
            return Walked(self.puzzle)
        return Sifted([turn.permutation.tolist() for turn in self.puzzle.turns.values()])

    @cached_property
    def wider(self) -> "HalfSeen | None":
        wide = with_all_turns(self.puzzle)
        return wide and HalfSeen(wide)

    @cached_property
    def held(self) -> list[np.ndarray]:
        return [rotation for _, rotation in holdings(self.puzzle)]

    @cached_property
    def names(self) -> np.ndarray:
        return relabellings(self.puzzle)

    @cached_property
    def right(self) -> np.ndarray:
        return self.puzzle.looks[self.puzzle.base_label]

    def looks(self, row: np.ndarray) -> Looks:
        """What shows in each slot."""
        puzzle, found = self.puzzle, [0] * len(self.puzzle.slots)
        for piece, kind in enumerate(puzzle.kind_of):
            slot, twist = divmod(int(row[puzzle.base_label[piece]]) - kind.first, kind.twist)
            found[kind.start + slot] = int(puzzle.looks[puzzle.base_label[piece] + twist])
        return tuple(found)

    def wholes(self, sights: tuple[Sight, ...]) -> Iterator[np.ndarray]:
        """One explanation of each look of the whole that agrees with what is seen."""
        puzzle = self.puzzle

        def of_kind(kind, slots: list[int], left: list[int]) -> Iterator[dict[int, tuple[int, int]]]:
            if not slots:
                yield {}
                return
            tried = set()
            for piece, twist in product(left, range(kind.twist)):
                look = int(puzzle.looks[puzzle.base_label[piece] + twist])
                if look in sights[slots[0]] and look not in tried:
                    tried.add(look)
                    for rest in of_kind(kind, slots[1:], [p for p in left if p != piece]):
                        yield {slots[0]: (piece, twist), **rest}

        for parts in product(*(of_kind(kind, list(kind.places), list(kind.places)) for kind in puzzle.kinds)):
            row = np.empty(puzzle.degree, dtype=np.intp)
            for slot, (piece, twist) in (pair for part in parts for pair in part.items()):
                kind = puzzle.kind_of[slot]
                way = np.arange(kind.twist)
                row[puzzle.base_label[piece] + way] = puzzle.base_label[slot] + (way + twist) % kind.twist
            yield row

    def leads_to(self, rows: np.ndarray) -> np.ndarray:
        """Which of these the turns reach, held in any way."""
        return np.any([self.reached.contains(np.argsort(rotation)[rows]) for rotation in self.held], axis=0)

    def judged(self, row: np.ndarray) -> str:
        """The verdict on a whole look, of which this is one explanation."""
        looks = self.looks(row)
        if looks not in self.known:
            self.known[looks] = self._judged(row)
        return self.known[looks]

    def _judged(self, row: np.ndarray) -> str:
        every = row[self.names]
        good = self.leads_to(every)
        if good.any():
            return "ordinary" if self.away(every, every[good]) == 0 else "lookalike"
        if self.wider and self.wider.leads_to(every).any():
            return "other turns"
        return "not by turning"

    def away(self, every: np.ndarray, reached: np.ndarray, blamed: frozenset[int] = frozenset()) -> int:
        """How many pieces differ between a reached explanation and a first-sight one, at least; without free and blamed ones."""
        wrong = {i: np.flatnonzero(np.array(self.looks(turn[every[0]])) != self.right) for i, turn in enumerate(self.held)}
        fewest, found, base = min(map(len, wrong.values())), [], self.puzzle.base_label
        for i, slots in wrong.items():
            if len(slots) == fewest:
                places = self.held[i][every][:, base]
                moved = (places != base).sum(axis=1)
                first, ends = places[moved == moved.min()], self.held[i][reached][:, base]
                tied = [p for p in range(len(base)) if p not in blamed | self.free(frozenset(slots.tolist()))]
                first, ends = np.unique(first[:, tied], axis=0), np.unique(ends[:, tied], axis=0)
                found.append(min(int((ends != one).sum(axis=1).min()) for one in first))
        return min(found)

    @cached_property
    def turns(self) -> list[tuple[frozenset[int], frozenset[int], frozenset[int]]]:
        """For each turn the slots of pieces that it moves, those in which it shows, and those whose piece it turns unseen."""
        found, base = [], self.puzzle.base_label
        for turn in self.puzzle.turns.values():
            touched = frozenset(np.flatnonzero(turn.permutation[base] != base).tolist())
            showing = frozenset(np.flatnonzero(np.array(self.looks(turn.permutation)) != self.right).tolist())
            ends = {p: int(np.searchsorted(base, turn.permutation[base[p]], side="right")) - 1 for p in touched}
            found.append((touched, showing, frozenset(p for p in touched - showing if ends[p] == p)))
        return found

    def free(self, wrong: frozenset[int]) -> frozenset[int]:
        """The pieces of which nobody can say what they are where these slots look wrong."""
        found = set(wrong)
        for touched, showing, turned in self.turns if self.puzzle.blank is None else ():
            if touched & wrong:
                found |= turned
            if len(showing & wrong) >= 3 and 2 * len(showing & wrong) >= len(showing):
                found |= touched - showing
        return frozenset(found)

    def all_of(self, sights: tuple[Sight, ...]) -> "Everything":
        return Everything(self, np.array(list(self.wholes(sights)), dtype=np.intp).reshape(-1, self.puzzle.degree))


@dataclass(frozen=True, eq=False)
class Everything:
    """All that agrees with what is seen; ``wholes`` has one explanation of each look."""

    of: HalfSeen
    wholes: np.ndarray

    @cached_property
    def verdicts(self) -> Counter:
        return Counter(self.of.judged(row) for row in self.wholes)

    @property
    def verdict(self) -> str:
        """What can be said of all: that it *is not* broken, of every one; that it *need not be*, of those that can be turned."""
        left = set(self.verdicts)
        if len(left) < 2:
            return left.pop() if left else "not by turning"
        if left & OPEN:
            return "lookalike" if left & OPEN == {"lookalike"} else "cannot tell yet"
        return "other turns"

    @cached_property
    def arrangements(self) -> np.ndarray:
        return self.wholes[:, self.of.names].reshape(-1, self.of.puzzle.degree)

    @cached_property
    def reached(self) -> np.ndarray:
        return self.of.leads_to(self.arrangements) if len(self.wholes) else np.zeros(0, bool)

    @property
    def looks_reached(self) -> int:
        return int(self.reached.reshape(len(self.wholes), -1).any(axis=1).sum())

    def is_mended_by(self, pieces: frozenset[int]) -> bool:
        """Whether exchanging these pieces, and free ones, unseen explains each lookalike among all."""
        judge = self.of
        every = [row[judge.names] for row in self.wholes if judge.judged(row) == "lookalike"]
        return all(judge.away(ways, ways[judge.leads_to(ways)], pieces) == 0 for ways in every)

    def classes(self, orbit: np.ndarray) -> list[int]:
        """How many arrangements lie in each class of those between which turns, and turning the whole, lead; first those out of
        their ``orbit``."""
        inside = (orbit[self.arrangements] == orbit).all(axis=1)
        sizes, left = [int((~inside).sum())], self.arrangements[inside]
        while len(left):
            same = self.of.leads_to(left[:, np.argsort(left[0])])
            sizes.append(int(same.sum()))
            left = left[~same]
        return sizes


def some_sights(judge: HalfSeen, rng: np.random.Generator, count: int, unseen: int, most: int) -> Iterator[Appearance]:
    """What may be seen of so many positions, turned or put together by hand: up to ``unseen`` slots are not seen, or told as this
    or that, and the whole may look in at most ``most`` ways."""
    while count:
        appearance = _opened(judge, judge.looks(_somewhere(judge, rng)), rng, unseen)
        if sum(1 for _ in islice(judge.wholes(appearance.sights), most + 1)) <= most:
            count -= 1
            yield appearance


def _opened(judge: HalfSeen, looks: Looks, rng: np.random.Generator, unseen: int) -> Appearance:
    puzzle, sights = judge.puzzle, [frozenset((look,)) for look in looks]
    for slot in rng.permutation(len(sights))[: rng.integers(1, unseen + 1)].tolist():
        every = sorted({int(puzzle.looks[label]) for label in puzzle.kind_of[slot].labels})
        sights[slot] |= frozenset(rng.choice(every, size=min(len(every), 2)).tolist() if rng.random() < 0.25 else every)
    return Appearance(puzzle.name, tuple(sights))


def _somewhere(judge: HalfSeen, rng: np.random.Generator) -> np.ndarray:
    puzzle, row = judge.puzzle, np.arange(judge.puzzle.degree)
    for kind in puzzle.kinds if rng.random() < 0.5 else ():
        order = list(rng.permutation(kind.places)) if rng.random() < 0.3 else list(kind.places)
        for piece, slot in zip(kind.places, order, strict=True):
            way = np.arange(kind.twist)
            twist = rng.integers(kind.twist) if rng.random() < 0.2 else 0
            row[puzzle.base_label[piece] + way] = puzzle.base_label[slot] + (way + twist) % kind.twist
    if puzzle.blank is None and rng.random() < 0.7:
        for name in rng.choice(list(puzzle.turns), size=rng.integers(1, 5)):
            row = puzzle.turns[str(name)].permutation[row]
    return row
