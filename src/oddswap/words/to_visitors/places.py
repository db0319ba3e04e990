"""Where a piece sits, as somebody says it who holds the puzzle: *the top front edge*, by no letter."""

import re

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.alphabet import FACES, OPPOSITE
from oddswap.values.arrangement import Arrangement
from oddswap.values.grammar import listed, ordinal, singular
from oddswap.values.holding import Holding
from oddswap.words.reader import Reader
from oddswap.words.to_visitors.moves import LAYERS

FAMILIES = {
    "wings": "edge blocks",
    "T-centres": "inner blocks",
    "diagonal centres": "inner blocks",
    "oblique centres": "inner blocks",
}
"""What a family of pieces is called by whoever has no word for it."""


def family_words(puzzle: Puzzle, family: str) -> str:
    """What a family of pieces is called, where no other family of the puzzle would be called so; else its name."""
    families = {kind.family for kind in puzzle.kinds}
    words = FAMILIES.get(family, family)
    return words if sum(FAMILIES.get(other, other) == words for other in families) == 1 else family


def place_words(puzzle: Puzzle, slot: str, holding: Holding) -> str:
    """Say where a slot is as the puzzle is held, with its article; slots of other solids and flat puzzles by their names.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.values.holding import START
    >>> place_words(load("cube:3"), "UFR", START.turned("y")), place_words(load("cube:4"), "FR.u2", START)
    ('the top front left corner', 'the front right edge block in the second layer from the top')
    """
    family = puzzle.kind_of[puzzle.slot(slot)].family
    if not puzzle.alphabet.is_box:
        return f"the {singular(family)} {slot}"
    faces, _, layers = slot.partition(".")
    at = {holding.hand(face) for face in faces if OPPOSITE[face] not in faces}
    where = " ".join(LAYERS[face] for face in FACES if face in at)
    noun = {1: "middle block", 2: "edge", 3: "corner"}.get(len(faces), "block")
    if not at:
        return "the middle block"
    if len(at) < len(faces):
        noun = "block"
    if not layers:
        return f"the {noun} on the {where} side" if noun == "middle block" else f"the {where} {noun}"
    inner = [
        f"the {ordinal(int(count))} layer from the {LAYERS[holding.hand(face.upper())]}"
        for face, count in re.findall(r"([a-z])(\d+)", layers)
    ]
    block = f"the block on the {where} side" if len(faces) == 1 else f"the {where} {noun} block"
    return f"{block} in {listed(inner)}"


def piece_words(puzzle: Puzzle, piece: str, reader: Reader, at: Arrangement | None = None) -> str:
    """A piece, by home slot: by its colours, or by where it sits in the arrangement ``at``, else by where it is at home."""
    number = puzzle.slot(piece)
    words = place_words(puzzle, puzzle.slots[number if at is None else at.pieces.index(number)], reader.holding)
    if puzzle.geometry is None:
        return words
    paints = puzzle.geometry.paints_of(puzzle.geometry.bodies[number])
    colours = [reader.colours[paint] for paint in sorted(paints) if paint in reader.colours]
    if len(colours) < len(paints) or not colours:
        return words
    return f"the {listed(colours)} {singular(puzzle.kind_of[number].family)}" if len(colours) > 1 else f"{words} ({colours[0]})"
