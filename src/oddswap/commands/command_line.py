"""The command line: ``oddswap laws | alarms | tools | answer | check | postcard | read | proof | visitor | plan | ways | story
| worksheet | edition | lab`` and ``figures``.

What answers a question (the first six, ``plan`` and ``ways``) does so as plain data too, with ``--json``.

Exit status 0 on an answer, whatever the verdict; 2, with one line on standard error, on unusable input and where what was
found cannot be printed or written; 130 when interrupted (`oddswap.commands.stopping`).
"""

import argparse
import re
import sys
from collections.abc import Callable
from pathlib import Path

from oddswap.commands import actions, course
from oddswap.commands.terminal import open_streams, print_all
from oddswap.errors import BadOption, OddswapError, complain, quoted
from oddswap.puzzles.base.puzzle_names import nearest
from oddswap.reasoning.budget import Budget

MOST = 10**9
"""The largest number of anything that an option takes."""
Option = tuple[tuple[str, ...], dict]


def option(*names: str, **how) -> Option:
    """One option, as `argparse.ArgumentParser.add_argument` takes it."""
    return names, how


def out(**how) -> tuple[Option, Option]:
    """The folder that a command writes, and leave to replace what is in the way there."""
    force = "replace there even what is yours or was changed, but no ticket"
    return option("--out", metavar="DIR", type=Path, **how), option("--force", action="store_true", help=force)


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


def _in_beat(text: str) -> tuple[int, Path, float]:
    """The number of a beat, the file for it, and from which second of it on."""
    if not (read := re.fullmatch(r"([0-9]{1,4})=(.+?)(?:@([0-9]{1,6}(?:\.[0-9]{1,3})?))?", text)):
        such = "write such as 3=take.wav or 4=hands.mp4@12.5"
        raise argparse.ArgumentTypeError(f"{quoted(text, 80)} names no beat and file: {such}")
    return int(read[1]), Path(read[2]), float(read[3] or 0)


JSON = option("--json", action="store_true", help="plain data instead of text")


def budget(seconds: int, what: str = "all that is worked out") -> tuple[Option, Option]:
    """How much time and memory a command may use, and for what."""
    said = f"processor time for {what} ({seconds})"
    return (
        option("--seconds", metavar="N", type=_positive, default=float(seconds), help=said),
        option("--memory", metavar="GB", type=_positive, default=2.0, help="memory for it (2)"),
    )


BUDGET = budget(60)
TICKET = option("ticket", metavar="TICKET", help="a ticket's file, a postcard, or - for standard input")
PUZZLE = option("puzzle", metavar="PUZZLE", help="such as cube:3 or shape-mod:prism8")
DRAWN = out(help="write it with its pictures there")

COMMANDS: dict[str, tuple] = {
    "laws": ("the laws of a puzzle, with their proof", actions.laws, PUZZLE, JSON, *DRAWN, *BUDGET),
    "alarms": ("what looks wrong on a puzzle, and whether it is", actions.alarms, PUZZLE, JSON, *DRAWN, *BUDGET),
    "tools": ("the short sequences of a puzzle, told by what they do", actions.tools, PUZZLE, JSON, *BUDGET),
    "answer": (
        "the answer to a ticket, or to many",
        actions.answer,
        option("tickets", metavar="TICKET", nargs="+", help="a ticket's file, a postcard, - for standard input; or a folder"),
        JSON,
        *out(help="write the page, its pictures and a reply there"),
        option("--note", action="store_true", help="put the ticket's note on the page to send, which leaves it out"),
        option("--before", metavar="DIR", type=Path, help="look for the same position among the tickets there"),
        option("--turns", metavar="T", help="half, box, or a list such as R2+U, instead of the ticket's turns"),
        *BUDGET,
    ),
    "check": (
        "whether a sequence does it, what would, and where you are if you lost your place",
        actions.check,
        TICKET,
        option("moves", metavar="MOVES", help='the sequence, as one word: "R U R\'"'),
        option("--now", metavar="TICKET", help="what is seen now, part way through; a few stickers do"),
        JSON,
        *BUDGET,
    ),
    "postcard": ("a ticket as one line of text, to copy, print or send", actions.postcard, TICKET, JSON),
    "read": (
        "what the photographs of a ticket show, facet by facet",
        actions.read,
        option("ticket", metavar="TICKET", help="a ticket's file that names photographs in its folder"),
        JSON,
    ),
    "proof": (
        "the proof of an answer, as a file that a small program of its own checks",
        actions.proof,
        option("ticket", metavar="TICKET", nargs="?", help="a ticket's file, a postcard, or - for standard input"),
        option("--checker", action="store_true", help="that program instead; it needs Python alone"),
        option("--out", metavar="FILE", type=Path, help="write it there, such as proof.json"),
        option("--force", action="store_true", help="replace the file even if it is yours or was changed"),
        *BUDGET,
    ),
    "visitor": (
        "a page on which a visitor says what they see, and that makes a postcard of it",
        actions.visitor,
        option("puzzle", metavar="PUZZLE", nargs="?", help="such as cube:3; left out, the visitor says which by its picture"),
        option("--out", metavar="FILE", type=Path, required=True, help="the page, such as visitor.html"),
        option("--force", action="store_true", help="replace the file even if it is yours or was changed"),
        option("--address", metavar="URL", default="", help="where you host the page: adds a code to print that opens it"),
        *BUDGET,
    ),
    "story": (
        "a ticket's answer as a clip with captions, a script, a prompter and a handout",
        actions.story,
        option("tickets", metavar="TICKET", nargs="+", help="a ticket's file, a postcard, or -; several make one episode"),
        *out(required=True, help="the folder; its story.toml can be edited"),
        option("--only", metavar="SORT", action="append", choices=actions.STORY_SORTS),
        option("--rate", type=_whole(1, 99), choices=(30, 60), default=30, help="frames a second (30)"),
        option("--width", metavar="N", type=_whole(16, 16_000), default=1920, help="pixels of a still (1920)"),
        option("--transparent", action="store_true", help="stills without a ground"),
        option("--burn-captions", action=argparse.BooleanOptionalAction, help="draw captions into the clip (if nobody speaks)"),
        option("--audience", choices=("anybody", "layers"), default="anybody", help="layers: for those who solve in layers"),
        option("--paper", choices=("A4", "Letter"), default="A4", help="for the handout (A4)"),
        option("--preview", action="store_true", help="the clip alone, small and coarse, in a fraction of the time"),
        option("--voice", metavar="FILE", type=Path, action="append", default=[], help="your voice: one take, or one a beat"),
        option("--retake", metavar="BEAT=FILE", type=_in_beat, action="append", default=[], help="a new take of one beat"),
        option("--timing", metavar="FILE", type=Path, help="when you reached each step, as the prompter recorded it"),
        option("--clicks", action="store_true", help="a quiet click for each turn"),
        option("--footage", metavar="BEAT=FILE@SECOND", type=_in_beat, action="append", default=[], help="your hands in a beat"),
        *budget(600, "the answer, 60 at most, and for its files; a clip that is begun is finished"),
    ),
    "plan": (
        "the layer method carried out, with the trouble that lookalikes make",
        actions.plan,
        option("what", metavar="PUZZLE|TICKET", help="such as shape-mod:prism8, or a ticket"),
        option("--after", metavar="MOVES", help="start from the position after these moves"),
        option("--plan", metavar="FILE", type=Path, help="a plan, or sequences, of your own"),
        option("--trouble", metavar="SEED", type=_whole(-MOST, MOST), help="a scramble after which the plan meets trouble"),
        option("--length", metavar="N", type=_whole(1, 1000), default=20, help="turns of that scramble (20)"),
        JSON,
        *BUDGET,
    ),
    "ways": (
        "what leaving a box and coming back can do, and in how few turns",
        actions.ways,
        option("puzzle", metavar="PUZZLE", help="such as cuboid:2x3x4"),
        option("--depth", metavar="N", type=_whole(1, 99), default=12, help="turns of an excursion (12)"),
        JSON,
        *out(help="write it with its picture there"),
        *BUDGET,
    ),
    "worksheet": (
        "an evening ready to run: sheets, keys, envelopes, cut-outs, slides, posters, and a script",
        actions.worksheet,
        option("--level", type=_whole(0, 9), choices=(1, 2, 3), default=1, help="1 easy, 3 hard (1)"),
        option("--puzzles", metavar="PUZZLE", nargs="+", default=["cube:3", "shape-mod:prism8"], help="solids by name"),
        option("--seed", metavar="N", type=_whole(-MOST, MOST), default=1, help="the same seed, the same sheets (1)"),
        option("--people", metavar="N", type=_whole(1, 1000), help="how many come (four a table; 20)"),
        option("--tables", metavar="N", type=_whole(1, 30), help="the tables at which they sit (one for four people)"),
        option("--count", metavar="N", type=_whole(1, 100), default=2, help="different sheets of each puzzle (2)"),
        option("--paper", choices=("A4", "Letter"), default="A4", help="the paper (A4)"),
        *out(required=True, help="the folder for all of it"),
        *budget(600, "all that is worked out and drawn"),
    ),
    "edition": (
        "the whole course as pages for any browser, without Python or a network",
        actions.edition,
        *out(required=True, help="a new folder, or an earlier edition to replace; other files there stay"),
        option("--notebooks", metavar="DIR", type=Path, help="any notebooks, instead of the course's"),
        option("--puzzles", metavar="PUZZLE", nargs="+", help="those to look up, instead of the main ones"),
        option("--single", action="store_true", help="also one file, oddswap.html, to hand on"),
        option("--no-reference", action="store_true", help="leave out the reference of functions for notebooks of your own"),
    ),
    "lab": (
        "JupyterLab at the repair table; its own options, such as --no-browser, may follow",
        course.lab,
        out(help="your own copy of the course (oddswap-course, where the project's folder is not at hand)")[0],
    ),
    "figures": ("draw every picture of the figures folder again", actions.figures, *out(default=Path("figures"))),
}
"""Every command by its name, in the order of ``--help``: what that says of it, the function that does it, and its options."""


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
    words = sys.argv[1:] if arguments is None else arguments
    command = next((word for word in words if not word.startswith("-")), "")
    if command and command not in COMMANDS:
        near = nearest(command, COMMANDS)
        raise BadOption(f"there is no command {quoted(command)}: {near and f'write {near}; '}oddswap --help shows all")
    try:
        options, options.more = _parser().parse_known_args(words)
    except argparse.ArgumentError as error:
        raise BadOption(quoted(str(error), 400)[1:-1]) from None
    if options.more and options.run is not course.lab:
        more = quoted(" ".join(options.more), 400)[1:-1]
        raise BadOption(
            f"unrecognized arguments: {more}: write {options.form}, with quotes around what has spaces, or look at --help"
        )
    if "seconds" in options:
        options.clock = Budget(options.seconds, int(options.memory * 1e9)).start()
    return options.run(options) or 0


class _Parser(argparse.ArgumentParser):
    form = "such as oddswap answer ticket.toml"

    def error(self, message: str):
        raise BadOption(f"{quoted(message, 400)[1:-1]}: write {self.form}, or look at {self.prog} --help")

    def print_help(self, file=None):
        print(self.format_help(), end="", file=file)


def _parser() -> argparse.ArgumentParser:
    about = "Can this puzzle really be stuck like that, and what is a way out?"
    parser = _Parser(prog="oddswap", description=about, exit_on_error=False)
    add = parser.add_subparsers(required=True, metavar="COMMAND", parser_class=_Parser).add_parser
    for name, (words, run, *options) in COMMANDS.items():
        command = add(name, help=words, exit_on_error=False)
        actions_of_it = [command.add_argument(*names, **how) for names, how in options]
        needed = (f"{' '.join(one.option_strings)} {one.metavar}".strip() for one in actions_of_it if one.required)
        command.form = " ".join((command.prog, *needed))
        command.set_defaults(run=run, form=command.form)
    return parser
