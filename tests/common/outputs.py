"""Everything that the package makes of a ticket, by command and by widget; a new output is one more line here."""

from __future__ import annotations

import os
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass, replace
from io import StringIO
from pathlib import Path
from unittest.mock import patch

import tomli_w
from nbformat import v4, write

from oddswap.__main__ import main
from oddswap.commands.terminal import bar
from oddswap.describing.tickets import write_ticket
from oddswap.desk.repair_table import workbench
from oddswap.lessons.identical_twins import twin_table
from oddswap.lessons.reshaped_boxes import walk
from oddswap.lessons.tray import sliding_tray
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.widgets import Note
from oddswap.showing.viewer.widget import Viewer
from oddswap.story import ffmpeg, joining
from oddswap.story.telling.story_file import read_story
from oddswap.story.telling.timeline import timeline
from tests.common import readers
from tests.common.hostile import TICKETS, Case, graph, plan
from tests.common.readers import Reading

EVERY = tuple(TICKETS)
READERS: dict[str, Callable[[bytes], Reading]] = {
    ".md": lambda data: readers.both(readers.read_markdown(data.decode()), readers.read_myst(data.decode())),
    ".html": lambda data: readers.read_html(data.decode()),
    ".js": lambda data: readers.read_script(data.decode()),
    ".json": lambda data: readers.read_json(data.decode()),
    ".jsonl": lambda data: readers.both(*map(readers.read_json, data.decode().splitlines())),
    ".toml": lambda data: readers.read_toml(data.decode()),
    ".vtt": lambda data: readers.read_vtt(data.decode()),
    ".srt": lambda data: readers.read_srt(data.decode()),
    ".txt": lambda data: readers.read_plain(data.decode()),
    ".css": lambda data: Reading(""),
    "paths": lambda data: readers.read_paths(data.decode()),
    ".pdf": readers.read_pdf,
    ".png": readers.read_png,
    ".svg": readers.read_svg,
}
"""By the suffix of a file; a file of another suffix fails its test until there is a reader here."""


@dataclass(frozen=True)
class Command:
    """``arguments`` of the command line, of which those in capitals are filled in; what it prints is read as ``printed``."""

    arguments: str
    printed: str = ".md"
    tickets: tuple[str, ...] = EVERY


QUICK = "--only captions --only script --only prompter --only handout --only reply"
OUTPUTS = {
    "answer": Command("answer TICKET --seconds 5 --note --before BEFORE --out OUT"),
    "letters": Command("answer TICKET TICKET --seconds 4 --out OUT", tickets=("a slip",)),
    "letters as data": Command("answer TICKET TICKET --seconds 4 --json", ".jsonl", ("twins",)),
    "answer as data": Command("answer TICKET --seconds 5 --before BEFORE --json", ".json", ("twins", "half seen", "a slip")),
    "laws": Command("laws PUZZLE --out OUT", tickets=("a way in phases", "own names", "a cut")),
    "laws as data": Command("laws PUZZLE --json", ".json", ("a way in phases", "a blank")),
    "alarms": Command("alarms PUZZLE --out OUT", tickets=("twins", "a blank")),
    "alarms as data": Command("alarms PUZZLE --json", ".json", ("twins", "a blank")),
    "tools": Command("tools PUZZLE", tickets=("twins",)),
    "tools as data": Command("tools PUZZLE --json", ".json", ("twins",)),
    "check": Command("check TICKET _a_", tickets=("twins", "a way in phases")),
    "check as data": Command("check TICKET _a_ --json", ".json", ("twins",)),
    "place lost": Command("check TICKET b --now TICKET", tickets=("a way in phases",)),
    "postcard": Command("postcard TICKET", ".txt"),
    "postcard as data": Command("postcard TICKET --json", ".json", ("twins",)),
    "proof": Command("proof TICKET --seconds 5", ".json", ("twins", "a way in phases")),
    "visitor": Command("visitor PUZZLE --out PAGE", "paths", ("twins", "a blank", "a cut")),
    "plan": Command("plan PUZZLE --plan PLAN --after SCRAMBLE", tickets=("a slip",)),
    "plan as data": Command("plan PUZZLE --plan PLAN --after SCRAMBLE --json", ".json", ("a slip",)),
    "story": Command(f"story TICKET --seconds 5 --out STORY {QUICK}", "paths", ("twins", "a blank", "half seen")),
    "story anew": Command("story TICKET --seconds 5 --out OUT --only script", "paths", ("a way in phases",)),
    "episode": Command("story TICKET TICKET --seconds 5 --out OUT --only captions --only script", "paths", ("twins",)),
    "stills": Command("story TICKET --seconds 5 --out STORY --only stills --width 320", "paths", ("twins",)),
    "worksheet": Command("worksheet --puzzles PUZZLE --count 1 --tables 1 --out OUT", "paths", ("a cut",)),
    "edition": Command("edition --no-reference --notebooks NOTEBOOKS --puzzles PUZZLE --out OUT", "paths", ("twins",)),
}
ELSEWHERE = {
    "ways": "a cuboid, of which no file tells",
    "read": "a ticket with a picture: see test_in_photographs.py",
    "figures": "the project's own",
    "lab": "starts another program",
}
"""Commands that show no text from a file."""


def made_by(case: Case, command: Command, folder: Path) -> dict[str, Reading]:
    """What a command prints and the files that it writes, each as its reader sees it."""
    out, arguments = folder / "out", _filled(case, command, folder)
    before = {*out.rglob("*")}
    status, said, complaint = run(arguments)
    assert status == 0, complaint
    files = {str(path.relative_to(out)): path for path in sorted(out.rglob("*")) if path.is_file() and path not in before}
    read = {name: READERS[path.suffix](path.read_bytes()) for name, path in files.items()}
    return {"what it prints": READERS[command.printed](said.encode()), **read}


def shown_by(case: Case, command: Command, folder: Path) -> Reading:
    """What a command shows on a terminal."""
    arguments = _filled(case, replace(command, arguments=command.arguments.removesuffix(" --out OUT")), folder)
    status, said, complaint = run(arguments, _Terminal)
    assert status == 0, complaint
    return readers.read_terminal(said)


def _filled(case: Case, command: Command, folder: Path) -> list[str]:
    out = folder / "out"
    fill = {
        "TICKET": lambda: case.file,
        "PUZZLE": lambda: case.puzzle,
        "PLAN": lambda: plan(case.words),
        "BEFORE": lambda: case.answer_before(folder / "before"),
        "OUT": lambda: out,
        "PAGE": lambda: out / "visitor.html",
        "STORY": lambda: case.edit_story(out),
        "NOTEBOOKS": lambda: course(case, folder),
        "SCRAMBLE": lambda: "R U F",
    }
    return [str(fill[word]()) if word in fill else word for word in command.arguments.split()]


class _Terminal(StringIO):
    def isatty(self) -> bool:
        return True


def run(arguments: list[str], stream: type[StringIO] = StringIO) -> tuple[int, str, str]:
    """The exit status, what was printed, and what was complained of."""
    wide = patch.dict(os.environ, TERM="xterm", COLUMNS="2000")
    with redirect_stdout(stream()) as out, redirect_stderr(StringIO()) as err, wide:
        status = main(arguments)
    return status, out.getvalue(), err.getvalue()


def course(case: Case, folder: Path) -> Path:
    """A folder of one lesson and one ticket."""
    found = folder / "notebooks"
    (found / "tickets").mkdir(parents=True)
    lesson = v4.new_notebook(cells=[v4.new_markdown_cell("# A question?\n\nA **law**.")])
    write(lesson, found / "01_can_two_tiles_change_places.ipynb")
    (found / "tickets" / case.file.name).write_bytes(case.file.read_bytes())
    return found


def table(case: Case) -> Reading:
    """The desk with the ticket on its sheet, after the search for a way out: HTML and Markdown on it are read as such."""
    desk = workbench([case.ticket], ["cube:2"])
    desk.wait()
    laid = dict(desk.sheet)
    markup = [laid.pop("why"), laid.pop("to_do"), laid.pop("doubts"), *(html for _, html in laid.pop("more"))]
    reply, desk.sheet = laid.pop("reply"), laid
    read = readers.both(readers.read_html("\n".join(markup)), readers.read_markdown(reply))
    return readers.both(readers.read_widget(desk), read)


def views(case: Case) -> Reading:
    """The puzzle by itself, as a viewer, and as its rich display elsewhere."""
    viewer = Viewer(case.ticket.puzzle, letters=True)
    viewer.picture = viewer.still()
    return readers.read_widget(viewer)


def refused(case: Case) -> Reading:
    """What the desk says of a ticket that it cannot open."""
    desk = workbench(puzzles=["cube:2"])
    desk.hear({"act": "take", "text": tomli_w.dumps({"puzzle": case.words[7]})})
    return readers.read_plain(desk.said)


def progress(case: Case) -> Reading:
    """The bar while a file is made."""
    with redirect_stderr(_Terminal()) as shown, patch.dict(os.environ, TERM="xterm", COLUMNS="200"), bar() as tell:
        tell(case.words[8], 0.5)
    return Reading(readers.read_terminal(shown.getvalue()).text)


def clip(case: Case) -> Reading:
    """What a clip says besides its pictures, which are plain here: title, chapters and captions."""
    story = read_story(case.edit_story(case.words.folder / "clip") / "story.toml")
    outline = joining.outline_of([timeline(story, case.answer, 30)])
    piece, path = case.words.folder / "piece.mp4", case.words.folder / "clip.mp4"
    ffmpeg.run(["-f", "lavfi", "-i", f"color=red:s=64x48:r=30:d={outline.frames / 30}", piece])
    return readers.read_clip(ffmpeg.program(), joining.join_pieces([(piece, outline.frames)], outline, path))


DISPLAYS: dict[str, tuple[Callable[[Case], Reading], tuple[str, ...]]] = {
    "workbench": (table, ("a cut", "a slip", "half seen", "twins", "a way in phases", "a blank", "a broken law")),
    "viewer": (views, ("a way in phases", "a blank", "a cut")),
    "table of twins": (lambda case: readers.read_widget(twin_table({case.words[0]: case.puzzle})), ("twins",)),
    "tray": (lambda case: readers.read_widget(sliding_tray(load(graph(case.words, 2)), (case.words[1], "d"))), ("a blank",)),
    "walk": (lambda case: readers.read_widget(walk(load(graph(case.words, 2)))), ("a blank",)),
    "note": (lambda case: readers.read_html(Note(case.ticket.note)._repr_html_()), ("twins",)),
    "refused at the desk": (refused, ("twins",)),
    "bar": (progress, ("twins",)),
    "clip": (clip, ("twins",)),
    "ticket": (lambda case: readers.read_plain(str(case.ticket)), ("twins",)),
    "ticket's file": (lambda case: readers.read_toml(write_ticket(case.ticket)), EVERY),
}
