"""The command line: ``oddswap laws | alarms | tools | answer | check | plan | ways | story | worksheet | edition | lab``
and ``figures``.

What answers a question (the first four, ``check``, ``plan`` and ``ways``) does so as plain data too, with ``--json``.

Exit status 0 on an answer, whatever the verdict; 2, with one line on standard error, on unusable input and where what was
found cannot be printed or written; 130 when interrupted (`oddswap.commands.stopping`).
"""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable
from pathlib import Path

from oddswap.commands import actions as commands
from oddswap.commands.terminal import open_streams, print_all
from oddswap.errors import OddswapError, complain, quoted

MOST = 10**9
"""The largest number of anything that an option takes."""


def run(arguments: list[str] | None = None) -> int:
    """Do what the arguments say; returns the exit status."""
    open_streams()
    try:
        with print_all():
            return _run(arguments)
    except OddswapError as error:
        complain(str(error))
    except BrokenPipeError:
        return 0
    except MemoryError:
        complain("there is not enough memory: give --memory less, or name a smaller puzzle")
    except OSError as error:
        complain(f"{quoted(error.filename, 200)} cannot be read or written ({error.strerror}): name one that can")
    return 2


def _run(arguments: list[str] | None) -> int:
    parser = _parser()
    options, options.more = parser.parse_known_args(arguments)
    if options.more and not getattr(options, "hands_on", False):
        parser.error(f"unrecognized arguments: {' '.join(options.more)}")
    return options.run(options)


class _Parser(argparse.ArgumentParser):
    def error(self, message: str):
        complain(quoted(message, 400)[1:-1])
        self.exit(2)

    def print_help(self, file=None):
        print(self.format_help(), end="", file=file)


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="oddswap", description="Can this puzzle really be stuck like that, and what is a way out?")
    add = parser.add_subparsers(required=True, metavar="COMMAND", parser_class=_Parser).add_parser
    for name, run, words in (
        ("laws", commands.laws, "the laws of a puzzle, with their proof"),
        ("alarms", commands.alarms, "what looks wrong on a puzzle, and whether it is"),
    ):
        command = add(name, help=words)
        command.add_argument("puzzle", metavar="PUZZLE", help="such as cube:3 or shape-mod:prism8")
        command.add_argument("--json", action="store_true", help="plain data instead of text")
        _add_out(command, help="write it with its pictures there")
        command.set_defaults(run=run)
    tools = add("tools", help="the short sequences of a puzzle, told by what they do")
    tools.add_argument("puzzle", metavar="PUZZLE", help="such as cube:3 or cuboid:2x3x4")
    tools.add_argument("--json", action="store_true", help="plain data instead of text")
    tools.set_defaults(run=commands.tools)
    answer = add("answer", help="the answer to a ticket")
    answer.add_argument("ticket", metavar="TICKET", type=Path)
    answer.add_argument("--json", action="store_true", help="plain data instead of text")
    _add_out(answer, help="write the page, its pictures and a reply there")
    answer.add_argument("--note", action="store_true", help="put the ticket's note on the page to send, which leaves it out")
    answer.add_argument("--before", metavar="DIR", type=Path, help="look for the same position among the tickets there")
    answer.add_argument("--turns", metavar="T", help="half, box, or a list such as R2+U, instead of the ticket's turns")
    answer.add_argument("--seconds", metavar="N", type=_positive, default=60.0, help="time for the search (60)")
    answer.add_argument("--memory", metavar="GB", type=_positive, default=2.0, help="memory for the search (2)")
    answer.set_defaults(run=commands.answer)
    tried = add("check", help="whether a sequence does it, what would, and where you are if you lost your place")
    tried.add_argument("ticket", metavar="TICKET", type=Path)
    tried.add_argument("moves", metavar="MOVES", help="the sequence, as one word: \"R U R'\"")
    tried.add_argument("--now", metavar="TICKET", type=Path, help="what is seen now, part way through; a few stickers do")
    tried.add_argument("--json", action="store_true", help="plain data instead of text")
    tried.add_argument("--seconds", metavar="N", type=_positive, default=10.0, help="time for the best way to compare with (10)")
    tried.set_defaults(run=commands.check)
    story = add("story", help="a ticket's answer as a clip with captions, a script, a prompter and a handout")
    story.add_argument("ticket", metavar="TICKET", type=Path)
    _add_out(story, required=True, help="the folder; its story.toml can be edited")
    story.add_argument("--only", metavar="SORT", action="append", choices=commands.STORY_SORTS)
    story.add_argument("--rate", type=_whole(1, 99), choices=(30, 60), default=30, help="frames a second (30)")
    story.add_argument("--width", metavar="N", type=_whole(16, 16_000), default=1920, help="pixels of a still (1920)")
    story.add_argument("--transparent", action="store_true", help="stills without a ground")
    story.add_argument("--burn-captions", action="store_true", help="draw the captions into the clip")
    story.add_argument("--paper", choices=("A4", "Letter"), default="A4", help="for the handout (A4)")
    story.add_argument("--seconds", metavar="N", type=_positive, default=60.0, help="time for the search (60)")
    story.set_defaults(run=commands.story)
    plan = add("plan", help="the layer method carried out, with the trouble that lookalikes make")
    plan.add_argument("what", metavar="PUZZLE|TICKET", help="such as shape-mod:prism8, or a ticket's file")
    plan.add_argument("--after", metavar="MOVES", help="start from the position after these moves")
    plan.add_argument("--plan", metavar="FILE", type=Path, help="a plan, or sequences, of your own")
    plan.add_argument("--trouble", metavar="SEED", type=_whole(-MOST, MOST), help="a scramble after which the plan meets trouble")
    plan.add_argument("--length", metavar="N", type=_whole(1, 1000), default=20, help="turns of that scramble (20)")
    plan.add_argument("--json", action="store_true", help="plain data instead of text")
    plan.set_defaults(run=commands.plan)
    ways = add("ways", help="what leaving a box and coming back can do, and in how few turns")
    ways.add_argument("puzzle", metavar="PUZZLE", help="such as cuboid:2x3x4")
    ways.add_argument("--depth", metavar="N", type=_whole(1, 99), default=12, help="turns of an excursion (12)")
    ways.add_argument("--json", action="store_true", help="plain data instead of text")
    _add_out(ways, help="write it with its picture there")
    ways.add_argument("--seconds", metavar="N", type=_positive, default=60.0, help="time for the search (60)")
    ways.add_argument("--memory", metavar="GB", type=_positive, default=2.0, help="memory for the search (2)")
    ways.set_defaults(run=commands.ways)
    sheets = add("worksheet", help="an evening ready to run: sheets, keys, envelopes, cut-outs, a guide, posters")
    sheets.add_argument("--level", type=_whole(0, 9), choices=(1, 2, 3), default=1, help="1 easy, 3 hard (1)")
    sheets.add_argument("--puzzles", metavar="PUZZLE", nargs="+", default=["cube:3", "shape-mod:prism8"], help="solids by name")
    sheets.add_argument("--seed", metavar="N", type=_whole(-MOST, MOST), default=1, help="the same seed, the same sheets (1)")
    sheets.add_argument("--count", metavar="N", type=_whole(1, 100), default=6, help="sheets of each puzzle (6)")
    sheets.add_argument("--tables", metavar="N", type=_whole(1, 30), default=5, help="envelopes (5)")
    sheets.add_argument("--paper", choices=("A4", "Letter"), default="A4", help="the paper (A4)")
    _add_out(sheets, required=True, help="the folder for all of it")
    sheets.set_defaults(run=commands.worksheet)
    edition = add("edition", help="the whole course as pages for any browser, without Python or a network")
    _add_out(edition, required=True, help="a new folder, or an earlier edition to replace; other files there stay")
    edition.add_argument("--notebooks", metavar="DIR", type=Path, help="the notebooks, instead of the course's")
    edition.add_argument("--puzzles", metavar="PUZZLE", nargs="+", help="those to look up, instead of the main ones")
    edition.set_defaults(run=commands.edition)
    lab = add("lab", help="JupyterLab at the repair table; its own options, such as --no-browser, may follow")
    lab.set_defaults(run=commands.lab, hands_on=True)
    figures = add("figures", help="draw every picture of the figures folder again")
    _add_out(figures, default=Path("figures"))
    figures.set_defaults(run=commands.figures)
    return parser


def _add_out(command: argparse.ArgumentParser, **more) -> None:
    command.add_argument("--out", metavar="DIR", type=Path, **more)
    command.add_argument("--force", action="store_true", help="replace there even what is yours or was changed, but no ticket")


def _positive(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = 0.0
    if not 0 < value < MOST:
        raise argparse.ArgumentTypeError(f"{quoted(text)} is not a number above zero and below {MOST}")
    return value


def _whole(low: int, high: int) -> Callable[[str], int]:
    """What reads a whole number from ``low`` to ``high``."""

    def read(text: str) -> int:
        if not re.fullmatch("-?[0-9]{1,12}", text) or not low <= int(text) <= high:
            raise argparse.ArgumentTypeError(f"{quoted(text)} is not a whole number from {low} to {high}")
        return int(text)

    return read
