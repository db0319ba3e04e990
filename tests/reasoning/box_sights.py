"""Boxes cell by cell in integers: what is seen at each distance, independent of the puzzle engine.

A state is the set of its *marks*: which cell of the grid is filled, and which colours look which way there. So cells that look
alike are alike without further ado. A mark is a number, and a turn a table of marks. States are told apart by sums of random
64-bit numbers, one for each mark; of all ways to hold a state the least sum counts. (A common sum of two different states
among a million has a probability of about 1 : 30 000 000.)
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import product

import numpy as np

from tests.reasoning.boxes import STILL, Matrix, as_rows, times

Cell = tuple[int, ...]
DIRECTIONS = [tuple(sign * (i == axis) for i in range(3)) for axis in range(3) for sign in (1, -1)]


@dataclass(frozen=True)
class Box:
    """``sides`` of a box; ``turns`` that it makes: half, box or all. Of each layer every turn counts as one, or if
    ``smallest`` only the smallest, a quarter where that closes and else a half."""

    sides: Cell
    turns: str = "all"
    smallest: bool = False

    @cached_property
    def grid(self) -> Cell:
        alike = [[n for n in self.sides if (n - side) % 2 == 0] for side in self.sides]
        return tuple(map(max, alike)) if self.turns == "all" else self.sides

    @cached_property
    def cells(self) -> list[Cell]:
        return list(product(*(range(1 - n, n, 2) for n in self.grid)))

    def powers(self, axis: int) -> tuple[int, ...]:
        one, other = (self.sides[i] for i in range(3) if i != axis)
        closes = one == other if self.turns == "box" else (one - other) % 2 == 0
        if self.turns == "half" or not closes:
            return (2,)
        return (1, 3) if self.smallest else (1, 2, 3)

    @cached_property
    def moves(self) -> list[tuple[int, int, Matrix]]:
        """Each turn as axis, layer and matrix; a middle layer stays."""
        found = []
        for axis, n in enumerate(self.grid):
            a, b = (axis + 1) % 3, (axis + 2) % 3
            quarter = np.eye(3, dtype=int)
            quarter[[a, b]] = quarter[[b, a]] * np.array([[-1], [1]])
            matrices = [as_rows(np.linalg.matrix_power(quarter, power)) for power in self.powers(axis)]
            found += [(axis, layer, matrix) for layer in range(1 - n, n, 2) if layer for matrix in matrices]
        return found

    @cached_property
    def holdings(self) -> list[Matrix]:
        """The rotations of the whole box that join where some side is even: the group of all its turns."""
        found = [STILL]
        if all(n % 2 for n in self.sides):
            return found
        for way in found:
            found += [new for new in {as_rows(np.array(m) @ np.array(way)) for *_, m in self.moves} if new not in found]
        return found

    @cached_property
    def sights(self) -> list[frozenset]:
        """What can be seen in one cell: pairs of direction and colour, for all pieces and all ways round."""
        rotations = set(self.holdings) | {matrix for *_, matrix in self.moves}
        found = list({sight for _, sight in self.closed})
        for sight in found:
            found += {turned(matrix, sight) for matrix in rotations}.difference(found)
        return found

    @cached_property
    def closed(self) -> list[tuple[Cell, frozenset]]:
        """The marks of the closed box."""

        def shows(cell: Cell, direction: Cell) -> bool:
            return any(x and c == x * (n - 1) for x, c, n in zip(direction, cell, self.sides, strict=True))

        cells = product(*(range(1 - n, n, 2) for n in self.sides))
        return [(cell, frozenset((d, d) for d in DIRECTIONS if shows(cell, d))) for cell in cells]

    def table(self, matrix: Matrix, axis: int = 0, layer: int | None = None) -> np.ndarray:
        """Where a turn of a layer, or of everything, takes each mark: shape (cells * sights,)."""
        there = np.array([self.cells.index(times(matrix, cell)) for cell in self.cells])
        seen = np.array([self.sights.index(turned(matrix, sight)) for sight in self.sights])
        goes = np.array([layer in (None, cell[axis]) for cell in self.cells])[:, None]
        still = np.arange(len(there) * len(seen)).reshape(len(there), len(seen))
        return np.where(goes, there[:, None] * len(seen) + seen, still).ravel()

    @cached_property
    def sums(self) -> list[np.ndarray]:
        """For each holding the random number of each mark when everything is turned so."""
        numbers = np.random.default_rng(20).integers(2**64, size=len(self.cells) * len(self.sights), dtype=np.uint64)
        return [numbers[self.table(matrix)] for matrix in self.holdings]

    def named(self, rows: np.ndarray) -> np.ndarray:
        """One number for each state, (n, filled cells) marks, whatever way it is held."""
        return np.min([sums[rows].sum(axis=1) for sums in self.sums], axis=0)

    def row(self, state: Iterable[tuple[Cell, frozenset]]) -> np.ndarray:
        """The marks of a state: of each filled cell what is seen there."""
        return np.array([self.cells.index(cell) * len(self.sights) + self.sights.index(sight) for cell, sight in state])

    def levels(self) -> Iterator[np.ndarray]:
        """The states at distance 0, 1, … as rows of marks, each sight once up to how the box is held."""
        each = len(self.sights)
        filled = np.random.default_rng(21).integers(2**64, size=len(self.cells), dtype=np.uint64).repeat(each)
        tables = [self.table(matrix, axis, layer) for axis, layer, matrix in self.moves]
        whole: dict[int, bool] = {}

        def hanging_together(rows: np.ndarray) -> np.ndarray:
            outlines, first, which = np.unique(filled[rows].sum(axis=1), return_index=True, return_inverse=True)
            for outline, i in zip(outlines.tolist(), first.tolist(), strict=True):
                if outline not in whole:
                    whole[outline] = in_one_body({self.cells[mark // each] for mark in rows[i].tolist()})
            return np.array([whole[outline] for outline in outlines.tolist()])[which]

        level = self.row(self.closed)[None]
        seen = self.named(level)
        while len(level):
            yield level
            after = np.concatenate([rows[hanging_together(rows)] for rows in (table[level] for table in tables)])
            names, first = np.unique(self.named(after), return_index=True)
            new = ~np.isin(names, seen, assume_unique=True)
            level, seen = after[first[new]], np.concatenate([seen, names[new]])

    def outlines(self) -> Iterator[set[frozenset[Cell]]]:
        """The sets of filled cells at distance 0, 1, … with the box held as it is."""
        tables = [
            {cell: times(matrix, cell) if cell[axis] == layer else cell for cell in self.cells}
            for axis, layer, matrix in self.moves
        ]
        level = {frozenset(cell for cell, _ in self.closed)}
        seen = set(level)
        while level:
            yield level
            after = {frozenset(map(table.get, outline)) for outline in level for table in tables} - seen
            level = {outline for outline in after if in_one_body(outline)}
            seen |= after


def turned(matrix: Matrix, sight: frozenset) -> frozenset:
    return frozenset((times(matrix, direction), colour) for direction, colour in sight)


def in_one_body(cells: Iterable[Cell]) -> bool:
    """Whether cells hang together by whole faces."""
    left = set(cells)
    queue = [left.pop()]
    while queue:
        here = queue.pop()
        near = {tuple(c + 2 * d for c, d in zip(here, direction, strict=True)) for direction in DIRECTIONS} & left
        left -= near
        queue += near
    return not left
