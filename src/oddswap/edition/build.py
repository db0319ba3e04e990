"""The static edition: the whole course as a folder of pages for any browser, without Python, server or network.

Pages of one file each stand in for live controls: a puzzle to turn, and the answer to a ticket step by step.
"""

import os
import re
import shutil
import subprocess
import sys
from base64 import b64encode
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from mimetypes import guess_type
from pathlib import Path
from urllib.parse import quote

from oddswap.describing.ticket import Ticket
from oddswap.edition.answering.cells import Played, exercises_script, played
from oddswap.edition.answering.program import judge_script
from oddswap.edition.look_up import LOOKED_UP, look_up_page, look_up_script, viewer_script
from oddswap.edition.pages import GLOSSARY, page_of, read_notebook
from oddswap.edition.reference import SURFACES, reference_pages
from oddswap.errors import BadOption, NoOutput, quoted
from oddswap.lessons.machinery.course import Lesson, how_the_lessons_depend, index_table, lessons
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.ticket_answers import answer_to
from oddswap.showing.ink.canvas import save
from oddswap.showing.ink.palette import coloured
from oddswap.showing.pages.folders import answer_html, printed, viewer_page, write_alarms
from oddswap.showing.pages.markdown import escaped
from oddswap.showing.pages.output_folder import open_folder
from oddswap.showing.pages.proof import proof_if_any
from oddswap.showing.pages.template import fill_template, script_data
from oddswap.showing.viewer.widget import traits_of
from oddswap.values.grammar import capital
from oddswap.words.pictures import CAPTIONS
from oddswap.words.products.notebooks import ALL_TICKETS, PLACES, TO_TRY
from oddswap.words.table import reader_of

Tell = Callable[[str, float], None]
BY = "edition"
FIRST = "index.html"
SINGLE = "oddswap.html"
CONF = "from oddswap.edition.conf import *\nhtml_context = {{'edition_places': {places!r}}}\n"


def write_edition(
    notebooks: Path,
    folder: Path,
    tickets: Mapping[str, Ticket] | None = None,
    *,
    looked_up: Sequence[str] = LOOKED_UP,
    documented: Mapping[str, str] = SURFACES,
    single: bool = False,
    tell: Tell | None = None,
    force: bool = False,
) -> Path:
    """Make the pages of all ``notebooks`` in ``folder``, with a reference of the ``documented`` modules; return the first page.

    With ``single`` they also lie in one file, to hand on, whose name is returned. Those of an earlier edition are exchanged one
    by one once all are made, so that there is an edition at any time; what else lies there stays. `BadOption` for any other
    folder that holds more than hidden files, unless with ``force``, which is as for an `OutputFolder`; for one that cannot be
    written; and for a notebook that was not executed, or that stops. `NoOutput` says at what Sphinx stops.
    """
    tell = tell or (lambda words, done: None)
    puzzles = {f"alarms/{slug(name)}/alarms": load(name) for name in looked_up}
    with open_folder(folder, force) as out:
        known = force or any(entry.by == BY for entry in out.entries.values())
        if not known and any(not path.name.startswith(".") for path in folder.iterdir()):
            what = "name a new one, or an earlier edition, or add --force"
            raise BadOption(f"the folder {quoted(folder, 200)} holds something else: {what}")
        source, made = out.making / "source", out.making / "made"
        _write_source(source, notebooks, tickets or {}, puzzles, documented, tell)
        tell("putting the pages together", 0.9)
        _run_sphinx(source, made)
        files = {path.relative_to(made).as_posix(): path for path in made.rglob("*") if path.is_file()}
        if single:
            (made / SINGLE).write_text(single_page({name: path.read_bytes() for name, path in files.items()}), "utf-8")
            files[SINGLE] = made / SINGLE
        out.lay(BY, {name: files[name] for name in sorted(files, key=lambda name: (name.endswith(".html"), name == FIRST))})
    return folder / (SINGLE if single else FIRST)


def _write_source(
    source: Path,
    notebooks: Path,
    tickets: Mapping[str, Ticket],
    puzzles: Mapping[str, Puzzle],
    documented: Mapping[str, str],
    tell: Tell,
) -> None:
    """Everything that Sphinx puts together; what it only copies lies in ``extra``."""
    extra = source / "extra"
    for name in ("pictures", "templates", "extra/viewers", "extra/tickets", "extra/_static", "extra/knobs"):
        (source / name).mkdir(parents=True)
    paths = sorted(notebooks.glob("*.ipynb"))
    names = {path.stem for path in paths}
    course = [_within(lesson, names) for lesson in lessons() if lesson.name in names]
    if not names:
        raise BadOption(f"there are no notebooks in {quoted(notebooks, 200)}: name a folder with some, such as the course's")
    order = [lesson.name for lesson in course]
    order += sorted(names - set(order))
    for number, path in enumerate(paths):
        tell(path.stem, 0.3 * number / len(paths))
        live, play = played(read_notebook(path).cells, path.parent), controls_replaced(path, tickets, extra / "viewers")
        text, pictures = page_of(path, play, {lesson.number: lesson.name for lesson in course}, live.html)
        (source / f"{path.stem}.md").write_text(text + _judge(path.stem, live, extra), "utf-8")
        for name, picture in pictures.items():
            (source / "pictures" / name).write_bytes(picture)
    for number, (name, ticket) in enumerate(tickets.items()):
        tell(name, 0.3 + 0.3 * number / len(tickets))
        found = answer_to(ticket, Budget(SECONDS))
        page = _in_the_edition(answer_html(found, reader_of(ticket), proof=proof_if_any(found)))
        (extra / "tickets" / f"{name}.html").write_text(page, "utf-8")
    places = [("look_up", "Look up a verdict")]
    if tickets:
        (source / "tickets.md").write_text(tickets_page(tickets), "utf-8")
        places.append(("tickets", "Tickets"))
    if documented:
        places.append(("reference", "Reference"))
        for name, text in reference_pages(documented).items():
            (source / name).write_text(text, "utf-8")
    if GLOSSARY in names:
        places.append((GLOSSARY, "Glossary"))
    for number, (name, puzzle) in enumerate(puzzles.items()):
        tell(puzzle.name, 0.6 + 0.3 * number / len(puzzles))
        write_alarms(puzzle, (source / name).parent, puzzle.alarms)
    (source / "look_up.md").write_text(look_up_page(puzzles), "utf-8")
    scripts = {"judge": judge_script(), "look_up_data": look_up_script(puzzles.values()), "look_up_viewer": viewer_script()}
    for name, script in scripts.items():
        (extra / "_static" / f"{name}.js").write_text(script, "utf-8")
    shutil.copy(Path(__file__).with_name("layout.html"), source / "templates" / "layout.html")
    style = Path(__file__).with_name("edition.css").read_text("utf-8")
    (source / "edition.css").write_text(coloured(style), "utf-8")
    (source / "conf.py").write_text(CONF.format(places=places), "utf-8")
    if course:
        save(how_the_lessons_depend(course), source / "how_the_lessons_depend.svg")
    own = {path.stem: _title(path) for path in paths if path.stem not in {lesson.name for lesson in course} | {GLOSSARY}}
    told = _index(course, own, [*order, *(name for name, _ in places if name != GLOSSARY)], places)
    (source / "index.md").write_text(told, "utf-8")


def _within(lesson: Lesson, names: set[str]) -> Lesson:
    """The lesson, as if those that are not there had never been needed."""
    there = {name[:2] for name in names}
    needs, helps = (tuple(number for number in numbers if number in there) for numbers in (lesson.needs, lesson.helps))
    return replace(lesson, needs=needs, helps=helps)


def _title(path: Path) -> str:
    """The first heading of a notebook, or its name."""
    cells = (cell.source for cell in read_notebook(path).cells if cell.cell_type == "markdown")
    heads = (line.removeprefix("# ").strip() for text in cells for line in text.splitlines() if line.startswith("# "))
    return next(heads, path.stem)


def _index(course: Sequence[Lesson], own: Mapping[str, str], order: Sequence[str], places: Sequence[tuple[str, str]]) -> str:
    """The first page: lessons of the course, notebooks of one's ``own`` by their titles, and what else there is."""
    more = "".join(f"- [{escaped(title)}]({name}.md)\n" for name, title in own.items())
    more += "".join(f"- [{words}]({name}.md): {PLACES[name]}\n" for name, words in places if name in PLACES)
    listed = ""
    if course:
        table = index_table("notebooks", course).replace("(notebooks/", "(").replace(".ipynb)", ".md)")
        listed = fill_template(__file__, "index_course.md", table=table.replace("| | question", "| lesson | question"))
    return fill_template(__file__, "index.md", listed=listed, more=more, order="\n".join(order))


def _judge(name: str, live: Played, extra: Path) -> str:
    """Lay the pictures of controls, and what judges a page's exercises; return the scripts that the page needs for that."""
    for picture, held in live.pictures.items():
        (extra / "knobs" / picture).write_bytes(held)
    if not live.exercises:
        return ""
    (extra / "_static" / f"exercises_{name}.js").write_text(exercises_script(live), "utf-8")
    scripts = ("judge", f"exercises_{name}", "edition_exercises")
    return "".join(f'\n<script src="_static/{script}.js"></script>\n' for script in scripts)


def _run_sphinx(source: Path, made: Path) -> None:
    command = [sys.executable, "-m", "sphinx", "-b", "html", "-q", "-W", "--keep-going", "-d", str(source.parent / "trees")]
    aside = {**os.environ, "TMPDIR": str(source.parent)}
    run = subprocess.run([*command, str(source), str(made)], capture_output=True, text=True, env=aside)
    if run.returncode:
        said = re.sub(r"\x1b\[[0-9;]*m", "", run.stderr).replace(f"{source}/", "").splitlines()
        told = next((line.strip() for line in said if re.search("WARNING:|ERROR:|Error: ", line)), "it does not say why")
        raise NoOutput(f"Sphinx could not put the pages together: {quoted(told.rpartition('SphinxError: ')[2], 300)}")
    for name in (".buildinfo", "objects.inv"):
        (made / name).unlink(missing_ok=True)
    shutil.rmtree(made / "_sources", ignore_errors=True)


def single_page(files: Mapping[str, bytes]) -> str:
    """One page of HTML with all the files of an edition, by their names in its folder.

    >>> "Hello" in single_page({"index.html": b"<p>Hello"})
    True
    """
    held = {}
    for name, data in files.items():
        sort = guess_type(name, strict=False)[0] or ""
        picture = sort.startswith("image/")
        held[name] = f"data:{sort};base64,{b64encode(data).decode('ascii')}" if picture else data.decode("utf-8")
    return fill_template(__file__, "single.html", files=script_data(held))


SECONDS = 10.0
"""For the search of a way out."""


def slug(name: str) -> str:
    """A puzzle's name as part of a file's name.

    >>> slug("shape-mod:prism8,cut=0.5")
    'shape_mod_prism8_cut_0_5'
    """
    return re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")


def puzzles_in(sources: Iterable[str]) -> list[str]:
    """The names of the puzzles that a notebook's code, or what it shows in words, loads by name."""
    named = dict.fromkeys(name for source in sources for _, name in re.findall(r"""\bload\((["'])(.+?)\1\)""", source))
    return [name for name in named if ".toml" not in name]


def viewer_html(puzzle: Puzzle) -> str:
    """A page of one file: the puzzle solved, to look round and to turn."""
    title, prints = capital(puzzle.title), printed(puzzle, puzzle.solved, CAPTIONS["puzzle"])
    texts = {"title": title, "headline": title, "heading": "What to try"}
    return _in_the_edition(viewer_page(traits_of(puzzle, puzzle.solved), prints, f"<p>{TO_TRY}</p>", **texts))


def tickets_page(tickets: Mapping[str, Ticket]) -> str:
    told = {quote(name): (ticket.name.replace("_", " "), ticket.puzzle.title) for name, ticket in tickets.items()}
    rows = (f'| <a href="tickets/{at}.html">{escaped(name)}</a> | {escaped(title)} |' for at, (name, title) in told.items())
    return fill_template(__file__, "tickets.md", rows="\n".join(rows))


def _in_the_edition(page: str) -> str:
    """With a way back to the course, and its landmarks."""
    back = '<nav aria-label="Course"><a style="color:inherit" href="../index.html">Back to the course</a></nav>'
    return page.replace("<body>", f"<body>\n{back}\n<main>", 1).replace("</body>", "</main>\n</body>", 1)


def controls_replaced(path: Path, tickets: Mapping[str, Ticket], folder: Path) -> str:
    """Links to what stands in for a notebook's controls; pages of its puzzles go into the ``folder``, unless they are there.

    The puzzles are those in its code, if it has a control, and in what its controls showed in words.
    """
    cells = [cell for cell in read_notebook(path).cells if cell.cell_type == "code"]
    controls = [cell for cell in cells if {"knob", "widget"} & set(cell.metadata.get("tags", ()))]
    sources = [output.get("data", {}).get("text/plain", "") for cell in controls for output in cell.outputs]
    sources = [*(cell.source for cell in cells if controls), *sources]
    named = {name: load(name) for name in puzzles_in(sources)}
    titles, links = [puzzle.title for puzzle in named.values()], []
    for name, puzzle in named.items():
        page, title = folder / f"{slug(name)}.html", puzzle.title
        if not page.exists():
            page.write_text(viewer_html(puzzle), "utf-8")
        links.append(f'<a href="viewers/{page.name}">{title if titles.count(title) == 1 else f"{title} ({name})"}</a>')
    said = f"<p>To turn by yourself, here: {', '.join(links)}.</p>" if links else ""
    if tickets and any("workbench(" in source for source in sources):
        said += f'<p>{ALL_TICKETS}: <a href="tickets.html">the tickets, without Python</a>.</p>'
    return said
