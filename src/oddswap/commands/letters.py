"""Many letters at once: each is answered in a folder of its own, and one table says what there was."""

import json
import os
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import partial
from multiprocessing import get_context
from pathlib import Path

from oddswap.commands.answered import lay_out, seen_before
from oddswap.commands.terminal import bar, show
from oddswap.describing.tickets import Letter, ticket_of
from oddswap.errors import BadOption, OddswapError, complain
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import SeenBefore
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.checking.same_position import same_position
from oddswap.reasoning.ticket_answers import answer_to, noting
from oddswap.showing.pages.markdown import escaped
from oddswap.showing.pages.output_folder import open_folder
from oddswap.showing.pages.report import answer_data
from oddswap.story.clip import deaf_to_ctrl_c
from oddswap.values.position import Appearance
from oddswap.words.products.desk import COLUMNS, passed_over, said_of

LEAST = 2.0
"""Seconds that each letter has, however many there are."""
PAGE = "letters.md"


@dataclass(frozen=True)
class Answered:
    """A letter with the ``verdict`` and the plain ``data`` of its answer; or the ``error`` that it was refused with.

    ``alike`` is the first letter of the pile that shows the same position, ``before`` what was answered earlier.
    """

    name: str
    puzzle: str = ""
    verdict: str = ""
    appearance: Appearance | None = None
    data: dict | None = None
    before: tuple[SeenBefore, ...] = ()
    alike: str = ""
    mirrored: bool = False
    error: str = ""


def answer_letters(letters: list[Letter], answered: Callable[[Letter], Answered], workers: int) -> Iterator[Answered]:
    """Each letter as it is ``answered``, in their order, worked out by so many processes."""
    known: list[Answered] = []
    with ProcessPoolExecutor(workers, get_context("spawn")) as pool:
        with deaf_to_ctrl_c():
            coming = [pool.submit(answered, letter) for letter in letters]
        try:
            for one in coming:
                found = _like_another(one.result(), known)
                known.append(found)
                yield found
        finally:
            pool.shutdown(cancel_futures=True)


def _answer(letter: Letter, out: Path | None, before: Path | None, budget: Budget, note: bool, force: bool) -> Answered:
    """The letter's answer; its folder goes ``out``, and ``before`` is where earlier ones lie."""
    try:
        ticket, clock = ticket_of(letter), budget.start()
        known = () if before is None else tuple(seen_before(ticket, before, clock))
        found = answer_to(ticket, clock)
        if out is not None:
            lay_out(found, ticket, out / letter.name, clock, note=note, force=force)
        data = answer_data(noting(found, *known))
        return Answered(letter.name, ticket.puzzle.name, found.verdict, ticket.appearance, data, known)
    except OddswapError as error:
        return Answered(letter.name, error=str(error))


def _like_another(found: Answered, known: Iterable[Answered]) -> Answered:
    """The same, with the first of those that are ``known`` whose position it has, up to symmetry and colours."""
    for other in known:
        if found.puzzle and other.puzzle == found.puzzle and not other.alike:
            if (same := same_position(load(found.puzzle), found.appearance, other.appearance)) is not None:
                return replace(found, alike=other.name, mirrored=same.mirrored)
    return found


def table(answers: Iterable[Answered], strangers: list[str]) -> str:
    """The pile as a Markdown table, a letter a row."""
    rows = [[one.name, one.puzzle, one.verdict, said_of(one.alike, one.mirrored, one.before, one.error)] for one in answers]
    lines = [f"| {' | '.join(escaped(cell) for cell in row)} |" for row in rows]
    head = f"| {' | '.join(COLUMNS)} |", f"|{'---|' * len(COLUMNS)}"
    return "\n".join([*head, *lines, *passed_over([*map(escaped, strangers)]), ""])


def as_line(found: Answered) -> str:
    """The answer as one line of JSON, by ``schemas/letter.json``."""
    before = [{"ticket": one.ticket, "page": one.page} for one in found.before]
    alike = {"letter": found.alike, "mirrored": found.mirrored} if found.alike else None
    told = {"answer": found.data, "same_as": alike, "before": before, "error": found.error or None}
    return json.dumps({"letter": found.name, **told})


def answer_pile(letters: list[Letter], strangers: list[str], options) -> int | None:
    """Answer all letters of a command, print a line or a row for each, and write a table beside their folders."""
    if options.turns is not None:
        raise BadOption("--turns is for one ticket at a time: leave it out, or answer that ticket alone")
    workers = min(len(letters), os.cpu_count() or 1)
    budget = Budget(max(LEAST, options.seconds * workers / len(letters)), int(options.memory * 1e9 / workers))
    how = {name: getattr(options, name) for name in ("out", "before", "note", "force")}
    answered, answers = partial(_answer, budget=budget, **how), []
    with bar() as tell:
        for one in answer_letters(letters, answered, workers):
            answers.append(one)
            if tell is not None:
                tell(one.name, len(answers) / len(letters))
            if options.json:
                print(as_line(one), flush=True)
            if one.error:
                complain(f"{one.name}: {one.error}")
    if all(one.error for one in answers):
        return 2
    page = table(answers, strangers)
    if not options.json:
        show(page)
    if options.out is not None:
        with open_folder(options.out, options.force) as out:
            (out.making / PAGE).write_text(page, "utf-8")
            out.lay("letters", {PAGE: out.making / PAGE})
    return 2 if any(one.error for one in answers) else None
