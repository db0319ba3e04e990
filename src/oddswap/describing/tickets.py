"""Tickets: files that tell which puzzle somebody has and what is seen of it (TOML).

::

    puzzle = "cube:3"
    note = "for the explainer only"

    [colours]                       # the visitor's own words, for any facets
    U = "ivory"

One description, in one of four ways:

- ``after = "R U"`` and ``changes = ["flip UF"]``: turns from solved, then changes by hand (`oddswap.describing.changes`).
- ``[seen.U]`` with ``rows = ["ivory U red|orange", …]`` for each face that was seen: U with B at the top, D with F,
  the others with U. A sticker is a colour, a facet's own letter, several with ``|``, or ``?``; a row may be a list.
- ``[slots]`` with ``UF = "UR flipped"`` for each slot (`oddswap.describing.sights`). Beside ``[seen]`` it tells what
  colours do not, such as the turns of marked centres; it then names slots as the puzzle names them.

- ``[[photograph]]`` with a ``file`` and ``corners`` (`oddswap.describing.in_photographs`); it fills what ``[seen]`` leaves out.

``[notation]`` says how turns are written: ``reverse = ["i"]`` which marks turn back, ``leading_number = "twice"`` or ``"slab"``
what ``2R`` means. Words are read, too: ``after = "front clockwise, right side half round"``.

``held`` says how the visitor holds it, such as ``"gold up, teal in front"``, by the colours in the middle of two sides of the
solved puzzle: they turn ``after`` so, and the reply is for that holding. Rows of ``[seen]`` show it themselves; ``changes`` and
``[slots]`` name slots as the puzzle does.
``turns`` are those that the question allows: ``"half"``, ``"all"`` or ``["R2", "U"]``, as in the puzzle's name; if left out,
all that keep the outline.
``copy`` are those that the visitor's copy makes at all, said likewise: no answer asks for another one.
``[[then]]`` is what the visitor wrote later: what they did, and what it looks like now (`oddswap.describing.seen`).
``[mine]`` is the explainer's own copy, for the set-up and for filming: its ``colours``, its ``turns``, and how it is ``held``
when it is solved, such as ``"gold up, teal in front"``. The reply never uses it.
``elsewhere`` says of what is not mentioned that it is ``"in place"`` (it looks solved) or may have been ``"turned"`` (it was
not seen). Left out it means "turned" beside ``[seen]``, else "in place".
"""

import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import count
from pathlib import Path

import tomli_w

from oddswap.describing.habits import read_habits, refuse_others, write_habits
from oddswap.describing.in_photographs import reading_of
from oddswap.describing.photographs.reader import PhotographsRead
from oddswap.describing.postcards import is_postcard, postcards_in, read_postcard
from oddswap.describing.seen import read_look, read_thread, write_look, write_thread
from oddswap.describing.ticket import (
    EVERY,
    HELD_LIKE,
    IN_PLACE,
    TURNED,
    Ticket,
    read_colours,
    read_own_copy,
    refuse_wider,
    turns_option,
    write_own_copy,
    write_turns,
)
from oddswap.errors import BadTicket
from oddswap.forwards import fetched
from oddswap.puzzles.catalogue import load, restricted, with_turns_out_of_the_box
from oddswap.values.text_file import one_line, parse_toml, read_text, refusal, refuse_unseen

filled_in = fetched("describing.in_photographs:filled_in")

LARGEST = 64_000
SEEN = {
    "after": (str, "a text such as 'R U2'"),
    "changes": (list, "a list such as ['flip UF']"),
    "seen": (dict, "tables [seen.U], [seen.F] …"),
    "slots": (dict, "lines such as UF = 'UR flipped' below [slots]"),
    "elsewhere": (str, f"the text '{IN_PLACE}' or the text '{TURNED}'"),
    "held": (str, f"a text such as '{HELD_LIKE}'"),
}
PHOTOGRAPH = {"photograph": (list, "tables [[photograph]] with file and corners")}
KEYS = {
    "puzzle": (str, "a text such as 'cube:3'"),
    "turns": ((str, list), "the text 'all' or 'half', or a list such as ['R2', 'U']"),
    **SEEN,
    **PHOTOGRAPH,
    "colours": (dict, "lines such as U = 'white' below [colours]"),
    "copy": ((str, list), "the text 'all' or 'half', or a list such as ['R2', 'U']"),
    "notation": (dict, "lines such as leading_number = 'slab' below [notation]"),
    "mine": (dict, "lines such as turns = 'half' below [mine]"),
    "note": (str, "a text"),
    "then": (list, "tables [[then]] with did, or what is seen now"),
}


def parse_ticket(text: str, name: str = "ticket", source: Path | None = None) -> Ticket:
    r"""The ticket in a text. An `OddswapError` says what is wrong, where, and what would be right.

    >>> ticket = parse_ticket('puzzle = "shape-mod:prism8"\nchanges = ["flip UF"]')
    >>> ticket.appearance.uncertain, ticket.elsewhere
    ((), 'in place')
    """
    data = read_tables(text)
    copy = turns_option("copy", data.get("copy", EVERY))
    unsaid = EVERY if "turns=" in data["puzzle"] else data.get("copy", EVERY)
    turns = turns_option("turns", data.get("turns", unsaid))
    puzzle = load(data["puzzle"].strip() + (turns and f",turns={turns}"))
    if data.get("turns") == EVERY and "turns=" not in data["puzzle"]:
        puzzle = with_turns_out_of_the_box(puzzle) or puzzle
    refuse_wider(puzzle, restricted(puzzle, copy) if copy else None)
    colours = read_colours(puzzle, data.get("colours", {}), "[colours]")
    mine = read_own_copy(puzzle, data.get("mine", {}), colours)
    habits = read_habits(data.get("notation", {}))
    if "photograph" in data:
        data = filled_in(puzzle, colours, data, source and source.parent)
    look = read_look(puzzle, colours, habits, data)
    folder = source.parent if source else Path()
    thread = read_thread(puzzle, colours, habits, data.get("then", []), look.held, SEEN, folder)
    said = colours, look.elsewhere, copy, data.get("note", ""), habits, mine, thread, look.doubt, look.otherwise, look.held
    return Ticket(name, puzzle, look.appearance, *said, source)


def read_tables(text: str) -> dict:
    """The keys of a ticket's text, each of the right type. `BadTicket`."""
    if len(text) > LARGEST:
        raise BadTicket(f"the ticket is longer than {LARGEST} bytes: a ticket needs a page at most")
    data = parse_toml(text, "the ticket", BadTicket)
    refuse_unseen({key: value for key, value in data.items() if key != "note"}, refusal(BadTicket))
    refuse_others(data, KEYS, "", "a ticket")
    if "puzzle" not in data:
        raise BadTicket("the ticket names no puzzle: add a line such as puzzle = 'cube:3'")
    return data


def write_ticket(ticket: Ticket) -> str:
    r"""The ticket as a text that reads as an equal one. The puzzle is held as it is named; comments are not kept.

    >>> print(write_ticket(parse_ticket('puzzle = "cube:3"\nchanges = ["swap UF RU", "twist UFR cw"]')), end="")
    puzzle = "cube:3"
    elsewhere = "in place"
    <BLANKLINE>
    [slots]
    UFR = "UFR twisted cw"
    UF = "UR flipped"
    UR = "UF flipped"
    """
    puzzle = ticket.puzzle
    seen = write_look(puzzle, ticket.colours, ticket.appearance, ticket.elsewhere)
    data = {"puzzle": puzzle.name, "elsewhere": seen.pop("elsewhere"), "copy": write_turns(ticket.copy), "note": ticket.note}
    data |= {"colours": dict(ticket.colours), "notation": write_habits(ticket.habits), "mine": write_own_copy(ticket.mine)}
    data |= seen | {"then": list(write_thread(puzzle, ticket.colours, ticket.thread))}
    return tomli_w.dumps({key: value for key, value in data.items() if value or key in seen})


def ticket_repr(ticket: Ticket) -> str:
    """The ticket as Python makes it again."""
    return f"parse_ticket({write_ticket(ticket)!r}, {ticket.name!r})"


STANDARD_INPUT = "-"


def read_ticket(source: str | Path) -> Ticket:
    r"""The ticket in a file, whose stem is its name; that of a postcard; or the one on standard input, for ``-``.

    `BadTicket` for a file that cannot be read, too.

    >>> from pathlib import Path
    >>> from tempfile import mkdtemp
    >>> path = Path(mkdtemp()) / "letter.toml"
    >>> _ = path.write_text("puzzle = 'cube:2'\nchanges = ['twist UFR cw']")
    >>> read_ticket(path).puzzle
    load('cube:2')
    >>> read_ticket("odd1;cube:2;AGRJNXNFYAAEH2KB").appearance == read_ticket(path).appearance
    True
    """
    if is_postcard(str(source)):
        return read_postcard(str(source))
    if str(source) == STANDARD_INPUT:
        return ticket_in(sys.stdin.read(LARGEST + 1))
    path = Path(source)
    return ticket_in(read_text(path, "the ticket", BadTicket, LARGEST), path.stem, path)


def read_pictures(source: str | Path) -> tuple[PhotographsRead, Mapping[str, str]]:
    """What the photographs of a ticket's file show, and its words for colours, which are inferred where it does not name all."""
    path = Path(source)
    data = read_tables(read_text(path, "the ticket", BadTicket, LARGEST))
    if "photograph" not in data:
        raise BadTicket("the ticket has no photograph: add [[photograph]] with file and corners")
    puzzle = load(data["puzzle"].strip())
    colours = read_colours(puzzle, data.get("colours", {}), "[colours]")
    return reading_of(puzzle, colours, data["photograph"], path.parent), colours


def names_ticket(source: str) -> bool:
    """Whether a text is one that `read_ticket` reads, and no puzzle's name."""
    return source == STANDARD_INPUT or is_postcard(source) or source.endswith(".toml") and ":" not in source


def ticket_in(text: str, name: str = "ticket", source: Path | None = None) -> Ticket:
    """The ticket that a text is, or the postcard in it, wherever it stands; `source` is the file, if it stands in one."""
    cards = postcards_in(text)
    if len(cards) > 1:
        raise BadTicket(f"there are {len(cards)} postcards in this text: give each of them alone")
    if not cards and "=" not in text:
        raise BadTicket("this is no ticket, which has a line such as puzzle = 'cube:3', and no postcard, which begins with odd1;")
    return read_postcard(cards[0], source.parent if source else Path()) if cards else parse_ticket(text, name, source)


MOST = 2000
"""So many letters are taken at once."""
ENDINGS = (".toml", ".txt")
"""Of the files in a folder that are letters."""


@dataclass(frozen=True)
class Letter:
    """What somebody sent, under a name that no other letter of the pile has: a text, or the file that it stands in."""

    name: str
    text: str = ""
    source: Path | None = None


def ticket_of(letter: Letter) -> Ticket:
    """The ticket that a letter is. An `OddswapError` says what is wrong with it."""
    ticket = ticket_in(letter.text, letter.name) if letter.source is None else read_ticket(letter.source)
    return replace(ticket, name=letter.name)


def letters_from(sources: Iterable[str]) -> tuple[list[Letter], list[str]]:
    """The letters in files, postcards, folders of both, and for ``-`` on standard input: a ticket, or a postcard in each line.

    Beside them the names of what else lies in the folders, with a slash behind those of folders. `BadTicket` where there are no
    letters or too many.

    >>> [letter.name for letter in letters_from(["odd1;cube:2;AAAA", "odd1;cube:3;AAAA"])[0]]
    ['postcard', 'postcard-2']
    """
    letters: dict[str, Letter] = {}
    strangers: list[str] = []
    for source in filter(str.strip, sources):
        path = Path(source)
        if is_postcard(source) or source == STANDARD_INPUT:
            found = _written(sys.stdin.read(LARGEST * 10) if source == STANDARD_INPUT else source)
        elif path.is_dir():
            inside = sorted(one for one in path.iterdir() if one.is_file() or one.is_dir() and not one.name.startswith("."))
            files = [one for one in inside if one.is_file() and one.suffix in ENDINGS]
            strangers += [one_line(one.name) + "/" * one.is_dir() for one in inside if one not in files]
            found = [Letter(one_line(file.stem), source=file) for file in files]
        else:
            found = [Letter(one_line(path.stem), source=path)]
        for letter in found:
            names = (f"{letter.name}-{n}" if n > 1 else letter.name for n in count(1))
            name = next(name for name in names if name.casefold() not in letters)
            letters[name.casefold()] = replace(letter, name=name)
    if not letters:
        some = "name tickets, postcards, a folder with files that end in .toml or .txt, or - and send them on standard input"
        raise BadTicket(f"there are no letters: {some}")
    if len(letters) > MOST:
        raise BadTicket(f"these are {len(letters)} letters: name at most {MOST} at once")
    return list(letters.values()), strangers


def _written(text: str) -> list[Letter]:
    """A postcard in each line, where these are postcards; else one ticket."""
    lines = [line for line in text.splitlines() if line.strip()]
    return [Letter("postcard", line) for line in lines] if all(map(is_postcard, lines)) else [Letter("ticket", text)]
