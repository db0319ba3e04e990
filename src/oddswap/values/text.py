"""Text from files: characters that nobody sees are found, so that a name with one is refused and a note loses them.

Terminals obey control characters, and marks of direction show a line in another order than it is read. Joiners stay: words of
many languages and some emoji need them.
"""

import re
from collections.abc import Callable
from unicodedata import category

from oddswap.errors import quoted

JOINERS = "\u200c\u200d"
CONTROLS = ("Cc", "Zl", "Zp")
"""Unicode's categories of controls and ends of lines; what has no shape of its own besides is of the category Cf."""
DEEPEST = 6


def unseen(text: str) -> str:
    r"""The first character of a text that nobody sees, an end of a line among them; empty where there is none.

    >>> unseen("white"), unseen("wh\u202eite")
    ('', '\u202e')
    """
    return next((c for c in text if category(c) in (*CONTROLS, "Cf") and c not in JOINERS), "")


def unseen_reason(text: str, character: str) -> str:
    """A sentence about a text with such a character."""
    return f"{quoted(text, 60)} has a character that nobody sees (U+{ord(character):04X}): type it anew, without that"


def cleaned(text: str) -> str:
    r"""The text without what nobody sees: controls are spaces, marks of direction are gone, ends of lines stay.

    >>> cleaned("two\x1b[31m \u202eedges\r\nover")
    'two [31m edges\nover'
    """
    kept = (c for c in text.replace("\r\n", "\n") if category(c) != "Cf" or c in JOINERS)
    return "".join(" " if category(c) in CONTROLS and c != "\n" else c for c in kept)


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
    for text in [data] if isinstance(data, str) else data if isinstance(data, dict) else ():
        if character := unseen(re.sub(r"[\n\r\t]", " ", text)):
            raise refuse(unseen_reason(text, character), *path)
    for key, entry in data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ():
        refuse_unseen(entry, refuse, *path, key)


def refusal(error: type[Exception], where: str = "") -> Callable[..., Exception]:
    """For `refuse_unseen`: an ``error`` that names the place ``where``, and in it the first keys of the path."""
    return lambda reason, *path: error(f"{where}{'.'.join(map(str, path[:DEEPEST])) or 'a key'}: {reason}")
