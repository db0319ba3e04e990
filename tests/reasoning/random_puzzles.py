"""Small puzzles at random, with twins and hidden turns, and looks that they can have."""

from collections.abc import Iterable, Iterator

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.lookalikes import lookalikes
from tests.reasoning.by_definition import ByDefinition, Looks
from tests.reasoning.handmade import any_looks, any_move, handmade, kinds_of

SHAPES = [
    *[[(4, 1)], [(4, 1), (3, 1)], [(4, 2)], [(3, 3)], [(4, 1), (2, 3)], [(3, 1), (1, 3), (1, 3)], [(5, 1)], [(5, 1), (3, 1)]],
    *[[(6, 1)], [(6, 1), (1, 2)], [(5, 1), (1, 4)], [(5, 1), (2, 2)], [(3, 2), (4, 1)], [(4, 1), (4, 1)], [(2, 4), (2, 2)]],
    *[[(3, 3), (1, 3)], [(4, 1), (1, 3), (1, 3)], [(4, 2), (1, 2)], [(5, 1), (1, 2), (1, 2)], [(6, 1), (2, 1)]],
]


def random_puzzles(cases: Iterable[int]) -> Iterator[tuple[Puzzle, np.random.Generator]]:
    """A puzzle with lookalikes for each case, and its source of chance."""
    for case in cases:
        rng, shapes = np.random.default_rng([16, case]), SHAPES[case % len(SHAPES)]
        kinds = kinds_of(shapes)
        puzzle = handmade(shapes, [any_move(kinds, rng) for _ in range(rng.integers(1, 4))], any_looks(kinds, rng))
        while lookalikes(puzzle).order == 1:
            puzzle = handmade(shapes, [any_move(kinds, rng) for _ in range(rng.integers(1, 4))], any_looks(kinds, rng))
        yield puzzle, rng


def some_looks(judge: ByDefinition, rng: np.random.Generator, count: int) -> Iterator[Looks]:
    """Looks of any assemblies, and in turn of reached ones: one after the other, some of them twice."""
    every, reached = list(judge.explanations), sorted(judge.reached)
    for number in range(count):
        yield every[rng.integers(len(every))] if number % 2 else judge.looks(reached[rng.integers(len(reached))])
