"""Named errors for input that cannot be used; each message is one sentence on one line."""

import os
import sys


def quoted(text: object, limit: int = 30) -> str:
    """What was read, fit for a one-line message: no line breaks or control characters, and not too long."""
    line = printable(str(text))
    return f"`{line if len(line) <= limit else line[: limit - 1] + '…'}`"


def printable(text: str) -> str:
    """A text on one line: whatever cannot be printed is a space."""
    return "".join(c if c.isprintable() else " " for c in text)


def complain(sentence: str) -> None:
    """Print a sentence on standard error, as one line, if anybody reads there."""
    try:
        print(f"oddswap: {printable(sentence)}", file=sys.stderr, flush=True)
    except OSError:
        drop(sys.stderr.fileno())


def drop(stream: int) -> None:
    """Let go of a stream (its number) that takes nothing: what it still holds would fail once more when Python ends."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), stream)


class OddswapError(ValueError):
    """Any input that cannot be used; the message says what is wrong, where, and what would be right.

    >>> import oddswap
    >>> oddswap.load("cube")
    Traceback (most recent call last):
    oddswap.errors.UnknownPuzzle: cube alone names no puzzle: write such as cube:3
    """


class UnknownPuzzle(OddswapError):
    """No puzzle has this name."""


class OtherPuzzle(OddswapError):
    """What is given belongs to another puzzle."""


class UnknownSlot(OddswapError):
    """The puzzle has no slot of this name."""


class UnknownMove(OddswapError):
    """The puzzle has no such move, or does not allow it."""


class UnknownColour(OddswapError):
    """The puzzle has no sticker of this colour, or the colour has no such name."""


class BadRows(OddswapError):
    """The rows that describe a face have the wrong number or length."""


class BadTicket(OddswapError):
    """A ticket that cannot be read: a key is missing, unknown, or of the wrong type."""


class ContradictoryTicket(OddswapError):
    """A ticket whose parts cannot all be true."""


class BadPhotograph(OddswapError):
    """A photograph cannot be read: no picture, or its corners fit no solid."""


class BadSolid(OddswapError):
    """A solid or a cut that gives no usable puzzle."""


class BadOption(OddswapError):
    """An option that does not exist, or whose value is out of range."""


class BadStory(OddswapError):
    """A story file that cannot be told: a key, a pace, a culprit or moves that do not fit."""


class BadRecording(OddswapError):
    """A voice, a timing or footage that does not fit the story, or that nobody can hear or see."""


class NoSuchGoal(OddswapError):
    """A goal that no arrangement satisfies, or that cannot be searched for as it stands."""


class BadPlan(OddswapError):
    """A plan that cannot be read, or one of whose stages cannot follow from the last."""


class NoOutput(OddswapError):
    """What was found cannot be put out: standard output is closed or full, or pages cannot be put together."""


class NoEncoder(OddswapError):
    """No ffmpeg, or one that cannot make what is asked for."""


class TooLarge(OddswapError):
    """A puzzle of more slots, looks or positions than a search can hold."""


class BadPermutation(OddswapError):
    """A list that is not a permutation of 0 to n - 1, or two of different lengths."""


class NotationError(OddswapError):
    """A text that is not in the notation.

    `text` is what was read, `column` the place of the mistake in it, counted from 1, and `reason` what is
    wrong there and what would be right.

    >>> error = NotationError("R [U", 3, "this bracket is never closed: add a `]`")
    >>> print(error)
    column 3: this bracket is never closed: add a `]`
    """

    def __init__(self, text: str, column: int, reason: str):
        super().__init__(text, column, reason)
        self.text = text
        self.column = column
        self.reason = reason

    def __str__(self) -> str:
        return f"column {self.column}: {self.reason}"
