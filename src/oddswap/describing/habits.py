"""How a visitor writes turns: in words, with marks of their own, with a number in front that can mean two things."""

import re
from contextlib import suppress
from dataclasses import dataclass, replace

from oddswap.errors import BadTicket, NotationError, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.sequence import Sequence

TWICE, SLAB = "twice", "slab"
EVERY = "all"
SIDES = {"U": "top|up|upper", "D": "bottom|down|lower", "F": "front", "B": "back|rear", "L": "left", "R": "right"}
WAYS = {
    "2": r"half(?:[ -]?(?:a|way|turn|circle|round|around)\b)*|twice",
    "'": r"anti-?clockwise|counter-?clockwise|(?:a )?quarter(?: turn)? (?:anti|counter)-?clockwise",
    "": r"clockwise|(?:a )?quarter(?: turn)? clockwise",
}
SIDE = re.compile(
    rf"\b(?:the )?(?P<side>{'|'.join(SIDES.values())})\b(?: (?:side|face|layer))?"
    rf"(?P<way> (?:(?:is )?(?:turned|turn|by|round|a|once) )*(?:{'|'.join(WAYS.values())})(?: round| around)?)?"
    r"(?:,? (?:and|then)\b)*,?",
    re.IGNORECASE,
)
MARK = re.compile(r"(?<=[A-Zw\d])(?:[^\s\w()\[\],:]{1,3}|[a-z])(?=\s|$)")
"""What may be somebody's mark behind a turn."""


@dataclass(frozen=True)
class Habits:
    """``reverse`` are the marks behind a turn that undo it; ``leading_number`` says what a number before a letter means.

    That is ``twice`` (so many times) or ``slab`` (that slab alone); empty where the visitor did not say.
    """

    reverse: tuple[str, ...] = ()
    leading_number: str = ""

    def read(self, puzzle: Puzzle, text: str) -> Sequence:
        """The turns of a text. `BadTicket` for a side without its way, `NotationError` for what is no turn.

        >>> from oddswap.puzzles.catalogue import load
        >>> print(Habits(("i",), TWICE).read(load("cube:3"), "right side half round, front clockwise Ui 2L"))
        R2 F U' L2
        """
        if puzzle.alphabet.is_box:
            text = SIDE.sub(_turn, text)
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

    def otherwise(self, puzzle: Puzzle, text: str) -> Sequence | None:
        """The turns if numbers in front mean *so many times*, where the visitor did not say and it makes a difference."""
        if self.leading_number or not re.search(r"(?<!\w)\d+[A-Z](?!w)", text):
            return None
        with suppress(NotationError):
            return replace(self, leading_number=TWICE).read(puzzle, text)
        return None


def _turn(said: re.Match) -> str:
    if not said["way"]:
        raise BadTicket(
            f"{quoted(said[0].strip())} does not say which way: write clockwise, anticlockwise or half round behind it"
        )
    face = next(face for face, words in SIDES.items() if re.fullmatch(words, said["side"], re.IGNORECASE))
    return face + next(amount for amount, words in WAYS.items() if re.search(words, said["way"], re.IGNORECASE)) + " "


def read_habits(table: dict) -> Habits:
    """What ``[notation]`` says. `BadTicket` for another key or value."""
    for key in table:
        if key not in ("reverse", "leading_number"):
            raise BadTicket(f"[notation] {quoted(key)} is no key of it: write reverse or leading_number")
    reverse, number = table.get("reverse", []), table.get("leading_number", "")
    if not isinstance(reverse, list) or not all(
        isinstance(mark, str) and re.fullmatch(r"[^\s\d()\[\],:]{1,9}", mark) for mark in reverse
    ):
        raise BadTicket('[notation] reverse is a list of the marks that turn back: write such as ["i"], without spaces or digits')
    if number not in ("", TWICE, SLAB):
        raise BadTicket(f"[notation] leading_number: {quoted(number)} is not offered: write {TWICE} or {SLAB}")
    return Habits(tuple(reverse), number)


def turns_option(key: str, turns: str | list) -> str:
    """Turns as an option of the puzzle's name; empty if these are all."""
    names = turns if isinstance(turns, list) else [turns]
    for name in names:
        if not isinstance(name, str) or not name.strip() or set(name) & set(",=+"):
            raise BadTicket(f"{key}: {quoted(name)} is no turn: write all, half or a list such as [R2, U]")
    if not names:
        raise BadTicket(f"{key}: the list is empty: name the turns that this copy makes, or leave it out")
    return "" if turns == EVERY else "+".join(name.strip() for name in names)
