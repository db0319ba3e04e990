"""How people name slots and write turns: in words, with marks of their own, with a number that can mean two things."""

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace

import numpy as np

from oddswap.errors import BadTicket, NotationError, OddswapError, UnknownSlot, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.puzzle_names import nearest
from oddswap.values.position import Arrangement
from oddswap.values.sequence import Sequence, bounded


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


TWICE, SLAB = "twice", "slab"
KEYS = {"reverse": (list, 'a list of marks such as ["i"]'), "leading_number": (str, f"the text '{TWICE}' or the text '{SLAB}'")}
SIDES = {"U": "top|up|upper", "D": "bottom|down|lower", "F": "front", "B": "back|rear", "L": "left", "R": "right"}
WAYS = {
    "2": r"half(?:[ -]?(?:a|way|turn|circle|round|around)\b)*|twice",
    "'": r"anti-?clockwise|counter-?clockwise|(?:a )?quarter(?: turn)? (?:anti|counter)-?clockwise",
    "": r"clockwise|(?:a )?quarter(?: turn)? clockwise",
}
SIDE = re.compile(
    rf"\b(?:the )?(?P<side>{'|'.join(SIDES.values())})\b(?: (?:side|face|layer))?"
    rf"(?P<way> (?:(?:is )?(?:turned|turn|by|round|a|once) )*(?:{'|'.join(WAYS.values())})(?: round| around)?)?",
    re.IGNORECASE,
)
FILLERS = re.compile(r"(?<!\S)(?:and|then)(?!\S)", re.IGNORECASE)
MARK = re.compile(r"(?<=[A-Zw\d])(?:[^\s\w()\[\],:]{1,3}|[a-z])(?=\s|$)")
"""What may be somebody's mark behind a turn."""
NUMBERED = re.compile(r"(?<!\w)(?P<number>\d{1,6})(?P<face>[A-Z])(?!w)[^\s()\[\],:]*")
"""A turn with a number in front that can mean *so many times*."""


@dataclass(frozen=True)
class Doubt:
    """A turn as it was ``written``, whose ``number`` before the letter of a ``face`` can mean two things: that slab alone, which
    it was taken for, or so many turns of the outer one; ``otherwise`` are all the turns if that was meant.
    """

    written: str
    number: int
    face: str
    otherwise: Sequence


@dataclass(frozen=True)
class Habits:
    """``reverse`` are the marks behind a turn that undo it; ``leading_number`` says what a number before a letter means.

    That is ``twice`` (so many times) or ``slab`` (that slab alone); empty where the visitor did not say.
    """

    reverse: tuple[str, ...] = ()
    leading_number: str = ""

    def read(self, puzzle: Puzzle, text: str, start: Arrangement | None = None) -> Sequence:
        """The turns of a text, from an arrangement. `BadTicket` for a side without its way, `NotationError` for what is no turn.

        >>> from oddswap.puzzles.catalogue import load
        >>> print(Habits(("i",), TWICE).read(load("cube:3"), "right side half round, front clockwise Ui 2L"))
        R2 F U' L2
        """
        if puzzle.alphabet.is_box:
            text = SIDE.sub(_turn, _without_fillers(text))
        if self.leading_number or not NUMBERED.search(text):
            return self._read(puzzle, text)
        try:
            return _made(puzzle, self._read(puzzle, text), start)
        except OddswapError:
            with suppress(OddswapError):
                return _made(puzzle, replace(self, leading_number=TWICE)._read(puzzle, text), start)
            raise

    def _read(self, puzzle: Puzzle, text: str) -> Sequence:
        """The turns of a text without words."""
        if self.reverse or self.leading_number:
            marks = "|".join(map(re.escape, sorted(("'", *self.reverse), key=len, reverse=True)))
            stems = "|".join(map(re.escape, puzzle.alphabet.stems))
            turn = rf"(?<![^\s()\[\],:])(?P<number>\d*)(?P<name>(?:{stems})w?)(?P<times>\d*)(?P<back>{marks})?(?P<more>\d*)"
            text = re.sub(turn, self._ours, text)
        try:
            return puzzle.read(text)
        except NotationError as error:
            mark = MARK.match(text, error.column - 1)
            if mark is None:
                raise
            right = f'{error.reason}; if {mark[0]} turns back, write reverse = ["{mark[0]}"] below [notation]'
            raise NotationError(error.text, error.column, right) from None

    def _ours(self, turn: re.Match) -> str:
        number, name, times = turn["number"], turn["name"], turn["times"] + turn["more"]
        if number and self.leading_number == TWICE and not times:
            number, times = "", number
        return f"{number}{name}{times}{turn['back'] and chr(39) or ''}"

    def doubt(self, puzzle: Puzzle, text: str, start: Arrangement | None = None) -> Doubt | None:
        """The first turn of a text that can mean two things, where the visitor did not say which and it makes a difference.

        >>> from oddswap.puzzles.catalogue import load
        >>> Habits(("i",)).doubt(load("cube:3"), "U 2Ri").written
        '2Ri'
        """
        found = None if self.leading_number else NUMBERED.search(text)
        if found:
            with suppress(OddswapError):
                otherwise = _made(puzzle, replace(self, leading_number=TWICE).read(puzzle, text), start)
                if otherwise != self.read(puzzle, text, start):
                    return Doubt(found[0], int(found["number"]), found["face"], otherwise)
        return None


def _made(puzzle: Puzzle, turns: Sequence, start: Arrangement | None) -> Sequence:
    """The turns themselves. `OddswapError` where the puzzle does not make them."""
    puzzle.settled(bounded(turns), start)
    return turns


def _without_fillers(text: str) -> str:
    """A text without what stands between turns that are told one after the other; commas within brackets stay."""
    depth, kept = 0, []
    for letter in FILLERS.sub(lambda filler: " " * len(filler[0]), text):
        depth += (letter in "[(") - (letter in "])")
        kept.append(" " if letter == "," and depth == 0 else letter)
    return "".join(kept)


def _turn(said: re.Match) -> str:
    if not said["way"]:
        raise BadTicket(
            f"{quoted(said[0].strip())} does not say which way: write clockwise, anticlockwise or half round behind it"
        )
    face = next(face for face, words in SIDES.items() if re.fullmatch(words, said["side"], re.IGNORECASE))
    return face + next(amount for amount, words in WAYS.items() if re.search(words, said["way"], re.IGNORECASE)) + " "


def read_habits(table: dict) -> Habits:
    """What ``[notation]`` says. `BadTicket` for another key or value."""
    refuse_others(table, KEYS, "[notation] ", "it")
    reverse, number = table.get("reverse", []), table.get("leading_number", "")
    if not all(isinstance(mark, str) and re.fullmatch(r"[^\s\d()\[\],:]{1,9}", mark) for mark in reverse):
        raise BadTicket('[notation] reverse is a list of the marks that turn back: write such as ["i"], without spaces or digits')
    if number not in ("", TWICE, SLAB):
        raise BadTicket(f"[notation] leading_number: {quoted(number)} is not offered: write {TWICE} or {SLAB}")
    return Habits(tuple(reverse), number)


def write_habits(habits: Habits) -> dict:
    """The table that `read_habits` reads as the same."""
    said = {"reverse": list(habits.reverse), "leading_number": habits.leading_number}
    return {key: value for key, value in said.items() if value}
