"""An arrangement of a box that keeps its outline, told as one of the box that may leave it, and back."""

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.values.position import Arrangement


def lifted(puzzle: Puzzle, box: BoxPuzzle, arrangement: Arrangement) -> Arrangement:
    """An arrangement of the box that keeps its outline, as one of the box that may leave it."""
    geometry, pieces, twists = puzzle.geometry, list(box.solved.pieces), list(box.solved.twists)
    matrices = geometry.mechanism.rotations.matrices
    for slot, (piece, twist) in enumerate(zip(arrangement.pieces, arrangement.twists, strict=True)):
        if puzzle.slots[slot] not in box.slots:
            continue
        here, home = box.slot(puzzle.slots[slot]), box.slot(puzzle.slots[piece])
        turned = matrices[geometry.rotation_of(puzzle.base_label, puzzle.kind_of[slot].twist, piece, slot, twist)]
        wanted = box.geometry.mechanism.rotations.index(turned)
        ways = box.kind_of[here].twist
        fit = (box.geometry.rotation_of(box.base_label, ways, home, here, way) for way in range(ways))
        pieces[here], twists[here] = home, next(way for way, rotation in enumerate(fit) if rotation == wanted)
    return Arrangement(box.name, tuple(pieces), tuple(twists))


def lowered(puzzle: Puzzle, box: BoxPuzzle, arrangement: Arrangement) -> Arrangement | None:
    """The other way: ``None`` unless the outline is closed and every piece in a kind of slot, and turned in a way, that the box
    which keeps its outline knows. Of ways round that look alike, one that it knows is told.
    """
    pieces, twists = list(puzzle.solved.pieces), list(puzzle.solved.twists)
    number = {name: i for i, name in enumerate(puzzle.slots)}
    matrices, geometry = box.geometry.mechanism.rotations.matrices, puzzle.geometry
    if not box.closed(arrangement):
        return None
    for slot, name in enumerate(puzzle.slots):
        if name not in box.slots:
            continue
        here = box.slot(name)
        piece = arrangement.pieces[here]
        home = number.get(box.slots[piece])
        if home is None or puzzle.kind_of[home] is not puzzle.kind_of[slot]:
            return None
        ways = box.kind_of[here].twist
        twist, looks = arrangement.twists[here], box.looks[box.base_label[piece] + np.arange(ways)]
        alike = [twist, *np.flatnonzero(looks == looks[twist]).tolist()]
        turned = [matrices[box.geometry.rotation_of(box.base_label, ways, piece, here, way)] for way in alike]
        own = range(puzzle.kind_of[slot].twist)
        rotations = [geometry.rotation_of(puzzle.base_label, len(own), home, slot, way) for way in own]
        fit = [
            way
            for seen in turned
            for way, r in zip(own, rotations, strict=True)
            if np.abs(geometry.mechanism.rotations.matrices[r] - seen).max() < 1e-6
        ]
        if not fit:
            return None
        pieces[slot], twists[slot] = home, fit[0]
    return Arrangement(puzzle.name, tuple(pieces), tuple(twists))
