"""What comes back to its shape at home, from below and from above, where the shape decides the turns.

From below: loops that were found, each a word of turns that replays. From above: were every turn possible from everywhere, the
turns would make a group on all labels, those of blanks and of air among them. What it keeps however these are called is kept by
the loops, too: the orbits of labels, and the characters that no relabelling of what is no piece changes. Where both walls
allow equally many assemblies, the loops that were found generate all, although only a part of the shapes was seen. Otherwise
all shapes are gone through, as long as they are not too many; then every loop is known.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import prod

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.shape_tree import STAGES, Shapes, around_home
from oddswap.puzzles.base.whole_turns import generators
from oddswap.reasoning.groups.chain import moving, sift
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.characters import CharacterLaw, count_values, laws_of
from oddswap.reasoning.laws.lookalikes import hand_generators
from oddswap.reasoning.laws.sectors import Sector, sectors

SAMPLE = 1000
"""From so many shapes arrows are followed where there are more of them, evenly spread by their distance from home."""


@dataclass(frozen=True, eq=False)
class Walls:
    """``loops`` generate what was found of the vertex group, ``above`` generates what contains it: the same where they meet."""

    loops: tuple[np.ndarray, ...]
    above: tuple[np.ndarray, ...]


@lru_cache(maxsize=32)
def walls(puzzle: Puzzle) -> Walls:
    """Both walls of a puzzle whose shape decides its turns."""
    ceiling = Ceiling(puzzle)
    for most in STAGES:
        shapes = around_home(puzzle, most)
        found, order = _generating(puzzle, shapes, ceiling.order)
        if shapes.whole or order == ceiling.order:
            return Walls(found, found)
    return Walls(found, tuple(ceiling.generators()))


def _generating(puzzle: Puzzle, shapes: Shapes, most: int) -> tuple[tuple[np.ndarray, ...], int]:
    """Loops that generate what those of all arrows do, or a group of order ``most``, and the order that was found; of a part of
    the shapes only some arrows are followed.
    """
    chosen = None if shapes.whole else np.unique(np.linspace(0, len(shapes) - 1, SAMPLE).astype(int))
    found = _turned_whole(puzzle, shapes)
    chain = StabiliserChain.from_generators(found, puzzle.degree)
    for _, _, batch in shapes.loops(chosen):
        rows = np.unique(batch, axis=0).astype(np.intp)
        while chain.order < most and len(rows := rows[moving(sift(chain.levels, rows)[0]).any(axis=1)]):
            found += [rows[0], rows[-1]][: len(rows)]
            chain = StabiliserChain.from_generators(found, puzzle.degree)
    return tuple(found), chain.order


@dataclass(frozen=True, eq=False)
class Ceiling:
    """What the turns could do at home if each were possible from everywhere."""

    puzzle: Puzzle

    @cached_property
    def _split(self) -> tuple[tuple[Sector, ...], tuple[Sector, ...]]:
        """The orbits of labels at home: those of pieces that the shape does not place, and of what is no piece."""
        every, puzzle = sectors(self.puzzle, generators(self.puzzle)), self.puzzle
        free = frozenset(range(len(puzzle.slots))) - puzzle.fixed
        parts = ([sector.among(slots) for sector in every] for slots in (free, puzzle.void))
        pieces, rest = (tuple(part for part in some if part.slots) for some in parts)
        return pieces, rest

    @cached_property
    def laws(self) -> tuple[CharacterLaw, ...]:
        """The characters that neither turns nor any name of what is no piece change."""
        unseen = hand_generators(self.puzzle, self._split[1])
        return laws_of(sectors(self.puzzle, generators(self.puzzle)), [*generators(self.puzzle), *unseen], [])

    @cached_property
    def _hands(self) -> list[np.ndarray]:
        return hand_generators(self.puzzle, self._split[0])

    @cached_property
    def order(self) -> int:
        """How many assemblies at home break none of the laws."""
        return prod(part.assembly_order for part in self._split[0]) // count_values(self.laws, (), self._hands)

    def generators(self) -> Iterator[np.ndarray]:
        """Label permutations that generate these: hands go through all values of the laws, and back along a tree of values."""
        values = [tuple(law.value(hand) for law in self.laws) for hand in self._hands]
        moduli = [law.modulus for law in self.laws]
        start = (0,) * len(moduli)
        reached, queue = {start: np.arange(self.puzzle.degree)}, [start]
        for here in queue:
            for hand, steps in zip(self._hands, values, strict=True):
                there = tuple((a + b) % m for a, b, m in zip(here, steps, moduli, strict=True))
                image = hand[reached[here]]
                if there not in reached:
                    reached[there] = image
                    queue.append(there)
                else:
                    yield np.argsort(reached[there])[image]


def _turned_whole(puzzle: Puzzle, shapes: Shapes) -> list[np.ndarray]:
    """The rotations of the whole puzzle that join the turns, each with a way home."""
    turned = puzzle.whole_turns[1:]
    numbers = shapes.find(np.array([puzzle.shape_of(image) for image in puzzle.whole_turns])).tolist()[1:]
    return [
        puzzle.pieces_moved(shapes.homeward(number)[image]) for image, number in zip(turned, numbers, strict=True) if number >= 0
    ]
