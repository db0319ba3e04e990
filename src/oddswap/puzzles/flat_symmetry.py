"""Symmetries of a puzzle without a solid: rearrangements of its slots that take each turn to a turn, and what looks alike to what
looks alike.

Where its turns go decides where a slot goes once one slot of its orbit is decided, so each choice is followed along the turns.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations, product

from oddswap.puzzles.puzzle import Puzzle

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
    turns = [turn.permutation.tolist() for turn in puzzle.turns.values()]
    count = len(puzzle.slots)
    for images in permutations(turns):
        parts: list[list[dict[int, int]]] = []
        done: set[int] = set()
        for slot in range(count):
            if slot not in done:
                followed = (_followed(turns, images, slot, image) for image in range(count))
                parts.append([part for part in followed if part is not None])
                done |= _orbit(turns, slot)
        for chosen in product(*parts):
            whole = {slot: image for part in chosen for slot, image in part.items()}
            move = tuple(whole[slot] for slot in range(count))
            if len(set(move)) == count and _keeps_looks(puzzle, move):
                yield move


def _orbit(turns: list[list[int]], slot: int) -> set[int]:
    queue = [slot]
    for here in queue:
        queue += [turn[here] for turn in turns if turn[here] not in queue]
    return set(queue)


def _followed(turns: list[list[int]], images: tuple[list[int], ...], slot: int, image: int) -> dict[int, int] | None:
    """Where the orbit of a slot goes if that slot goes to ``image``; ``None`` where that is contradictory."""
    found, queue = {slot: image}, [slot]
    for here in queue:
        for turn, other in zip(turns, images, strict=True):
            there, expected = turn[here], other[found[here]]
            if there not in found:
                found[there] = expected
                queue.append(there)
            elif found[there] != expected:
                return None
    return found


def _keeps_looks(puzzle: Puzzle, move: tuple[int, ...]) -> bool:
    """Whether pieces at home stay among their kind, and look alike just where they did."""
    kinds = [kind.first for kind in puzzle.kind_of]
    if any(kinds[slot] != kinds[image] for slot, image in enumerate(move)):
        return False
    looks = puzzle.looks[puzzle.base_label]
    before = {(kinds[slot], int(look)) for slot, look in enumerate(looks)}
    pairs = {((kinds[slot], int(looks[slot])), int(looks[image])) for slot, image in enumerate(move)}
    return len(pairs) == len(before) == len({(key[0], look) for key, look in pairs})
