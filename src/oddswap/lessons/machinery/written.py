"""What somebody wrote into an exercise, whatever it is, and slots in an answer to it; a hint where nothing can be read."""

import re
from collections.abc import Collection
from math import prod

from oddswap.describing.changes import changed
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.notes import Hint
from oddswap.values.grammar import listed
from oddswap.values.position import Arrangement

LONGEST = 60
"""An answer of more characters is no number that anybody means."""


def written(answer: object, such: str) -> str:
    """The text of an answer, trimmed; where nothing is written a `Hint` what to write, ``such`` as it ends.

    >>> written("  R U ", "turns such as: R U F'")
    'R U'
    """
    text = "" if answer is None else str(answer).strip()
    if not text:
        raise Hint(f"Nothing written yet. Write {such}")
    return text


def parts(answer: object, such: str) -> list[str]:
    """What stands between the commas of an answer, without what is empty; else a `Hint` as of `written`.

    >>> parts("flip UF, , swap UR UB", "changes")
    ['flip UF', 'swap UR UB']
    """
    found = [part.strip() for part in written(answer, such).split(",") if part.strip()]
    return found or [written("", such)]


def written_number(answer: object, such: str) -> int:
    """A number, or the product of numbers, that somebody wrote; else a `Hint` to write one, ``such`` as it ends.

    >>> written_number("20,160", "720."), written_number("6 x 5 * 4", "720.")
    (20160, 120)
    """
    text = written(answer, f"a number such as {such}")
    plain = re.sub(r"[\s_]|,(?=[0-9]{3})", "", text)
    if len(text) > LONGEST or not re.fullmatch(r"[0-9]+([*x×·][0-9]+)*", plain, re.ASCII):
        raise Hint(f"That is no number yet. Write one such as {such}")
    return prod(map(int, re.split(r"[*x×·]", plain)))


def written_changes(puzzle: Puzzle, answer: object, such: str, start: Arrangement | None = None) -> Arrangement:
    """``start`` (solved, when left out) after changes by hand that somebody wrote; a `Hint` where there are none."""
    state = changed(puzzle, parts(answer, f"changes such as: {such}"), start)
    if state == (start or puzzle.solved):
        raise Hint("Not yet. Your changes undo each other: nothing has changed.")
    return state


def out_of_place(puzzle: Puzzle, state: Arrangement, wanted: Arrangement | None = None) -> set[int]:
    """The slots that do not look as in ``wanted`` (solved, when left out)."""
    seen, home = (puzzle.appearance(held).sights for held in (state, wanted or puzzle.solved))
    return {slot for slot, (one, other) in enumerate(zip(seen, home, strict=True)) if one != other}


def slot_names(puzzle: Puzzle, numbers: Collection[int]) -> str:
    """The names of slots, listed in their order."""
    return listed(puzzle.slots[number] for number in sorted(numbers)) if numbers else "no slot at all"
