"""The same position seen elsewhere: appearances up to the puzzle's symmetries and the ways to hold it.

A symmetry s of the turns carries the arrangement a to ``s^-1 a s``: what happened to the pieces happened in another place, or
in a mirror. Its label permutation is found by following the turns: ``s(t(j)) = t'(s(j))`` where t' is the image of turn t.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from math import cos
from operator import and_, eq

import numpy as np

from oddswap.describing.sights import own_look
from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.base.symmetry import Pairs, followed, is_mirror, turn_symmetries
from oddswap.puzzles.base.whole_turns import held_otherwise, holdings
from oddswap.puzzles.catalogue import with_all_turns
from oddswap.values.position import Appearance, Sight

Sights = tuple[Sight, ...]


@dataclass(frozen=True, eq=False)
class Symmetry:
    """``labels[j]``: the label to which it takes label j; ``turns``: the name of each turn's image; ``mirrored``."""

    labels: np.ndarray
    turns: dict[str, str]
    mirrored: bool


@lru_cache(maxsize=16)
def symmetries(puzzle: Puzzle) -> tuple[Symmetry, ...]:
    """The symmetries of the turns; they take lookalikes to lookalikes, and the identity is among them.

    >>> from oddswap.puzzles.catalogue import load
    >>> found = symmetries(load("cube:3"))
    >>> len(found), sum(symmetry.mirrored for symmetry in found)
    (48, 24)
    """
    wide = with_all_turns(puzzle) or puzzle
    return tuple(_symmetry(wide, slots, is_mirror(puzzle, slots)) for slots in turn_symmetries(puzzle))


def _symmetry(puzzle: Puzzle, slots: tuple[int, ...], mirrored: bool) -> Symmetry:
    turns = puzzle.turns.values()
    images = [next(other for other in turns if _carries(puzzle, slots, mirrored, turn, other)) for turn in turns]
    pairs = [(turn.permutation, image.permutation) for turn, image in zip(turns, images, strict=True)]
    labels = _extended(puzzle, slots, pairs)
    return Symmetry(labels, {turn.name: image.name for turn, image in zip(turns, images, strict=True)}, mirrored)


def _carries(puzzle: Puzzle, slots: tuple[int, ...], mirrored: bool, turn: Turn, other: Turn) -> bool:
    """Whether ``other`` does at the images of the slots what ``turn`` does at the slots, the other way round in a mirror."""
    if cos(turn.angle + other.angle if mirrored else turn.angle - other.angle) < 1 - 1e-9:
        return False
    one, two = (puzzle.slots_of(made.permutation[puzzle.base_label]).tolist() for made in (turn, other))
    alike = frozenset(slots[b] for b in turn.slots) == other.slots
    return alike and all(two[slots[b]] == slots[one[b]] for b in range(len(slots)))


def _extended(puzzle: Puzzle, slots: tuple[int, ...], pairs: Pairs) -> np.ndarray:
    """The label permutation over ``slots`` that takes each turn to its image.

    It is one of several that do the same to arrangements: to twist all pieces of a kind alike commutes with everything. Where
    turns twist nothing there are two ways round at most, which are so in a mirror, too.
    """
    labels = np.full(puzzle.degree, -1)
    for label in range(puzzle.degree):
        if labels[label] < 0:
            slot = int(puzzle.slots_of(label))
            labels[label] = puzzle.base_label[slots[slot]] + label - puzzle.base_label[slot]
            followed(labels, label, pairs)
    return labels


def carried(puzzle: Puzzle, symmetry: Symmetry, appearance: Appearance) -> Appearance:
    """What an appearance becomes under a symmetry."""
    sights: list[Sight] = [frozenset()] * len(puzzle.slots)
    for slot, sight in enumerate(appearance.sights):
        found = [_carried(puzzle, symmetry, slot, look) for look in sight]
        target = int(puzzle.slots_of(symmetry.labels[puzzle.base_label[slot]]))
        sights[target] = frozenset(found)
    return Appearance(appearance.puzzle, tuple(sights))


def _carried(puzzle: Puzzle, symmetry: Symmetry, slot: int, look: int) -> int:
    kind = puzzle.kind_of[slot]
    label = next(j for j in kind.labels if puzzle.looks[j] == look)
    piece = kind.start + (label - kind.first) // kind.twist
    twist = (label - kind.first) % kind.twist
    at_home = int(symmetry.labels[puzzle.base_label[piece]])
    place = int(symmetry.labels[puzzle.base_label[slot] + twist])
    name = kind.start + (at_home - kind.first) // kind.twist
    now = ((place - kind.first) - (at_home - kind.first)) % kind.twist
    return int(puzzle.looks[puzzle.base_label[name] + now])


def same_position(puzzle: Puzzle, one: Appearance, other: Appearance) -> Symmetry | None:
    """The symmetry that carries ``one`` to ``other``, however it is held, if there is one; no mirror where none is needed.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> seen = [cube.appearance(cube.follow(moves)) for moves in ("R U", "F U", "F' U'")]
    >>> [same_position(cube, seen[0], other).mirrored for other in seen[1:]]
    [False, True]
    """
    return _matching(puzzle, one, other, eq)


def same_as_far_as_seen(puzzle: Puzzle, one: Appearance, other: Appearance) -> Symmetry | None:
    """The symmetry under which two appearances, parts of which were not seen, may be the same position, if there is one.

    Only where a slot was seen for certain in both, and looks wrong there.

    >>> from oddswap.describing.sights import covered
    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> same_as_far_as_seen(cube, covered(cube, ["UF"]), cube.appearance(cube.solved)) is None
    True
    """
    own = [own_look(puzzle, slot) for slot in range(len(puzzle.slots))]

    def agree(one: Sights, other: Sights) -> bool:
        return all(map(and_, one, other)) and any(
            a == b != home and len(a) == 1 for a, b, home in zip(one, other, own, strict=True)
        )

    return _matching(puzzle, one, other, agree)


def _matching(puzzle: Puzzle, one: Appearance, other: Appearance, match: Callable[[Sights, Sights], bool]) -> Symmetry | None:
    wanted = {held_otherwise(puzzle, other, rotation).sights for _, rotation in holdings(puzzle)}
    for symmetry in sorted(symmetries(puzzle), key=lambda symmetry: symmetry.mirrored):
        image = carried(puzzle, symmetry, one).sights
        if any(match(image, held) for held in wanted):
            return symmetry
    return None
