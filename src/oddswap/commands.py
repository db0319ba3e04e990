"""What each command does with its options; an exit status comes back."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from oddswap.errors import BadOption, printable, quoted
from oddswap.terminal import bar, say, search_status

STORY_SORTS = ("clip", "captions", "script", "prompter", "handout", "reply", "stills")


def laws(options) -> int:
    from oddswap.puzzles.catalogue import load
    from oddswap.showing.law_page import laws_data, laws_markdown

    puzzle = load(options.puzzle)
    if options.out is not None:
        from oddswap.showing.pages import write_laws

        write_laws(puzzle, options.out)
    say(options.json, laws_data, laws_markdown, puzzle)
    return 0


def alarms(options) -> int:
    from oddswap.puzzles.catalogue import load
    from oddswap.showing.alarm_page import alarms_data, alarms_markdown

    puzzle = load(options.puzzle)
    if options.out is not None:
        from oddswap.showing.pages import write_alarms

        write_alarms(puzzle, options.out)
    say(options.json, alarms_data, alarms_markdown, puzzle)
    return 0


def tools(options) -> int:
    from oddswap.puzzles.catalogue import load
    from oddswap.showing.tools_page import tools_data, tools_markdown

    puzzle = load(options.puzzle)
    say(options.json, tools_data, tools_markdown, puzzle)
    return 0


def answer(options) -> int:
    from dataclasses import replace

    from oddswap.answered import keep, seen_before
    from oddswap.puzzles.catalogue import restricted
    from oddswap.reasoning.answers import answer
    from oddswap.reasoning.search import Budget
    from oddswap.showing.report import answer_data, answer_markdown
    from oddswap.tickets import read_ticket

    ticket = read_ticket(options.ticket)
    known = () if options.before is None else tuple(before.words for before in seen_before(ticket, options.before))
    puzzle = ticket.puzzle if options.turns is None else restricted(ticket.puzzle, options.turns)
    budget = Budget(options.seconds, int(options.memory * 1e9))
    with search_status() as tell:
        found = answer(puzzle, ticket.appearance, budget, tell)
    if options.out is not None:
        from oddswap.showing.pages import write_answer

        write_answer(found, options.out, ticket.colours, note=ticket.note if options.note else "")
        keep(ticket, options.out)
    found = replace(found, diagnosis=replace(found.diagnosis, notes=(*found.diagnosis.notes, *known)))
    say(options.json, answer_data, answer_markdown, found)
    return 0


def check(options) -> int:
    from oddswap.reasoning.checking import check
    from oddswap.reasoning.place_lost import place_lost
    from oddswap.reasoning.search import Budget
    from oddswap.showing.check_page import check_data, check_markdown
    from oddswap.tickets import read_ticket

    ticket, lost = read_ticket(options.ticket), None
    if options.now is not None:
        now = read_ticket(options.now)
        if now.puzzle.name != ticket.puzzle.name:
            raise BadOption(f"--now shows {now.puzzle.name} and the ticket {ticket.puzzle.name}: name the same puzzle in both")
        lost = place_lost(ticket.puzzle, ticket.appearance, options.moves, now.appearance)
    tried = check(ticket.puzzle, ticket.appearance, options.moves, Budget(options.seconds))
    say(options.json, check_data, check_markdown, ticket.puzzle, tried, lost)
    return 0


def story(options) -> int:
    from oddswap.reasoning.answers import answer
    from oddswap.reasoning.search import Budget
    from oddswap.showing.stand_ins import stand_ins
    from oddswap.showing.story_pages import Wishes, write_story_files
    from oddswap.tickets import read_ticket

    ticket = read_ticket(options.ticket)
    with search_status() as tell:
        found = answer(ticket.puzzle, ticket.appearance, Budget(options.seconds), tell)
    wishes = Wishes(options.rate, options.width, options.transparent, options.burn_captions, options.paper)
    with bar() as tell:
        made = write_story_files(found, options.out, stand_ins(ticket.colours)[0], options.only or STORY_SORTS, wishes, tell)
    print(*made.written, sep="\n")
    if made.kept:
        print(f"{len(made.kept)} files were up to date")
    for sentence in made.failed:
        print(f"oddswap: {printable(sentence)}", file=sys.stderr)
    return 2 if made.failed else 0


def plan(options) -> int:
    from oddswap.reasoning.carried_out import carry_out
    from oddswap.reasoning.plans import read_plan
    from oddswap.reasoning.trouble import trouble_scramble
    from oddswap.showing.plan_page import plan_data, plan_markdown

    plan, scramble = read_plan(options.plan), None
    puzzle, start = _start(options.what, options.after)
    if options.trouble is None:
        done = carry_out(puzzle, plan, start)
    else:
        scramble, done = trouble_scramble(puzzle, plan, options.length, options.trouble)
    say(options.json, plan_data, plan_markdown, puzzle, done, scramble)
    return 0


def ways(options) -> int:
    from oddswap.puzzles.catalogue import load
    from oddswap.reasoning.search import Budget
    from oddswap.reasoning.ways_map import ways_map
    from oddswap.showing.ways_page import ways_data, ways_markdown

    with bar() as tell:
        found = ways_map(load(options.puzzle), options.depth, Budget(options.seconds, int(options.memory * 1e9)), tell)
    if options.out is not None:
        from oddswap.showing.pages import write_ways

        write_ways(found, options.out)
    say(options.json, ways_data, ways_markdown, found)
    return 0


def worksheet(options) -> int:
    from oddswap.showing.workshop import write_workshop

    with bar() as tell:
        written = write_workshop(
            options.puzzles,
            options.level,
            options.seed,
            options.out,
            count=options.count,
            tables=options.tables,
            paper=options.paper,
            tell=tell,
        )
    print(*written, sep="\n")
    return 0


def edition(options) -> int:
    from oddswap.showing.edition import write_edition
    from oddswap.tickets import read_ticket

    notebooks = options.notebooks or course_folder("edition")
    tickets = {path.stem: read_ticket(path) for path in sorted((notebooks / "tickets").glob("*.toml"))}
    chosen = {"looked_up": options.puzzles} if options.puzzles else {}
    with bar() as tell:
        print(write_edition(notebooks, options.out, tickets, tell=tell, **chosen))
    return 0


def lab(options) -> int:
    notebook = course_folder("lab") / "00_the_repair_table.ipynb"
    from jupyterlab.labapp import main as start

    as_root = ["--allow-root"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    return start([str(notebook), *as_root, *options.more]) or 0


def figures(options) -> int:
    from oddswap.showing.figures import rebuild

    try:
        written = rebuild(options.out)
    except OSError as error:
        reason = f"{quoted(options.out, 200)} cannot be written ({error.strerror})"
        raise BadOption(f"the folder {reason}: name one that can") from None
    print(*written, sep="\n")
    return 0


def _start(what: str, after: str | None):
    """The puzzle of that name or of the ticket in that file, and an arrangement that looks as it is told."""
    from oddswap.puzzles.catalogue import load
    from oddswap.reasoning.lookalikes import first_sight
    from oddswap.tickets import read_ticket

    if not what.endswith(".toml") or ":" in what:
        puzzle = load(what)
        return puzzle, puzzle.follow(after or "")
    ticket = read_ticket(what)
    if after is not None:
        raise BadOption("a ticket tells where it starts: leave out --after, or name a puzzle")
    sighted = first_sight(ticket.puzzle, ticket.appearance) if ticket.appearance.complete else None
    if sighted is None:
        raise BadOption(f"the ticket {quoted(ticket.name)} does not show the whole puzzle: a plan must see all of it")
    return ticket.puzzle, sighted[0]


def course_folder(command: str) -> Path:
    """The folder of the course, here or beside the package's sources."""
    for folder in (Path.cwd(), *Path(__file__).resolve().parents):
        if (folder / "notebooks" / "00_the_repair_table.ipynb").exists():
            return folder / "notebooks"
    raise BadOption(f"the notebooks are not here: run oddswap {command} in the project's folder")
