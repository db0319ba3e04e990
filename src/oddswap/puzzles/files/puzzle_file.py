"""Reading a puzzle's TOML file, its looks and places too, so that every complaint names the line."""

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

import numpy as np

from oddswap.errors import OddswapError, quoted
from oddswap.puzzles.base.space import on_circle, one_step_apart
from oddswap.values.text_file import is_length, parse_toml, read_bytes, read_text, refuse_unseen

NAME = r"[\w.]{1,20}"
"""What a slot may be called."""

Key = str | int
KEY = r"""(?:[\w-]+|"[^"]*"|'[^']*')"""
KEYS = rf"{KEY}(?:\s*\.\s*{KEY})*"


class BadPuzzleFile(OddswapError):
    """A puzzle file that cannot be read, or that describes no puzzle; the message names the file and the line."""


@dataclass(frozen=True, eq=False)
class PuzzleFile:
    """``data`` as TOML reads it; what is wrong at a path of keys (numbers count tables in a list) is told by its line."""

    name: str
    text: str
    data: dict

    def error(self, reason: str, *path: Key) -> BadPuzzleFile:
        return BadPuzzleFile(f"{self.name}, line {line_of(self.text, path)}: {reason}")

    def table(self, what: str, value: object, known: Collection[str], *path: Key) -> dict:
        """``value`` if it is a table that has no keys but the ``known``."""
        if not isinstance(value, dict):
            raise self.error(f"{what} is {quoted(value)}: write a table of {', '.join(known)}", *path)
        for key in value:
            if key not in known:
                raise self.error(f"{what} has no key {quoted(key)}: it knows {', '.join(known)}", *path, key)
        return value

    def entries(self, what: str, value: object, *path: Key) -> dict:
        """``value`` if it is a table, whatever its keys."""
        if not isinstance(value, dict):
            raise self.error(f"{what} is {quoted(value)}: write a table, one line for each entry", *path)
        return value

    def words(self, what: str, value: object, *path: Key) -> str:
        """``value`` if it is a text that is not empty."""
        if not isinstance(value, str) or not value.strip() or not value.isprintable():
            raise self.error(f"{what} is {quoted(value)}: write a text in quotes, on one line", *path)
        return value.strip()

    def whole(self, what: str, value: object, low: int, high: int, *path: Key) -> int:
        """``value`` if it is a whole number from ``low`` to ``high``."""
        if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
            raise self.error(f"{what} is {quoted(value)}: write a whole number from {low} to {high}", *path)
        return value

    def title(self) -> str:
        return self.words("the title", self.data.get("title", Path(self.name).stem), "title")[:80]


def contents_of(path: Path) -> bytes | None:
    """What stands in a puzzle file, as far as one may go; ``None`` if it cannot be read."""
    try:
        return read_bytes(path)
    except (OSError, ValueError):
        return None


def read_file(path: Path) -> PuzzleFile:
    """The file; `BadPuzzleFile` if it cannot be read or is not TOML."""
    name = quoted(path.name, 60)[1:-1]
    text = read_text(path, "the puzzle file", BadPuzzleFile)
    file = PuzzleFile(name, text, parse_toml(text, name, BadPuzzleFile))
    refuse_unseen(file.data, file.error)
    return file


def line_of(text: str, path: tuple[Key, ...]) -> int:
    """The number of the first line that sets as much of a path of keys as any line does.

    >>> line_of('title = "x"\\n[[kind]]\\nslots = "a b"\\n[[kind]]\\nslots = "b"\\n', ("kind", 1, "slots"))
    5
    """
    best, found = 0, 1
    for number, keys in _keys_by_line(text):
        shared = next((i for i, (a, b) in enumerate(zip(keys, path, strict=False)) if a != b), min(len(keys), len(path)))
        if shared > best:
            best, found = shared, number
    return found


def _keys_by_line(text: str) -> Iterator[tuple[int, tuple[Key, ...]]]:
    """For each line that sets a key or opens a table, its full path."""
    table: tuple[Key, ...] = ()
    counts: dict[str, int] = {}
    for number, line in enumerate(text.split("\n"), 1):
        if match := re.match(rf"\s*(\[\[?)\s*({KEYS})\s*\]", line):
            names = _names(match[2])
            if match[1] == "[[":
                counts[names[0]] = counts.get(names[0], -1) + 1
            table = (names[0], counts[names[0]], *names[1:]) if names[0] in counts else names
            yield number, table
        elif match := re.match(rf"\s*({KEYS})\s*=", line):
            yield number, (*table, *_names(match[1]))


def _names(dotted: str) -> tuple[str, ...]:
    return tuple(part[1:-1] if part[0] in "\"'" else part for part in re.findall(KEY, dotted))


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
