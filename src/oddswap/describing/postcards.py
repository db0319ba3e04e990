r"""Postcards: a ticket as one line of text, short enough to print, to read out, and to send in a message.

::

    odd1;cube:3;AAAKQZ…

The version, the puzzle's name, and a number in base 32 (RFC 4648, section 6) of whole bytes, the last `CHECK` of which are a
checksum of all that stands before. The number has one digit of its own radix for each fact, the first fact in the lowest digit:

- what is not mentioned (in place, or turned), how the puzzle was held, the turns of the copy, how turns are written;
- for each facet, its colour: none, a named colour of CSS (W3C, css-color-4, section 6.1), ``#rrggbb``, or a text;
- for each sticker place, if colours were read: one paint, not seen, or a set of paints;
- for each slot, unless all are as the stickers say (as solved, without stickers): one look, not seen, or a set of looks.

A puzzle from a file is named by the checksum of the file. No note, no sender and no file name travels.
"""

import re
from base64 import b32decode, b32encode
from binascii import Error
from functools import cache
from hashlib import sha256
from itertools import pairwise
from pathlib import Path
from types import MappingProxyType
from unicodedata import normalize
from zlib import crc32

from oddswap.describing.habits import Habits
from oddswap.describing.sights import every_look, own_look
from oddswap.describing.stickers import every_holding, seen_stickers, stickers
from oddswap.describing.ticket import IN_PLACE, TURNED, Ticket
from oddswap.errors import BadTicket, UnknownPuzzle, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.puzzle_names import checked_name
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.files.puzzle_file import contents_of
from oddswap.values.position import Appearance, Sight

VERSION = "odd1"
CHECK = 3
"""Bytes of the checksum."""
MOST = 60
"""Of a text that begins with a postcard, so many words may belong to it."""
BEGUN, NAMED = re.compile(r"\bodd(\d+)\s*;", re.IGNORECASE), re.compile(r"""^\s*["']?puzzle["']?\s*=""", re.MULTILINE)
"""Where a postcard begins in a letter, and where a ticket names its puzzle."""
DASHES = dict.fromkeys(map(ord, "‐‑‒–—−"), "-")
FILE = re.compile(r"(?<=:)[^,]*\.toml")
HASHED = re.compile(r"(?<=:)#[0-9a-f]{10}")


def write_postcard(ticket: Ticket) -> str:
    """The postcard of a ticket. `BadTicket` for one that can mean two things, or whose puzzle is in no file and no catalogue.

    >>> from oddswap import parse_ticket
    >>> write_postcard(parse_ticket('puzzle = "cube:2"\\nchanges = ["twist UFR cw"]'))
    'odd1;cube:2;AGRJNXNFYAAEH2KB'
    """
    if ticket.otherwise is not None:
        raise BadTicket("its turns can mean two things: say leading_number below [notation], then make the postcard")
    tape, number = _Tape(), 0
    _facts(tape, ticket)
    for value, radix in reversed(tape.written):
        number = number * radix + value
    head = f"{VERSION};{travelling_name(ticket.puzzle)}"
    body = number.to_bytes((number.bit_length() + 7) // 8)
    return f"{head};{_text(body + _check(head, body))}"


def read_postcard(line: str, folder: Path = Path()) -> Ticket:
    """The ticket that a postcard tells, as its `write_postcard` had it, without note and name.

    What a mail program does to a line (breaks, quotes, dashes, small letters) is undone where the checksum then holds, and words
    that stand behind the postcard are left out.
    A puzzle from a file is looked for in ``folder``. `BadTicket` for a line that is cut, changed, or of another version.

    >>> read_postcard("> odd1;cube:2;agrjnxnf\\n> yaaeh2kb").puzzle
    load('cube:2')
    """
    version = BEGUN.search(line)
    if version is None or version[1] != VERSION[3:]:
        raise BadTicket(f"{quoted(line, 30)} is no postcard that this version reads: one begins with {VERSION}; and is one line")
    words = f"{VERSION};{line[version.end() :]}".split()[:MOST]
    for end in range(len(words), 0, -1):
        for text in (" ".join(words[:end]), _mended("".join(words[:end]))):
            if (found := _opened(text)) is not None:
                name, number = found
                puzzle = _at_home(name, folder)
                return _facts(_Tape(number), Ticket("postcard", puzzle, puzzle.appearance(puzzle.solved)))
    said = quoted(" ".join(words), 30)
    raise BadTicket(f"the postcard {said} is cut short or changed (its checksum does not hold): copy it again")


def is_postcard(text: str) -> bool:
    """Whether a text means to be a postcard, of whatever version."""
    return re.match(rf"\W*{BEGUN.pattern}", text, re.IGNORECASE) is not None


def postcards_in(text: str) -> list[str]:
    """The postcards in a letter, each with what stands behind it; none in a ticket, whose messages and note may have some."""
    begun = [] if NAMED.search(text) else [found.start() for found in BEGUN.finditer(text)]
    return list({text[at:end].split()[0]: text[at:end] for at, end in pairwise([*begun, len(text)])}.values())


def _text(data: bytes) -> str:
    return b32encode(data).decode().rstrip("=")


def _check(head: str, body: bytes) -> bytes:
    return crc32(head.encode() + body).to_bytes(4)[-CHECK:]


def _opened(text: str) -> tuple[str, int] | None:
    """The puzzle's name and the number of a postcard whose checksum holds."""
    head, _, written = text.rpartition(";")
    try:
        data = b32decode(written + "=" * (-len(written) % 8))
    except (Error, ValueError):
        return None
    body = data[:-CHECK]
    if data[-CHECK:] != _check(head, body) or _text(data) != written:
        return None
    return head.partition(";")[2], int.from_bytes(body)


def _mended(line: str) -> str:
    """The line without what mail programs put into it, its number in capitals: of that a postcard has capitals alone."""
    plain = re.sub(r"[\s>\u200b\"'“”„‘’«»]", "", normalize("NFKC", line).translate(DASHES)).rstrip(".,:;!?()")
    return re.sub("[^;]*$", lambda written: written[0].upper(), plain)


def travelling_name(puzzle: Puzzle) -> str:
    """The puzzle's name, with a checksum in place of a file's; `BadTicket` for one that is in no file and no catalogue."""
    try:
        checked_name(puzzle.name)
    except UnknownPuzzle:
        raise BadTicket(f"{quoted(puzzle.name, 60)} is known here alone: describe it in a file, and load that") from None
    return FILE.sub(lambda path: f"#{_hash(Path(path[0]))}", puzzle.name)


def _hash(path: Path) -> str:
    return sha256(contents_of(path) or b"").hexdigest()[:10]


def _at_home(name: str, folder: Path) -> Puzzle:
    """The puzzle of a name, with the file of that checksum in ``folder``."""
    if (wanted := HASHED.search(name)) is None:
        return load(name)
    for path in sorted(folder.glob("*.toml")):
        if _hash(path) == wanted[0][1:]:
            return load(HASHED.sub(str(path).replace("\\", "/"), name))
    raise BadTicket(f"the postcard's puzzle is described in a file with checksum {wanted[0][1:]}: put that file into this folder")


class _Tape:
    """The digits of a postcard's number one after another: to be written, or read off a ``number``."""

    def __init__(self, number: int | None = None):
        self.number, self.written = number, []

    def digit(self, radix: int, value: int) -> int:
        """The next digit: this ``value`` where digits are written, else the one that was read."""
        if self.number is None:
            self.written.append((value, radix))
        else:
            self.number, value = divmod(self.number, radix)
        return value


def _facts(tape: _Tape, told: Ticket) -> Ticket:
    """Every fact of a ticket in its order: those that are ``told`` are written, or others read in their place."""
    puzzle, seen, habits = told.puzzle, told.appearance, told.habits
    elsewhere, held = (IN_PLACE, TURNED), tuple(every_holding().values())
    elsewhere = elsewhere[tape.digit(2, elsewhere.index(told.elsewhere))]
    held = held[tape.digit(len(held), held.index(told.held))]
    copy = _text_fact(tape, told.copy)
    leading_number, *reverse = _text_fact(tape, " ".join((habits.leading_number, *habits.reverse))).split(" ")
    facets = _paints(puzzle) if tape.digit(2, bool(told.colours)) else ()
    colours = {facet: _colour_fact(tape, told.colours.get(facet, "")) for facet in facets}
    colours = MappingProxyType({facet: word for facet, word in colours.items() if word})
    stickers = _set_facts(tape, seen.stickers, *_any_paint(puzzle)) if tape.digit(2, bool(seen.stickers)) else ()
    plain = _plain_sights(puzzle, stickers)
    sights = plain if tape.digit(2, seen.sights == plain) else _set_facts(tape, seen.sights, *_any_look(puzzle))
    appearance, habits = Appearance(puzzle.name, sights, stickers), Habits(tuple(reverse), leading_number)
    return Ticket("postcard", puzzle, appearance, colours, elsewhere, copy, habits=habits, held=held)


def _paints(puzzle: Puzzle) -> dict[str, str]:
    """The paint of each facet."""
    return puzzle.geometry.paints if puzzle.geometry else {}


def _any_paint(puzzle: Puzzle) -> tuple[list[list[str]], list[frozenset[str]]]:
    """The paints that each sticker place may have, and what it has if it was not seen."""
    count, paints = len(stickers(puzzle).places), sorted(set(_paints(puzzle).values()))
    return [paints] * count, [frozenset()] * count


def _any_look(puzzle: Puzzle) -> tuple[list[list[int]], list[Sight]]:
    """The looks that each slot may have, and what it has if it was not seen."""
    unseen = [every_look(puzzle, number) for number in range(len(puzzle.slots))]
    return list(map(sorted, unseen)), unseen


def _plain_sights(puzzle: Puzzle, told: tuple[frozenset[str], ...]) -> tuple[Sight, ...]:
    if told:
        return seen_stickers(puzzle, told).sights
    return tuple(own_look(puzzle, number) for number in range(len(puzzle.slots)))


def _set_facts(
    tape: _Tape, sets: tuple[frozenset, ...], all_members: list[list], unseen: list[frozenset]
) -> tuple[frozenset, ...]:
    """Sets, most of them of one member: how much they need first, so that what needs little takes little."""
    sets, found = sets or unseen, []
    sorts = [0 if len(one) == 1 else 1 if one == none else 2 for one, none in zip(sets, unseen, strict=True)]
    most = tape.digit(3, max(sorts, default=0))
    for one, members, none, sort in zip(sets, all_members, unseen, sorts, strict=True):
        digit = tape.digit(len(members) + most, len(members) + sort - 1 if sort else members.index(*one))
        if digit > len(members):
            mask = tape.digit(1 << len(members), sum(1 << number for number, member in enumerate(members) if member in one))
            found.append(frozenset(member for number, member in enumerate(members) if mask >> number & 1))
        else:
            found.append(none if digit == len(members) else frozenset((members[digit],)))
    return tuple(found)


def _text_fact(tape: _Tape, text: str) -> str:
    data = text.encode()
    if not tape.digit(2, bool(data)):
        return ""
    length = tape.digit(256, len(data) // 256) * 256 + tape.digit(256, len(data) % 256)
    return bytes(tape.digit(256, byte) for byte in data or bytes(length)).decode()


def _colour_fact(tape: _Tape, word: str) -> str:
    names, is_hex = colour_names(), re.fullmatch("#[0-9a-f]{6}", word)
    digit = tape.digit(len(names) + 2, names.index(word) if word in names else len(names) + (not is_hex))
    if digit < len(names):
        return names[digit]
    return f"#{tape.digit(1 << 24, int(word[1:], 16) if is_hex else 0):06x}" if digit == len(names) else _text_fact(tape, word)


@cache
def colour_names() -> tuple[str, ...]:
    """No colour, and the names of colours in CSS in the order of the alphabet."""
    from PIL.ImageColor import colormap

    return "", *sorted(colormap)
