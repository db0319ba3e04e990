"""Every explanation of what is seen: which piece may lie in which slot, which way round, and all ways to put them together."""

from collections.abc import Iterator
from itertools import permutations, product

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.hands import whole_kinds
from oddswap.reasoning.laws.sectors import Sector
from oddswap.reasoning.verdicts.assignments import Allowed
from oddswap.values.appearance import Sight


def allowed_columns(puzzle: Puzzle, sector: Sector, sights: tuple[Sight, ...]) -> Allowed:
    """For each piece and slot of a sector the columns of its labels at which it looks as is seen there."""
    slots, starts = list(sector.slots), sector.labels[:, 0]
    turned = sector.labels - puzzle.base_label[slots][:, None]
    twist = sector.kind.twist
    rows = []
    for i, piece in enumerate(slots):
        own = puzzle.looks[puzzle.base_label[piece] + np.arange(twist)]
        first = int(starts[i] - puzzle.base_label[piece])
        rows.append(
            [
                frozenset(c for c in range(sector.twist) if int(own[(turned[b, c] - first) % twist]) in sights[slot])
                for b, slot in enumerate(slots)
            ]
        )
    return rows


def every_assembly(allowed: Allowed) -> Iterator[list[tuple[int, int]]]:
    """Every way to assemble a sector: for each piece its slot and its column."""
    for order in permutations(range(len(allowed))):
        for columns in product(*(sorted(allowed[i][b]) for i, b in enumerate(order))):
            yield list(zip(order, columns, strict=True))


def moved_by(puzzle: Puzzle, sector: Sector, columns: list[tuple[int, int]]) -> np.ndarray:
    """The label permutation that takes the i-th piece of a sector to a slot (a row) and a column of it."""
    image, twist = np.arange(puzzle.degree), sector.kind.twist
    for i, (row, column) in enumerate(columns):
        piece, place = puzzle.base_label[sector.slots[i]], puzzle.base_label[sector.slots[row]]
        apart = int(sector.labels[row, column] - place) - int(sector.labels[i, 0] - piece)
        image[piece + np.arange(twist)] = place + (np.arange(twist) + apart) % twist
    return image


def explanations(puzzle: Puzzle, sights: tuple[Sight, ...]) -> Iterator[np.ndarray]:
    """Every explanation, as a label permutation, where there are few."""
    parts = whole_kinds(puzzle)
    choices = [[moved_by(puzzle, sector, columns) for columns in _fitting(puzzle, sector, sights)] for sector in parts]
    for chosen in product(*choices):
        image = np.arange(puzzle.degree)
        for one in chosen:
            image = one[image]
        yield image


def _fitting(puzzle: Puzzle, sector: Sector, sights: tuple[Sight, ...]) -> Iterator[list[tuple[int, int]]]:
    """Every way to assemble a sector as it is seen, piece by piece."""
    allowed = allowed_columns(puzzle, sector, sights)

    def extended(chosen: list[tuple[int, int]]) -> Iterator[list[tuple[int, int]]]:
        if len(chosen) == len(allowed):
            yield chosen
            return
        taken = {row for row, _ in chosen}
        for row, ways in enumerate(allowed[len(chosen)]):
            if row not in taken:
                for column in sorted(ways):
                    yield from extended([*chosen, (row, column)])

    return extended([])
