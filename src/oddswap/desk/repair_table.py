"""The repair table's two widgets: what I see, and the workbench with its tickets."""

from collections.abc import Iterable
from pathlib import Path

from oddswap.describing.tickets import Ticket
from oddswap.desk.intake import Intake
from oddswap.desk.which_puzzle import PUZZLES
from oddswap.desk.workbench import Workbench
from oddswap.errors import BadOption


def intake(puzzles: Iterable[str] = PUZZLES, folder: Path | None = None) -> Intake:
    """*What I see*: a widget that makes tickets and opens them; files lie in ``folder``, the working folder when left out.

    >>> import oddswap
    >>> oddswap.intake(["cube:2"])
    What I see: cube of 2 slabs. Everything is told.
    """
    return Intake(puzzles, folder or Path.cwd())


def workbench(tickets: Iterable[Ticket], puzzles: Iterable[str] = PUZZLES) -> Workbench:
    r"""The repair table's workbench with these tickets on it. `BadOption` for none at all.

    >>> import oddswap
    >>> ticket = oddswap.parse_ticket("puzzle = 'loop:6,window=4'\nchanges = ['swap 1 2']")
    >>> oddswap.workbench([ticket])
    The workbench: 1 tickets; on the table is 'ticket'.
    It is a loop of 6 beads with a window on 4 of them. Verdict: ordinary.
    """
    found = list(tickets)
    if not found:
        raise BadOption("there is no ticket to lay on the table: put some into the folder tickets")
    return Workbench(found, intake(dict.fromkeys([found[0].puzzle.name, *puzzles])), puzzles)
