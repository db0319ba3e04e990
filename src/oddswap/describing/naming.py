"""Slots as people name them: which slot, which of its faces comes first, and how far its piece is turned there."""

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass

import numpy as np

from oddswap.errors import BadTicket, NotationError, OddswapError, UnknownSlot, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.puzzle_names import nearest


@dataclass(frozen=True)
class NamedSlot:
    """A slot (its number), the face named first (``None`` where slots are not named by faces) and extra twist."""

    number: int
    face: str | None
    extra: int = 0


def read_slot(puzzle: Puzzle, name: str) -> NamedSlot:
    """Read a slot name such as ``UF``, ``FU`` or ``UFR+1``.

    >>> from oddswap.puzzles.catalogue import load
    >>> read_slot(load("cube:3"), "FU")
    NamedSlot(number=8, face='F', extra=0)
    """
    match = re.fullmatch(r"(.+?)(?:\+([0-9]))?", name.strip())
    if match is None:
        raise UnknownSlot(f"{quoted(name)} is no slot: write such as UF or UFR")
    number = puzzle.slot(match[1])
    geometry = puzzle.geometry
    face = match[1][0] if geometry is not None and match[1][0] in geometry.mechanism.directions else None
    return NamedSlot(number, face, int(match[2] or 0))


def aim(puzzle: Puzzle, source: NamedSlot, target: NamedSlot) -> int:
    """The twist that a piece gains from ``source`` to ``target`` when its first-named face goes to the first-named face."""
    kind = puzzle.kind_of[source.number]
    if kind.twist == 1 or puzzle.geometry is None or not source.face or not target.face:
        return target.extra
    for twist in range(kind.twist):
        if _face_after(puzzle, source, target.number, twist) == target.face:
            return (twist + target.extra) % kind.twist
    return target.extra


def steps(puzzle: Puzzle, number: int, way: str) -> int:
    """How many steps of twist ``cw``, ``ccw`` or ``half`` is at a slot (its number); `BadTicket` if it is none there.

    >>> from oddswap.puzzles.catalogue import load
    >>> steps(load("cube:3"), 0, "cw"), steps(load("cube:3"), 20, "half")
    (1, 2)
    """
    order = puzzle.kind_of[number].twist
    ways = {"cw": 1, "ccw": order - 1} if order > 1 else {}
    if order % 2 == 0:
        ways["half"] = order // 2
    if way not in ways:
        right = f"write {' or '.join(ways)}" if ways else "leave the turn out"
        raise BadTicket(
            f"{quoted(way)} is no way to turn the piece at {puzzle.slots[number]}, which has {order} ways round: {right}"
        )
    return ways[way]


def _face_after(puzzle: Puzzle, source: NamedSlot, slot: int, twist: int) -> str | None:
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


def refuse_others(table: Mapping, keys: Mapping[str, tuple[type | tuple[type, ...], str]], where: str, what: str) -> None:
    """`BadTicket` for a key that is none of ``keys``, or for a value of another type; each key has its type and what is right."""
    for key, value in table.items():
        if key not in keys:
            near = nearest(key, keys)
            right = f"write {near} (it knows {', '.join(keys)})" if near else f"it knows {', '.join(keys)}"
            raise BadTicket(f"{where}{quoted(key)} is no key of {what}: {right}")
        kind, right = keys[key]
        if not isinstance(value, kind):
            raise BadTicket(f"{where}{key} is of the wrong type: give it {right}")


@contextmanager
def say_where(place: str) -> Iterator[None]:
    """Puts the place in front of what an error says; an error of the notation keeps its column."""
    try:
        yield
    except NotationError as error:
        raise NotationError(error.text, error.column, f"{error.reason} (in {place})") from None
    except OddswapError as error:
        raise type(error)(f"{place}: {error}") from None
