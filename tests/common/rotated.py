"""Where an arrangement has turned each piece: the pictures' rotations, one by one."""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.position import Arrangement


def rotations_of(puzzle: Puzzle, arrangement: Arrangement) -> list[tuple[int, int]]:
    """For each slot: the piece that sits there (its home slot) and the rotation that brought it there."""
    return [
        (p, puzzle.geometry.rotation_of(puzzle.base_label, puzzle.kind_of[b].twist, p, b, t))
        for b, (p, t) in enumerate(zip(arrangement.pieces, arrangement.twists, strict=True))
    ]
