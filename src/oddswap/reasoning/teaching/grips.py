"""Changes of grip: how often the fingers have to move over while a sequence is made.

The model: fingers rest on two faces at a time, and turn these as often as they like; a turn of a third face costs one
change, after which they rest on that face and on one of the two before. Slabs count for the face that they are counted from.
Whole-puzzle rotations count as a change each. The fewest changes are found exactly, over all choices of what to let go.
"""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.alphabet import ROTATIONS
from oddswap.values.sequence import Sequence

AWKWARD = {"U": 0, "R": 0, "F": 1, "L": 1, "D": 2, "B": 3}
"""How awkward a face is for most hands; only to choose between sequences that are equal otherwise."""


def grip_changes(puzzle: Puzzle, moves: str | Sequence) -> int:
    """The fewest changes of grip with which a sequence can be made.

    >>> from oddswap.puzzles.catalogue import load
    >>> grip_changes(load("cube:3"), "R U R' U'"), grip_changes(load("cube:3"), "F R U R' U' F'")
    (0, 2)
    """
    rotates = puzzle.alphabet.rotations
    return changes([None if step.stem in ROTATIONS and rotates else step.stem for step in puzzle.read(moves).steps])


def changes(faces: list[str | None]) -> int:
    """The fewest changes of grip for turns of these faces; None is a rotation of the whole puzzle."""
    costs: dict[frozenset[str], int] = {frozenset(): 0}
    for face in faces:
        if face is None:
            costs = {frozenset(): min(costs.values()) + 1}
            continue
        following: dict[frozenset[str], int] = {}
        for held, cost in costs.items():
            for grip, more in _grips(held, face):
                following[grip] = min(cost + more, following.get(grip, cost + more))
        costs = following
    return min(costs.values())


def _grips(held: frozenset[str], face: str) -> list[tuple[frozenset[str], int]]:
    if face in held:
        return [(held, 0)]
    if len(held) < 2:
        return [(held | {face}, 0)]
    return [(frozenset((kept, face)), 1) for kept in held]


def awkwardness(faces: list[str]) -> int:
    """How awkward the faces of a sequence are together."""
    return sum(AWKWARD.get(face, 0) for face in faces)
