"""Which quarter turns of a box close, and which of those take layers out of its outline."""

import re
from collections.abc import Mapping

import numpy as np

from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.puzzles.boxes.outlines import extended
from oddswap.values.grammar import number_word
from oddswap.values.sequence import FACES


def leaves_the_outline(turns: str, sides: tuple[int, int, int]) -> bool:
    """Whether ``turns`` (half, box, all or a list joined by +) of a box can change its shape."""
    if turns in ("half", "box"):
        return False
    if turns == "all":
        return extended(sides) != sides
    named = (re.fullmatch(rf"\d?(([{''.join(FACES)}])\2*)('?)", name) for name in turns.split("+"))
    crossed = ((match[1], across(match[2], sides)) for match in named if match)
    return any(len(stem) > 1 or (one != other and one % 2 == other % 2) for stem, (one, other) in crossed)


def across(face: str, sides: tuple[int, int, int]) -> tuple[int, int]:
    """How many layers lie across the axis of a face, one way and the other."""
    axis = int(np.abs(DIRECTIONS[face]).argmax())
    one, other = (sides[a] for a in range(3) if a != axis)
    return one, other


def why_not(turn: str, layers: Mapping[str, int]) -> str:
    """Why a box with so many layers on each face's axis lacks a quarter turn; empty for what does not fail for that.

    >>> why_not("R", {"R": 3, "U": 4, "F": 5})
    'four layers one way and five the other, so a quarter turn does not close'
    """
    match = re.fullmatch(rf"\d?([{''.join(FACES)}])\1*'?", turn)
    if match is None or not layers:
        return ""
    one, other = across(match[1], (layers["R"], layers["U"], layers["F"]))
    if one % 2 == other % 2:
        return ""
    layers = f"{number_word(one)} layer{'s' if one > 1 else ''} one way and {number_word(other)} the other"
    return f"{layers}, so a quarter turn does not close"
