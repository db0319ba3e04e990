"""Letters: the tickets and postcards that somebody names one by one, as a folder, or as lines on standard input."""

import sys
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import count
from pathlib import Path

from oddswap.describing.postcards import is_postcard
from oddswap.describing.reading import STANDARD_INPUT, read_ticket, ticket_in
from oddswap.describing.ticket import Ticket
from oddswap.describing.tickets import LARGEST
from oddswap.errors import BadTicket
from oddswap.values.text import one_line

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
