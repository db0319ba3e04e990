"""Sentences that can be spoken: what a puzzle is, and notes."""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.grammar import capital


def introduced(puzzle: Puzzle) -> str:
    """The first sentence about a puzzle.

    >>> from oddswap.puzzles.catalogue import load
    >>> introduced(load("tiles:4x4")), introduced(load("octahedron"))
    ('These are 4 by 4 sliding tiles.', 'This is a face-turning octahedron.')
    """
    title = puzzle.title
    if title[0].isdigit() or title.startswith("two "):
        return f"These are {title}."
    return f"This is {'an' if title[0] in 'aeio' else 'a'} {title}."


def spoken(note: str) -> list[str]:
    """A note as sentences that can be spoken."""
    return [f"{capital(part)}." for part in note.rstrip(".").replace(" × 10^", " times ten to the power of ").split("; ")]
