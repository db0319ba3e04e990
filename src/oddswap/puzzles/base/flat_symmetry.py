"""Symmetries of a puzzle without a solid: rearrangements of its slots that take each turn to a turn, and what looks alike to what
looks alike.

Where its turns go decides where a slot goes once one slot of its orbit is decided, so each choice is followed along the turns.
"""

from collections.abc import Iterator, Sequence
from itertools import permutations

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle

Pairs = Sequence[tuple[np.ndarray, np.ndarray]]
"""Permutations, each with the one to which it goes."""

MOST = 6
"""With more turns than this, or twists or a blank, nothing is looked for."""


def flat_symmetries(puzzle: Puzzle) -> Iterator[tuple[int, ...]]:
    """Each symmetry as the slots to which it takes the slots.

    >>> from oddswap.puzzles.catalogue import load
    >>> len(set(flat_symmetries(load("rings:4+4"))))
    4
    """
    if puzzle.blank is not None or len(puzzle.turns) > MOST or any(kind.twist > 1 for kind in puzzle.kinds):
        return
    turns = [turn.permutation for turn in puzzle.turns.values()]
    for images in permutations(turns):
        pairs = list(zip(turns, images, strict=True))
        for move in _along(np.full(len(puzzle.slots), -1), pairs):
            if len(set(move)) == len(move) and _keeps_looks(puzzle, move):
                yield move


def _along(found: np.ndarray, pairs: Pairs) -> Iterator[tuple[int, ...]]:
    """Every way to go on where some slots are decided, -1 where one is not, orbit by orbit."""
    open_slots = np.flatnonzero(found < 0)
    if not len(open_slots):
        yield tuple(found.tolist())
        return
    for image in range(len(found)):
        trial = found.copy()
        trial[open_slots[0]] = image
        if followed(trial, int(open_slots[0]), pairs):
            yield from _along(trial, pairs)


def followed(found: np.ndarray, start: int, pairs: Pairs) -> bool:
    """Decide where all go that turns join to ``start``, whose place in ``found`` is decided, others being -1, so that each turn
    goes to its partner; False where that is contradictory, and ``found`` is then of no use.
    """
    queue = [start]
    for here in queue:
        for turn, image in pairs:
            there, place = int(turn[here]), int(image[found[here]])
            if found[there] < 0:
                found[there] = place
                queue.append(there)
            elif found[there] != place:
                return False
    return True


def _keeps_looks(puzzle: Puzzle, move: tuple[int, ...]) -> bool:
    """Whether pieces at home stay among their kind, and look alike just where they did."""
    kinds = [kind.first for kind in puzzle.kind_of]
    if any(kinds[slot] != kinds[image] for slot, image in enumerate(move)):
        return False
    looks = puzzle.looks[puzzle.base_label]
    before = {(kinds[slot], int(look)) for slot, look in enumerate(looks)}
    pairs = {((kinds[slot], int(looks[slot])), int(looks[image])) for slot, image in enumerate(move)}
    return len(pairs) == len(before) == len({(key[0], look) for key, look in pairs})
