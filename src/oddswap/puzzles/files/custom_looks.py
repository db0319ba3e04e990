"""What the pieces of a puzzle file look like, and where they lie on paper."""

import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType

import numpy as np

from oddswap.errors import quoted
from oddswap.puzzles.base.layout import on_circle, one_step_apart
from oddswap.puzzles.files.puzzle_file import Key, PuzzleFile
from oddswap.values.text_file import is_length

WIDEST = 64
"""How many steps across a picture may be."""
MOST_LOOKS = 256
"""A packed state has one byte for each slot."""


def looks_in(file: PuzzleFile, given: object, slots: Sequence[str], twist: int, *path: Key) -> dict[str, list[str]]:
    """For each slot that a table of looks names, what its piece shows each way round.

    Looks that are equal must stay equal when their pieces are twisted alike: what a piece shows next depends on what it shows.
    """
    rows: dict[str, list[str]] = {}
    for slot, value in file.entries("the table of looks", given, *path).items():
        at = (*path, slot)
        if slot not in slots:
            raise file.error(f"there is no slot {quoted(slot)} among these: {', '.join(slots[:6])}", *at)
        listed = isinstance(value, list)
        if listed and len(value) != twist:
            raise file.error(f"{slot} has {len(value)} looks but {twist} ways round: write one for each", *at)
        words = [file.words(f"a look of {slot}", word, *at) for word in (value if listed else [value])]
        rows[slot] = words if listed else words * twist
    following: dict[str, tuple[str, str]] = {}
    for slot, row in rows.items():
        for word, after in zip(row, row[1:] + row[:1], strict=True):
            other, known = following.setdefault(word, (slot, after))
            if known != after:
                who = f"{slot} shows {quoted(word)} twice" if other == slot else f"{other} and {slot} both show {quoted(word)}"
                reason = f"{who}, but turned on by one step {quoted(known)} and {quoted(after)}: equal looks must stay equal"
                raise file.error(reason, *path, slot)
    return rows


def places_in(file: PuzzleFile, slots: Sequence[str]) -> np.ndarray:
    """Where the slots lie (n, 2), the nearest 1 apart: as the file says, or else on a circle."""
    if "places" not in file.data:
        return one_step_apart(on_circle(np.arange(len(slots)) / len(slots)))[0]
    given = file.entries("the table of places", file.data["places"], "places")
    for slot, value in given.items():
        if slot not in slots:
            raise file.error(f"there is no slot {quoted(slot)} to place", "places", slot)
        if not (isinstance(value, list) and len(value) == 2 and all(map(is_length, value))):
            raise file.error(f"the place of {slot} is {quoted(value)}: write two numbers, [x, y]", "places", slot)
    missing = [slot for slot in slots if slot not in given]
    if missing:
        raise file.error(f"the slot {missing[0]} has no place: give one to every slot, or to none", "places")
    points = np.array([given[slot] for slot in slots], dtype=float)
    if len(np.unique(points, axis=0)) < len(points):
        raise file.error("two slots have the same place: move one of them", "places")
    points, _ = one_step_apart(points)
    if np.ptp(points, axis=0).max() > WIDEST:
        raise file.error(f"two slots lie so near that the picture is over {WIDEST} such steps across: move them", "places")
    return points - points.mean(axis=0)


def colours_in(file: PuzzleFile) -> Mapping[str, str]:
    """The colours that the file gives to looks, each ``#rrggbb``."""
    given = file.entries("the table of colours", file.data.get("colours", {}), "colours")
    for look, value in given.items():
        if not isinstance(value, str) or not re.fullmatch("#[0-9A-Fa-f]{6}", value):
            raise file.error(f'the colour of {quoted(look)} is {quoted(value)}: write such as "#D55E00"', "colours", look)
    return MappingProxyType(dict(given))
