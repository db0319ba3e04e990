"""Text from files: characters that nobody sees are found, so that a name with one is refused and a note loses them.

Terminals obey control characters, and marks of direction show a line in another order than it is read. Joiners stay: words of
many languages and some emoji need them.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from unicodedata import category

from oddswap.errors import quoted

JOINERS = "\u200c\u200d"
CONTROLS, MARKS = ("Cc", "Zl", "Zp"), ("Cf",)


def unseen(text: str) -> str:
    r"""The first character of a text that nobody sees, an end of a line among them; empty where there is none.

    >>> unseen("white"), unseen("wh\u202eite")
    ('', '\u202e')
    """
    return next((c for c in text if category(c) in (*CONTROLS, *MARKS) and c not in JOINERS), "")


def unseen_reason(text: str, character: str) -> str:
    """A sentence about a text with such a character."""
    return f"{quoted(text, 60)} has a character that nobody sees (U+{ord(character):04X}): type it anew, without that"


def cleaned(text: str) -> str:
    r"""The text without what nobody sees: controls are spaces, marks of direction are gone, ends of lines stay.

    >>> cleaned("two\x1b[31m \u202eedges\r\nover")
    'two [31m edges\nover'
    """
    lines = text.replace("\r\n", "\n")
    return "".join(
        " " if category(c) in CONTROLS and c != "\n" else c for c in lines if category(c) not in MARKS or c in JOINERS
    )


def one_line(text: str) -> str:
    r"""The text cleaned, on one line.

    >>> one_line("two\x1b\n edges ")
    'two edges'
    """
    return " ".join(cleaned(text).split())


def refuse_unseen(data: object, refuse: Callable[..., Exception], *path: str | int) -> None:
    """Raise ``refuse(reason, *path)`` for the first key or text in plain data that has a character that nobody sees.

    Ends of lines and tabs are seen. ``path`` has the keys that lead there; numbers count the entries of a list.
    """
    if isinstance(data, str):
        if character := unseen(re.sub(r"[\n\r\t]", " ", data)):
            raise refuse(unseen_reason(data, character), *path)
        return
    if isinstance(data, dict):
        for key in data:
            refuse_unseen(key, refuse, *path)
    entries = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in entries:
        refuse_unseen(value, refuse, *path, key)


def refusal(error: type[Exception], where: str = "") -> Callable[..., Exception]:
    """For `refuse_unseen`: an ``error`` that names the place ``where``, and in it the path of keys."""
    return lambda reason, *path: error(f"{where}{'.'.join(map(str, path)) or 'a key'}: {reason}")
