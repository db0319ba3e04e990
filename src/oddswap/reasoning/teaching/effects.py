"""What a sequence does, and how handy it is: which pieces it moves in circles, which it turns in place, and the changes of grip.

Changes of grip are how often the fingers have to move over while a sequence is made. The model: fingers rest on two faces at a
time, and turn these as often as they like; a turn of a third face costs one change, after which they rest on that face and on
one of the two before. Slabs count for the face that they are counted from. Whole-puzzle rotations count as a change each. The
fewest changes are found exactly, over all choices of what to let go.
"""

from collections import Counter
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle, carried
from oddswap.reasoning.budget import Finding
from oddswap.reasoning.ways.commutators import shows
from oddswap.values.permutation import cycles
from oddswap.values.position import Arrangement
from oddswap.values.sequence import FACES, ROTATIONS, Sequence


@dataclass(frozen=True, order=True)
class Deed:
    """``count`` circles of ``length`` pieces of a family; of length 1, pieces of order ``twist`` that turn in their places."""

    family: str
    length: int
    twist: int
    count: int


class Effect(Finding, order=True):
    """What a sequence does to the pieces of each family; nothing that shows where there are no deeds."""

    deeds: tuple[Deed, ...]

    @property
    def pieces(self) -> int:
        """How many pieces it changes."""
        return sum(deed.length * deed.count for deed in self.deeds)


def effect_of(puzzle: Puzzle, permutation: np.ndarray) -> Effect:
    """What a label permutation does to the kinds that show more than one look, family by family."""
    deeds: dict[str, Counter] = {}
    for kind in filter(lambda kind: shows(puzzle, kind), puzzle.kinds):
        images = (permutation[puzzle.base_label[kind.start :][: len(kind.slots)]] - kind.first).tolist()
        counts = deeds.setdefault(kind.family, Counter())
        counts.update((len(circle), 0) for circle in cycles([image // kind.twist for image in images]))
        counts[1, kind.twist] += sum(0 < image - slot * kind.twist < kind.twist for slot, image in enumerate(images))
    told = {family: sorted(counts.items(), key=lambda item: (item[0][0] == 1, item[0])) for family, counts in deeds.items()}
    return Effect(tuple(Deed(family, *sort, count) for family, sorts in told.items() for sort, count in sorts if count))


def image_of_turns(puzzle: Puzzle, moves: str | Sequence, start: Arrangement | None = None) -> np.ndarray:
    """The label permutation of a sequence as seen from the core, from ``start`` where the shape decides whether it can be made.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> effect_of(cube, image_of_turns(cube, "[R U R', D]")).deeds
    (Deed(family='corners', length=3, twist=0, count=1),)
    """
    return carried(np.arange(puzzle.degree), puzzle.settled(moves, start)[0])


AWKWARD = {"U": 0, "R": 0, "F": 1, "L": 1, "D": 2, "B": 3}
"""How awkward a face is for most hands; only to choose between sequences that are equal otherwise."""


def grip_changes(puzzle: Puzzle, moves: str | Sequence) -> int:
    """The fewest changes of grip with which a sequence can be made; 0 for what lies on a table.

    >>> from oddswap.puzzles.catalogue import load
    >>> grip_changes(load("cube:3"), "R U R' U'"), grip_changes(load("cube:3"), "F R U R' U' F'")
    (0, 2)
    """
    rotates = puzzle.alphabet.rotations
    if puzzle.geometry is None:
        return 0
    return changes([None if step.stem in ROTATIONS and rotates else step.stem for step in puzzle.read(moves).steps])


def changes(faces: list[str | None]) -> int:
    """The fewest changes of grip for turns of these faces; None is a rotation of the whole puzzle."""
    number = {face: at for at, face in enumerate(dict.fromkeys(faces))} | {None: None}
    return _changes(tuple(number[face] for face in faces))


@lru_cache(maxsize=1024)
def _changes(faces: tuple[int | None, ...]) -> int:
    """The same, of faces by their numbers: which they are makes no difference."""
    costs: dict[frozenset[int], int] = {frozenset(): 0}
    for face in faces:
        if face is None:
            costs = {frozenset(): min(costs.values()) + 1}
            continue
        following: dict[frozenset[int], int] = {}
        for held, cost in costs.items():
            for grip, more in _grips(held, face):
                following[grip] = min(cost + more, following.get(grip, cost + more))
        costs = following
    return min(costs.values())


def _grips(held: frozenset[int], face: int) -> list[tuple[frozenset[int], int]]:
    if face in held:
        return [(held, 0)]
    if len(held) < 2:
        return [(held | {face}, 0)]
    return [(frozenset((kept, face)), 1) for kept in held]


def awkward_turns(puzzle: Puzzle, moves: str | Sequence) -> int:
    """How many turns are of slabs that fingers feel for: at the back, inside, or beyond the outline.

    >>> from oddswap.puzzles.catalogue import load
    >>> awkward_turns(load("cube:4"), "R B 2U' 2B")
    3
    """
    if not puzzle.alphabet.is_box:
        return 0
    steps = [step for step in puzzle.read(moves).steps if step.stem[0] in FACES]
    return sum(step.stem[0] == "B" or step.first > 1 or len(step.stem) > 1 for step in steps)


def awkwardness(faces: list[str]) -> int:
    """How awkward the faces of a sequence are together."""
    return sum(AWKWARD.get(face, 0) for face in faces)
