"""Text that people write, and files that they name: read whole, or refused at once with one sentence: what is wrong, and where.

Only a regular file is opened: a pipe would keep the reader waiting, a device never ends. TOML is looked over before it is
parsed, because deep keys and long numbers cost a parser time and memory out of all proportion.

Characters that nobody sees are found, so that a name with one is refused and a note loses them: terminals obey control
characters, and marks of direction show a line in another order than it is read. Joiners stay: words of
many languages and some emoji need them.
"""

import re
import stat
import tomllib
from collections.abc import Callable
from errno import EINVAL, EISDIR
from pathlib import Path
from unicodedata import category

from oddswap.errors import OddswapError, quoted

JOINERS = "\u200c\u200d"
CONTROLS = ("Cc", "Zl", "Zp")
"""Unicode's categories of controls and ends of lines; what has no shape of its own besides is of the category Cf."""
TOLD = 6
"""So many keys of a path are told at most."""


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
    return lambda reason, *path: error(f"{where}{'.'.join(map(str, path[:TOLD])) or 'a key'}: {reason}")


LARGEST = 200_000
"""Bytes of a file that are read, unless its reader says otherwise."""
DEEPEST = 32
"""How deep brackets may be nested in TOML."""
BARE = 100
"""How many characters a number, or a word without quotes, may have in TOML."""
PARTS = 8
"""How many parts a key may have in TOML."""

STRING = re.compile(
    r'''"""(?:\\.?|[^\\])*?(?:"{3,5}|\Z)|\'\'\'.*?(?:'{3,5}|\Z)|"(?:\\.|[^"\\\n])*"?|'[^'\n]*'?|#[^\n]*''', re.DOTALL
)
"""A string, to its end or as far as it goes, or a comment."""
LONG = re.compile(rf"[\w.+-]{{{BARE + 1}}}")
DOTTED = re.compile(rf"[\w-]+(?:[ \t]*\.[ \t]*[\w-]+){{{PARTS}}}")
BRACKET = re.compile(r"[][{}]")
WHERE = re.compile(r"(.*?)(?: \(at (?:line (\d+), column \d+|end of document)\))?", re.DOTALL)
"""What Python says of a text that is not TOML: a reason, and mostly the line."""


def read_bytes(path: Path, largest: int = LARGEST) -> bytes:
    """What stands in a regular file, one byte more than ``largest`` at most. `OSError` for anything else that lies there."""
    mode = path.stat().st_mode
    if stat.S_ISDIR(mode):
        raise OSError(EISDIR, "this is a folder", str(path))
    if not stat.S_ISREG(mode):
        raise OSError(EINVAL, "this is a pipe" if stat.S_ISFIFO(mode) else "this is a device", str(path))
    with path.open("rb") as file:
        return file.read(largest + 1)


def read_text(path: Path, what: str, wrong: type[OddswapError], largest: int = LARGEST) -> str:
    """The text in a regular file in UTF-8. ``wrong`` is raised for anything else, and ``what`` says what it should have been."""
    named = f"{what} {quoted(path, 200)}"
    try:
        data = read_bytes(path, largest)
    except (OSError, ValueError) as error:
        raise wrong(f"{named} cannot be read ({getattr(error, 'strerror', None) or error}): name a file that can") from None
    if len(data) > largest:
        raise wrong(f"{named} is longer than {largest} bytes: name a shorter one")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise wrong(f"{named} is no text in UTF-8 from line {line} on: save it as UTF-8") from None


def parse_toml(text: str, named: str, wrong: type[OddswapError]) -> dict:
    r"""The tables of a text in TOML. ``wrong`` names the file as ``named``, the line, and what would be right.

    >>> from oddswap.errors import BadTicket
    >>> parse_toml("after = 'R'\nturns = " + 99 * "[", "the ticket", BadTicket)
    Traceback (most recent call last):
    ...
    oddswap.errors.BadTicket: the ticket, line 2: brackets are nested more than 32 deep: write a plain list
    """
    bare = STRING.sub(lambda found: "_" + "\n" * found[0].count("\n"), text)
    if much := _too_much(bare):
        found, reason = much
        raise wrong(f"{named}, line {bare.count(chr(10), 0, found.start()) + 1}: {reason}")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        reason, line = WHERE.fullmatch(str(error)).groups()
        raise wrong(f"{named}, line {line or text.count(chr(10)) + 1}: this is not TOML: {quoted(reason, 80)[1:-1]}") from None


def is_length(value: object) -> bool:
    """Whether this is a number that a picture or a solid can be drawn with."""
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e6


def _too_much(bare: str) -> tuple[re.Match, str] | None:
    """The first thing of which there is more than any file needs, and what would be right. Strings are left out of ``bare``."""
    if found := LONG.search(bare):
        return found, f"a number or word has more than {BARE} characters: shorten it, or put it in quotes"
    if found := DOTTED.search(bare):
        return found, f"a key has more than {PARTS} parts: write fewer dots"
    depth = 0
    for found in BRACKET.finditer(bare):
        depth += 1 if found[0] in "[{" else -1
        if depth > DEEPEST:
            return found, f"brackets are nested more than {DEEPEST} deep: write a plain list"
    return None
