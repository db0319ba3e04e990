"""Puzzles without a solid, whose slots and moves have names of their own, such as beads on loops."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from oddswap.errors import BadOption, UnknownMove, quoted
from oddswap.puzzles.base.puzzle import Kind, Puzzle, Turn
from oddswap.puzzles.base.space import FlatLayout
from oddswap.values.permutation import inverse, order, support
from oddswap.values.sequence import Alphabet, Step

LIMIT = 256
"""The largest number of slots: a packed state has one byte for each, with its look."""
LONGEST = 99
"""How many places one written move may go on."""


@dataclass(frozen=True, eq=False, repr=False)
class NamedPuzzle(Puzzle):
    """A puzzle that is not cut from a solid: slots and moves answer to their exact names.

    Its elementary turns are each move done once, and each move undone; ``a3`` is three of them.
    """

    def _spellings(self, name: str) -> tuple[str, ...]:
        return (name,)

    def _elementary(self, step: Step) -> list[Turn]:
        if abs(step.amount) > LONGEST:
            raise UnknownMove(f"{step} goes on for too long: write at most {step.stem}{LONGEST} at a time")
        return abs(step.amount) * [self._named(step.turned(1 if step.amount > 0 else -1))]


def named_puzzle(
    name: str, title: str, kinds: Sequence[Kind], moves: Mapping[str, Sequence[int]], looks: Sequence[int], flat: FlatLayout
) -> NamedPuzzle:
    """The puzzle of these moves, each a permutation of labels that is not the identity.

    `BadOption` for a move whose name the notation could not tell from another's.
    """
    turns: dict[str, Turn] = {}
    for stem, permutation in moves.items():
        once = Step(stem, 0, 0, 1, order(permutation))
        for step, images in ((once, permutation), (once.inverse(), inverse(permutation))):
            turns[str(step)] = Turn(str(step), step, frozen(images), slots=_moved(kinds, images))
    circles = {stem: turns[stem].step.order for stem in moves}
    alphabet = Alphabet(order=MappingProxyType(circles), names=tuple(moves))
    return NamedPuzzle(name, title, tuple(kinds), MappingProxyType(turns), alphabet, frozen(looks), flat=flat)


def frozen(images: Iterable[int]) -> np.ndarray:
    """The numbers as an array that cannot be written to."""
    array = np.array(list(images), dtype=np.intp)
    array.setflags(write=False)
    return array


def _moved(kinds: Sequence[Kind], images: Sequence[int]) -> frozenset[int]:
    """The numbers of the slots where something moves or twists."""
    slot_of = [slot for kind in kinds for slot in kind.places for _ in range(kind.twist)]
    return frozenset(slot_of[label] for label in support(images))


def whole(what: str, text: str, low: int, high: int) -> int:
    """A whole number from ``low`` to ``high``; `BadOption` says ``what`` it was meant to be."""
    if text.isascii() and text.isdigit() and len(text) < 10 and low <= int(text) <= high:
        return int(text)
    raise BadOption(f"{what} is {quoted(text)}: give a whole number from {low} to {high}")
