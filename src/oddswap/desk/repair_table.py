"""The door of the repair table: the desk, with its letters at the edge of its sheet."""

import tomllib
from collections.abc import Iterable, Sequence
from contextlib import suppress
from pathlib import Path

from oddswap.describing.ticket import Ticket
from oddswap.describing.tickets import letters_from
from oddswap.desk.workbench import Workbench
from oddswap.errors import BadTicket
from oddswap.puzzles.catalogue import load
from oddswap.words.products.desk import SAYS

SHELF = tomllib.loads(Path(__file__).with_name("shelf.toml").read_text("utf-8"))
"""Names of puzzles, and of the solids that can be around one mechanism."""


def _around(plain: str, option: str) -> list[str]:
    """One mechanism in its own solid and in others."""
    named = (f"shape-mod:{solid}{option}".replace("60,slabs=5", "60,cut=0.54/0.18,slabs=5") for solid in SHELF["outsides"])
    return [plain, *named]  # five layers lie further in where a corner stands on top


SIZES = {2: ",slabs=2", 3: "", 4: ",slabs=4", 5: ",slabs=5"}
ACROSS = [[f"cube:{number}", "", SAYS.outside, _around(f"cube:{number}", option)] for number, option in SIZES.items()]
SHELVES = (
    ["shape-mod:prism8,slabs=4", SAYS.layers, SAYS.how_many, ACROSS],
    ["shape-mod:prism8,mechanism=corner-cube", SAYS.corners, SAYS.outside, _around("corner-cube", ",mechanism=corner-cube")],
)
"""Cards that open further cards: the puzzle on the picture, words in place of its title, what is asked then, and the cards."""
PUZZLES = (SHELF["puzzles"][0], *SHELVES, *SHELF["puzzles"][1:])


def workbench(tickets: Iterable[Ticket] = (), puzzles: Sequence[str | list] = PUZZLES, folder: Path | None = None) -> Workbench:
    r"""The repair table's desk with these tickets as its pile of letters, and these puzzles to choose from by their pictures.

    Tickets that are saved lie in ``folder``, the working folder when left out.

    >>> import oddswap
    >>> ticket = oddswap.parse_ticket("puzzle = 'loop:6,window=4'\nchanges = ['swap 1 2']")
    >>> oddswap.workbench([ticket])
    The workbench: 1 ticket; on the table is 'ticket'.
    Puzzle: loop of 6 beads with a window on 4 of them. Verdict: ordinary.
    """
    for name in () if puzzles is PUZZLES else _named(puzzles) or [""]:
        load(name)
    return Workbench(tickets, puzzles, folder or Path.cwd())


def _named(cards: Sequence[str | list]) -> list[str]:
    """The puzzles on cards and on those that these open."""
    return [name for card in cards for name in ([card] if isinstance(card, str) else [card[0], *_named(*card[3:] or [()])])]


def desk(folder: Path, lessons: str) -> Workbench:
    """The desk on a page of its own: the letters are those of the ``folder``, and ``lessons`` is where the course is."""
    letters = []
    if folder.is_dir():
        with suppress(BadTicket):
            letters, _ = letters_from([str(folder)])
    return Workbench(letters, PUZZLES, folder, lessons)
