"""Tickets that were answered before: kept beside their pages, without the visitor's note, and found again by position."""

import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from itertools import product
from pathlib import Path

from oddswap.describing.tickets import Ticket, read_ticket, write_ticket
from oddswap.errors import BadOption, OddswapError, quoted
from oddswap.reasoning.answers import Answer, SeenBefore
from oddswap.reasoning.budget import Clock, Limit, started
from oddswap.reasoning.checking.same_position import same_as_far_as_seen, same_position
from oddswap.reasoning.verdicts.diagnosis import is_ordinary
from oddswap.reasoning.verdicts.slips import likely_slips
from oddswap.showing.pages.output_folder import HOME
from oddswap.values.position import Appearance
from oddswap.values.text_file import one_line
from oddswap.words.table import reader_of

PAGES = ("answer.html", "answer.md")
KEPT = "ticket.toml"
NAMES = re.compile(r"ticket(\.new\d*)?\.toml")
"""What a kept ticket can be called: beside another one it has a name of its own."""


def lay_out(found: Answer, ticket: Ticket, folder: Path, budget: Limit, *, note: bool, force: bool) -> None:
    """Write the pages of an answer and the ticket beside them; with the visitor's ``note`` only if that is asked for."""
    from oddswap.showing.pages.folders import write_answer

    shown = ticket.note if note else ""
    write_answer(found, folder, reader_of(ticket), note=shown, ticket=kept(ticket, folder), budget=budget, force=force)


def kept(ticket: Ticket, folder: Path) -> dict[str, str]:
    """The ticket without its note, as a text by its file's name: beside the answer, so that the position is found again.

    Nothing where the ticket itself lies in that folder under that name.
    """
    if ticket.source is not None and ticket.source.resolve() == (folder / KEPT).resolve():
        return {}
    return {KEPT: write_ticket(replace(ticket, note=""))}


def seen_before(ticket: Ticket, folder: Path, budget: Limit = None) -> list[SeenBefore]:
    """The tickets below a folder that show the same position on the same puzzle, as it is or in a mirror; the surest first.

    Up to the puzzle's symmetries, the way it is held and the visitor's colours; also as far as both were seen, and if one of
    them has a likely slip, such as mirrored photographs. Files that are no tickets are passed over. `BadOption` when there is
    no such folder.
    """
    if not folder.is_dir():
        raise BadOption(f"{quoted(folder, 200)} is no folder: name the one in which answered tickets lie")
    clock = started(budget)
    meant, found, here = _meant(ticket, clock), [], ticket.source and ticket.source.resolve()
    for other in _tickets(folder):
        if other.puzzle.name == ticket.puzzle.name and other.source.resolve() != here:
            for (one, slip), (seen, other_slip) in product(meant, _meant(other, clock)):
                whole = one.complete and seen.complete or one.foreign or seen.foreign
                same = same_position(ticket.puzzle, one, seen)
                partly = None if same or whole else same_as_far_as_seen(ticket.puzzle, one, seen)
                if symmetry := same or partly:
                    name = other.source.parent.name if NAMES.fullmatch(other.source.name) else other.name
                    how = (symmetry.mirrored, _page(other.source), partly is not None, slip or other_slip)
                    found.append(SeenBefore(one_line(name), *how))
                    break
    return sorted(found, key=lambda before: (before.slipped, before.partly, before.mirrored, before.page is None))


def _meant(ticket: Ticket, clock: Clock) -> list[tuple[Appearance, bool]]:
    """What a ticket shows, and what was really there if a description that no puzzle fits had a likely slip."""
    seen = ticket.appearance
    slips = likely_slips(ticket.puzzle, seen, is_ordinary, clock.share(0.05), most=1) if seen.foreign else ()
    return [(seen, False), *((slip.appearance, True) for slip in slips)]


def _tickets(folder: Path) -> Iterator[Ticket]:
    for path in sorted(path for path in folder.rglob("*.toml") if HOME not in path.parts):
        with suppress(OddswapError):
            yield read_ticket(path)


def _page(source: Path) -> str | None:
    places = [source.parent / name for name in PAGES] if NAMES.fullmatch(source.name) else []
    places += [source.with_suffix("") / name for name in PAGES]
    return next((one_line(str(path)) for path in places if path.exists()), None)
