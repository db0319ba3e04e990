"""The labels of a box that tell all about it: of each orbit of slots under its turns one orbit of labels, found by SymPy."""

from dataclasses import dataclass
from functools import cache

import numpy as np
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load


@dataclass(frozen=True, eq=False)
class Model:
    """``rows[orbit]`` (slots, twist): the labels of the orbit by slot, in the order of twist."""

    puzzle: Puzzle
    rows: list[np.ndarray]

    @property
    def labels(self) -> np.ndarray:
        return np.concatenate([rows.ravel() for rows in self.rows])

    def narrowed(self, permutation: np.ndarray) -> list[int]:
        place = {label: i for i, label in enumerate(self.labels.tolist())}
        return [place[label] for label in permutation[self.labels].tolist()]

    def widened(self, points: list[int]) -> np.ndarray:
        """The label permutation that does this, a piece's other labels going with it."""
        image = np.empty(self.puzzle.degree, dtype=np.intp)
        for label, to in zip(self.labels.tolist(), self.labels[points].tolist(), strict=True):
            kind = next(kind for kind in self.puzzle.kinds if label in kind.labels)
            (slot, t), (there, u) = divmod(label - kind.first, kind.twist), divmod(to - kind.first, kind.twist)
            for way in range(kind.twist):
                image[kind.first + slot * kind.twist + (t + way) % kind.twist] = (
                    kind.first + there * kind.twist + (u + way) % kind.twist
                )
        return image


@cache
def model(sides: tuple[int, int, int], turns: str) -> Model:
    """A box with half turns or all turns in the box."""
    puzzle = load(f"cuboid:{'x'.join(map(str, sides))},turns={turns}")
    orbits = PermutationGroup([Permutation(g.tolist()) for g in puzzle.generators]).orbits()
    orbit_of = {label: sorted(orbit) for orbit in orbits for label in orbit}
    rows, done = [], set()
    for slot, (kind, label) in enumerate(zip(puzzle.kind_of, puzzle.base_label.tolist(), strict=True)):
        if slot not in done:
            orbit = orbit_of.get(label, [label])
            here = {kind.start + (other - kind.first) // kind.twist for other in orbit}
            rows.append(np.array(orbit).reshape(len(here), -1))
            done |= here
    return Model(puzzle, rows)
