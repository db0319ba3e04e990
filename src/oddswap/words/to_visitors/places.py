"""Where a piece sits, as somebody says it who holds the puzzle: *the top front edge*, by no letter."""

import re

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.alphabet import FACES, OPPOSITE
from oddswap.values.grammar import listed, ordinal, singular
from oddswap.values.holding import Holding
from oddswap.words.to_visitors.moves import LAYERS


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
