"""Tickets wherever they come from: files, postcards, standard input; one, or letters by the pile as somebody names them."""

import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import count
from pathlib import Path

from oddswap.describing.in_photographs import reading_of
from oddswap.describing.photographs.reader import PhotographsRead
from oddswap.describing.postcards import is_postcard, read_postcard
from oddswap.describing.ticket import Ticket, read_colours
from oddswap.describing.tickets import LARGEST, parse_ticket, read_tables
from oddswap.errors import BadTicket
from oddswap.puzzles.catalogue import load
from oddswap.values.text_file import one_line, read_text

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
    """The ticket that a text is, as a ticket's file has it or as a postcard; `source` is the file, if it stands in one."""
    if is_postcard(text):
        return read_postcard(text, source.parent if source else Path())
    return parse_ticket(text, name, source)


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

    Beside them the names of the files in the folders that are no letters. `BadTicket` where there are no letters or too many.

    >>> [letter.name for letter in letters_from(["odd1;cube:2;AAAA", "odd1;cube:3;AAAA"])[0]]
    ['postcard', 'postcard-2']
    """
    letters: dict[str, Letter] = {}
    strangers: list[str] = []
    for source in sources:
        path = Path(source)
        if is_postcard(source) or source == STANDARD_INPUT:
            found = _written(sys.stdin.read(LARGEST * 10) if source == STANDARD_INPUT else source)
        elif path.is_dir():
            files = sorted(file for file in path.iterdir() if file.is_file())
            strangers += [file.name for file in files if file.suffix not in ENDINGS]
            found = [Letter(one_line(file.stem), source=file) for file in files if file.suffix in ENDINGS]
        else:
            found = [Letter(one_line(path.stem), source=path)]
        for letter in found:
            names = (f"{letter.name}-{n}" if n > 1 else letter.name for n in count(1))
            name = next(name for name in names if name.casefold() not in letters)
            letters[name.casefold()] = replace(letter, name=name)
    if not letters:
        raise BadTicket("there are no letters: name tickets, postcards, or a folder with files that end in .toml or .txt")
    if len(letters) > MOST:
        raise BadTicket(f"these are {len(letters)} letters: name at most {MOST} at once")
    return list(letters.values()), strangers


def _written(text: str) -> list[Letter]:
    """A postcard in each line, where these are postcards; else one ticket."""
    lines = [line for line in text.splitlines() if line.strip()]
    return [Letter("postcard", line) for line in lines] if all(map(is_postcard, lines)) else [Letter("ticket", text)]
