"""The repair table's widgets with tickets in their hands: what reads and writes files stays out of the pictures' layer."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from oddswap.describing.tickets import Ticket, parse_ticket, write_ticket
from oddswap.desk.intake import Intake
from oddswap.desk.which_puzzle import PUZZLES
from oddswap.desk.workbench import Workbench, check_tickets
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.appearance import Appearance


def intake(puzzles: Iterable[str] = PUZZLES, folder: Path | None = None) -> Intake:
    """*What I see*: a widget that makes tickets and opens them; files lie in ``folder``, the working folder when left out."""
    return Intake(_written, parse_ticket, puzzles, folder)


def workbench(tickets: Iterable[Ticket], puzzles: Iterable[str] = PUZZLES) -> Workbench:
    """The repair table's workbench with these tickets on it. `BadOption` for none at all."""
    found = check_tickets(tickets)
    return Workbench(found, intake(dict.fromkeys([found[0].puzzle.name, *puzzles])), puzzles)


def _written(puzzle: Puzzle, appearance: Appearance, colours: Mapping[str, str], note: str) -> str:
    text = write_ticket(Ticket("what I see", puzzle, appearance, dict(colours), note=note))
    parse_ticket(text)
    return text
