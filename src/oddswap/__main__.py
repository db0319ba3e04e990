"""The command line: ``oddswap laws | alarms | tools | answer | check | plan | story | worksheet | lab | figures``.

What answers a question (the first four, ``check`` and ``plan``) does so as plain data too, with ``--json``.

Exit status 0 on an answer, whatever the verdict; 2 on unusable input, with one line on standard error.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
from contextlib import contextmanager
from pathlib import Path

from oddswap.errors import BadOption, OddswapError, printable, quoted

STORY_SORTS = ("clip", "captions", "script", "prompter", "handout", "reply", "stills")


def main(arguments: list[str] | None = None) -> int:
    """Run the command line; returns the exit status."""
    parser = _parser()
    options, options.more = parser.parse_known_args(arguments)
    if options.more and not getattr(options, "hands_on", False):
        parser.error(f"unrecognized arguments: {' '.join(options.more)}")
    try:
        return options.run(options)
    except OddswapError as error:
        print(f"oddswap: {printable(str(error))}", file=sys.stderr)
        return 2
    except BrokenPipeError:
        return 0


class _Parser(argparse.ArgumentParser):
    def error(self, message: str):
        self.exit(2, f"oddswap: {printable(message)}\n")


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="oddswap", description="Can this puzzle really be stuck like that, and what is a way out?")
    commands = parser.add_subparsers(required=True, metavar="COMMAND", parser_class=_Parser)
    for name, run, words in (
        ("laws", _laws, "the laws of a puzzle, with their proof"),
        ("alarms", _alarms, "what looks wrong on a puzzle, and whether it is"),
    ):
        command = commands.add_parser(name, help=words)
        command.add_argument("puzzle", metavar="PUZZLE", help="such as cube:3 or shape-mod:prism8")
        command.add_argument("--json", action="store_true", help="plain data instead of text")
        command.add_argument("--out", metavar="DIR", type=Path, help="write it with its pictures there")
        command.set_defaults(run=run)
    tools = commands.add_parser("tools", help="the short sequences of a puzzle, told by what they do")
    tools.add_argument("puzzle", metavar="PUZZLE", help="such as cube:3 or cuboid:2x3x4")
    tools.add_argument("--json", action="store_true", help="plain data instead of text")
    tools.set_defaults(run=_tools)
    answer = commands.add_parser("answer", help="the answer to a ticket")
    answer.add_argument("ticket", metavar="TICKET", type=Path)
    answer.add_argument("--json", action="store_true", help="plain data instead of text")
    answer.add_argument("--out", metavar="DIR", type=Path, help="write the page, its pictures and a reply there")
    answer.add_argument("--note", action="store_true", help="put the ticket's note on the page to send, which leaves it out")
    answer.add_argument("--before", metavar="DIR", type=Path, help="look for the same position among the tickets there")
    answer.add_argument("--turns", metavar="T", help="half, box, or a list such as R2+U, instead of the ticket's turns")
    answer.add_argument("--seconds", metavar="N", type=_positive, default=60.0, help="time for the search (60)")
    answer.add_argument("--memory", metavar="GB", type=_positive, default=2.0, help="memory for the search (2)")
    answer.set_defaults(run=_answer)
    tried = commands.add_parser("check", help="whether a sequence does it, what would, and where you are if you lost your place")
    tried.add_argument("ticket", metavar="TICKET", type=Path)
    tried.add_argument("moves", metavar="MOVES", help="the sequence, as one word: \"R U R'\"")
    tried.add_argument("--now", metavar="TICKET", type=Path, help="what is seen now, part way through; a few stickers do")
    tried.add_argument("--json", action="store_true", help="plain data instead of text")
    tried.add_argument("--seconds", metavar="N", type=_positive, default=10.0, help="time for the best way to compare with (10)")
    tried.set_defaults(run=_check)
    story = commands.add_parser("story", help="a ticket's answer as a clip with captions, a script, a prompter and a handout")
    story.add_argument("ticket", metavar="TICKET", type=Path)
    story.add_argument("--out", metavar="DIR", type=Path, required=True, help="the folder; its story.toml can be edited")
    story.add_argument("--only", metavar="SORT", action="append", choices=STORY_SORTS, help=" | ".join(STORY_SORTS))
    story.add_argument("--rate", type=int, choices=(30, 60), default=30, help="frames a second (30)")
    story.add_argument("--width", metavar="N", type=_pixels, default=1920, help="pixels of a still (1920)")
    story.add_argument("--transparent", action="store_true", help="stills without a ground")
    story.add_argument("--burn-captions", action="store_true", help="draw the captions into the clip")
    story.add_argument("--paper", choices=("A4", "Letter"), default="A4", help="for the handout (A4)")
    story.add_argument("--seconds", metavar="N", type=_positive, default=60.0, help="time for the search (60)")
    story.set_defaults(run=_story)
    plan = commands.add_parser("plan", help="the layer method carried out, with the trouble that lookalikes make")
    plan.add_argument("what", metavar="PUZZLE|TICKET", help="such as shape-mod:prism8, or a ticket's file")
    plan.add_argument("--after", metavar="MOVES", help="start from the position after these moves")
    plan.add_argument("--plan", metavar="FILE", type=Path, help="a plan, or sequences, of your own")
    plan.add_argument("--trouble", metavar="SEED", type=int, help="draw a scramble after which the plan meets trouble")
    plan.add_argument("--length", metavar="N", type=int, default=20, help="turns of that scramble (20)")
    plan.add_argument("--json", action="store_true", help="plain data instead of text")
    plan.set_defaults(run=_plan)
    sheets = commands.add_parser("worksheet", help="an evening ready to run: sheets, keys, envelopes, cut-outs, a guide, posters")
    sheets.add_argument("--level", type=int, choices=(1, 2, 3), default=1, help="1 easy, 3 hard (1)")
    sheets.add_argument("--puzzles", metavar="PUZZLE", nargs="+", default=["cube:3", "shape-mod:prism8"], help="solids by name")
    sheets.add_argument("--seed", metavar="N", type=int, default=1, help="the same seed gives the same sheets (1)")
    sheets.add_argument("--count", metavar="N", type=int, default=6, help="sheets of each puzzle (6)")
    sheets.add_argument("--tables", metavar="N", type=int, default=5, help="envelopes (5)")
    sheets.add_argument("--paper", choices=("A4", "Letter"), default="A4", help="the paper (A4)")
    sheets.add_argument("--out", metavar="DIR", type=Path, required=True, help="the folder for all of it")
    sheets.set_defaults(run=_worksheet)
    edition = commands.add_parser("edition", help="the whole course as pages for any browser, without Python or a network")
    edition.add_argument("--out", metavar="DIR", type=Path, required=True, help="a new folder, or an earlier edition to replace")
    edition.add_argument("--notebooks", metavar="DIR", type=Path, help="the notebooks, instead of the course's")
    edition.add_argument("--puzzles", metavar="PUZZLE", nargs="+", help="those to look up, instead of the main ones")
    edition.set_defaults(run=_edition)
    lab = commands.add_parser("lab", help="JupyterLab at the repair table; its own options, such as --no-browser, may follow")
    lab.set_defaults(run=_lab, hands_on=True)
    figures = commands.add_parser("figures", help="draw every picture of the figures folder again")
    figures.add_argument("--out", metavar="DIR", type=Path, default=Path("figures"))
    figures.set_defaults(run=_figures)
    return parser


def _positive(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = 0.0
    if not 0 < value < float("inf"):
        raise argparse.ArgumentTypeError(f"{quoted(text)} is not a number above zero")
    return value


def _pixels(text: str) -> int:
    if not text.isdecimal() or not 16 <= int(text) <= 16_000:
        raise argparse.ArgumentTypeError(f"{quoted(text)} is no width: give a whole number of pixels from 16 to 16000")
    return int(text)


def _laws(options) -> int:
    from oddswap.puzzles.catalogue import load
    from oddswap.showing.law_page import laws_data, laws_markdown

    puzzle = load(options.puzzle)
    if options.out is not None:
        from oddswap.showing.pages import write_laws

        write_laws(puzzle, options.out)
    _say(json.dumps(laws_data(puzzle), indent=2) if options.json else laws_markdown(puzzle), options.json)
    return 0


def _alarms(options) -> int:
    from oddswap.puzzles.catalogue import load
    from oddswap.showing.alarm_page import alarms_data, alarms_markdown

    puzzle = load(options.puzzle)
    if options.out is not None:
        from oddswap.showing.pages import write_alarms

        write_alarms(puzzle, options.out)
    _say(json.dumps(alarms_data(puzzle), indent=2) if options.json else alarms_markdown(puzzle), options.json)
    return 0


def _tools(options) -> int:
    from oddswap.puzzles.catalogue import load
    from oddswap.showing.tools_page import tools_data, tools_markdown

    puzzle = load(options.puzzle)
    _say(json.dumps(tools_data(puzzle), indent=2) if options.json else tools_markdown(puzzle), options.json)
    return 0


def _answer(options) -> int:
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
    with _progress() as tell:
        found = answer(puzzle, ticket.appearance, budget, tell)
    if options.out is not None:
        from oddswap.showing.pages import write_answer

        write_answer(found, options.out, ticket.colours, note=ticket.note if options.note else "")
        keep(ticket, options.out)
    found = replace(found, diagnosis=replace(found.diagnosis, notes=(*found.diagnosis.notes, *known)))
    _say(json.dumps(answer_data(found), indent=2) if options.json else answer_markdown(found), options.json)
    return 0


def _check(options) -> int:
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
    said = json.dumps(check_data(ticket.puzzle, tried, lost), indent=2) if options.json else None
    _say(said or check_markdown(ticket.puzzle, tried, lost), options.json)
    return 0


def _story(options) -> int:
    from oddswap.reasoning.answers import answer
    from oddswap.reasoning.search import Budget
    from oddswap.showing.story_pages import Wishes, write_story_files
    from oddswap.tickets import read_ticket

    ticket = read_ticket(options.ticket)
    with _progress() as tell:
        found = answer(ticket.puzzle, ticket.appearance, Budget(options.seconds), tell)
    wishes = Wishes(options.rate, options.width, options.transparent, options.burn_captions, options.paper)
    with _bar() as tell:
        made = write_story_files(found, options.out, ticket.colours, options.only or STORY_SORTS, wishes, tell)
    print(*made.written, sep="\n")
    if made.kept:
        print(f"{len(made.kept)} files were up to date")
    for sentence in made.failed:
        print(f"oddswap: {printable(sentence)}", file=sys.stderr)
    return 2 if made.failed else 0


def _plan(options) -> int:
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
    said = json.dumps(plan_data(puzzle, done, scramble), indent=2) if options.json else plan_markdown(puzzle, done, scramble)
    _say(said, options.json)
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


def _worksheet(options) -> int:
    from oddswap.showing.workshop import write_workshop

    with _bar() as tell:
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


@contextmanager
def _bar():
    """A bar on the terminal for files that are being made; ``None`` where nobody would see it."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("", total=1.0)
        yield lambda name, done: bar.update(task, description=name, completed=done)


@contextmanager
def _progress():
    """A line on the terminal that tells how far a long search is; ``None`` where nobody would see it."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console

    with Console(stderr=True).status("looking for a way out") as status:
        yield lambda bound, states, seconds: status.update(
            f"no way is shorter than {bound} turns so far; {states:,} states, {seconds:.0f} s"
        )


def _say(text: str, plain: bool) -> None:
    if plain or not sys.stdout.isatty():
        print(text.rstrip())
        return
    from rich.console import Console
    from rich.markdown import Markdown

    Console().print(Markdown(text))


def _edition(options) -> int:
    from oddswap.showing.edition import write_edition
    from oddswap.tickets import read_ticket

    notebooks = options.notebooks or _notebooks("edition")
    tickets = {path.stem: read_ticket(path) for path in sorted((notebooks / "tickets").glob("*.toml"))}
    chosen = {"looked_up": options.puzzles} if options.puzzles else {}
    with _bar() as tell:
        print(write_edition(notebooks, options.out, tickets, tell=tell, **chosen))
    return 0


def _lab(options) -> int:
    notebook = _notebooks("lab") / "00_the_repair_table.ipynb"
    from jupyterlab.labapp import main as lab

    as_root = ["--allow-root"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    return lab([str(notebook), *as_root, *options.more]) or 0


def _notebooks(command: str) -> Path:
    """The folder of the course, here or beside the package's sources."""
    for folder in (Path.cwd(), *Path(__file__).resolve().parents):
        if (folder / "notebooks" / "00_the_repair_table.ipynb").exists():
            return folder / "notebooks"
    raise BadOption(f"the notebooks are not here: run oddswap {command} in the project's folder")


def _figures(options) -> int:
    from oddswap.showing.figures import rebuild

    try:
        written = rebuild(options.out)
    except OSError as error:
        reason = f"{quoted(options.out, 200)} cannot be written ({error.strerror})"
        raise BadOption(f"the folder {reason}: name one that can") from None
    print(*written, sep="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
