"""What somebody wrote into an exercise, whatever it is: a text, or its parts between commas; a hint where there is none."""

from __future__ import annotations

from oddswap.showing.ink.notes import Hint


def written(answer: object, such: str) -> str:
    """The text of an answer, trimmed; where nothing is written a `Hint` what to write, ``such`` as it ends.

    >>> written("  R U ", "turns such as: R U F'")
    'R U'
    """
    text = "" if answer is None else str(answer).strip()
    if not text:
        raise _nothing(such)
    return text


def parts(answer: object, such: str) -> list[str]:
    """What stands between the commas of an answer, without what is empty; else a `Hint` as of `written`.

    >>> parts("flip UF, , swap UR UB", "changes")
    ['flip UF', 'swap UR UB']
    """
    found = [part.strip() for part in written(answer, such).split(",") if part.strip()]
    if not found:
        raise _nothing(such)
    return found


def _nothing(such: str) -> Hint:
    return Hint(f"Nothing written yet. Write {such}")
