"""Tickets wherever they come from: from a file, from a postcard, or from standard input."""

import sys
from collections.abc import Mapping
from pathlib import Path

from oddswap.describing.copies import read_colours
from oddswap.describing.in_photographs import reading_of
from oddswap.describing.photographs.reader import PhotographsRead
from oddswap.describing.postcards import is_postcard, read_postcard
from oddswap.describing.tickets import LARGEST, Ticket, parse_ticket, read_tables
from oddswap.errors import BadTicket
from oddswap.puzzles.catalogue import load
from oddswap.values.text_file import read_text

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
