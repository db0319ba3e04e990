"""Slots as people name them: which slot, which of its faces comes first, and extra twists."""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from oddswap.errors import UnknownSlot
from oddswap.puzzles.puzzle import Puzzle


@dataclass(frozen=True)
class Spot:
    """A slot (its number), the face named first (``None`` where slots are not named by faces) and extra twist."""

    number: int
    face: str | None
    extra: int = 0


def spot(puzzle: Puzzle, name: str) -> Spot:
    """Read a slot name such as ``UF``, ``FU`` or ``UFR+1``.

    >>> from oddswap.puzzles.catalogue import load
    >>> spot(load("cube:3"), "FU")
    Spot(number=8, face='F', extra=0)
    """
    match = re.fullmatch(r"(.+?)(?:\+(\d))?", name.strip())
    if match is None:
        raise UnknownSlot("an empty name is no slot: write such as UF or UFR")
    number = puzzle.slot(match[1])
    geometry = puzzle.geometry
    face = match[1][0] if geometry is not None and match[1][0] in geometry.mechanism.directions else None
    return Spot(number, face, int(match[2] or 0))


def aim(puzzle: Puzzle, source: Spot, target: Spot) -> int:
    """The twist that a piece gains from ``source`` to ``target`` when its first-named face goes to the first-named face."""
    kind = puzzle.kind_of[source.number]
    if kind.twist == 1 or puzzle.geometry is None or not source.face or not target.face:
        return target.extra
    for twist in range(kind.twist):
        if _face_after(puzzle, source, target.number, twist) == target.face:
            return (twist + target.extra) % kind.twist
    return target.extra


def _face_after(puzzle: Puzzle, source: Spot, slot: int, twist: int) -> str | None:
    """Where the sticker on the first-named face of ``source`` shows once its piece is in ``slot`` with ``twist``."""
    geometry = puzzle.geometry
    mechanism = geometry.mechanism
    kind = puzzle.kind_of[slot]
    rotation = geometry.rotation_of(puzzle.base_label, kind.twist, source.number, slot, twist)
    direction = mechanism.rotations.matrices[rotation] @ mechanism.directions[source.face]
    for face, towards in mechanism.directions.items():
        if np.allclose(direction, towards):
            return face
    return None
