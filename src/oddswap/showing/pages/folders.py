"""The files of an answer, of a law book, of a table of alarms and of the ways outside: a page with its pictures, or in one."""

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from html import escape
from importlib.resources import files
from pathlib import Path

from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.budget import Limit, Reached, started
from oddswap.reasoning.in_hand import InHand, in_hand, said_from
from oddswap.reasoning.laws.tally import tally
from oddswap.reasoning.opening.ways_map import WaysMap
from oddswap.reasoning.ticket_answers import WAY_ON, OnTheWay, sent_at_once
from oddswap.reasoning.verdicts.alarms import Alarm
from oddswap.reasoning.verdicts.findings import NOT_BY_TURNING
from oddswap.showing.ink.canvas import save
from oddswap.showing.ink.flat import draw_flat
from oddswap.showing.ink.painting import Inks
from oddswap.showing.ink.palette import colours_for
from oddswap.showing.ink.stand_ins import drawn_otherwise, stand_ins
from oddswap.showing.ink.widgets import address_of, small_png
from oddswap.showing.pages.law_page import alarms_markdown, laws_markdown, named_on_a_picture
from oddswap.showing.pages.markdown import as_html, escaped
from oddswap.showing.pages.output_folder import open_folder
from oddswap.showing.pages.proof import proof_if_any
from oddswap.showing.pages.report import answer_markdown, reply_text
from oddswap.showing.pages.telling import from_solved
from oddswap.showing.pages.template import fill_template, script_data
from oddswap.showing.pages.ways_page import ways_markdown
from oddswap.showing.pictures.alarm_poster import draw_alarms
from oddswap.showing.pictures.beside import draw_ways
from oddswap.showing.pictures.cycles import draw_tally
from oddswap.showing.pictures.prints import Print, draw_next_view, draw_prints, next_prints, prints_of
from oddswap.showing.pictures.shape_maps import draw_names
from oddswap.showing.pictures.strip import draw_shapes_on_the_way, draw_strip, draw_turns, shape_changes
from oddswap.showing.viewer.pack import laws_to_weigh
from oddswap.showing.viewer.widget import module, strip_of, traits_of
from oddswap.values.grammar import listed
from oddswap.values.position import START, Appearance, Arrangement, Holding
from oddswap.words.answers import CHECK_HERE, CHECKED, STAYS_BROKEN, STEP_BY_STEP, headline
from oddswap.words.pictures import STAND_INS
from oddswap.words.table import VISITOR, Reader
from oddswap.words.to_visitors.heard import heard

PRINT_WIDTH = 520
"""A print on a page, for browsers that draw no solids and where there is nothing to turn, in pixels: sharp on a phone, too."""


def viewer_page(traits: Mapping[str, object], prints: str, after: str, before: str = "", **texts: str) -> str:
    """A page of one file with the viewer that ``traits`` describe, or the ``prints`` where there are no scripts.

    These, and what stands ``before`` and ``after`` the viewer, are HTML; its title, headline and heading are ``texts``.
    """
    html = {name: escape(text) for name, text in texts.items()} | {"prints": prints, "after": after, "before": before}
    made = {"data": script_data(traits), "module": page_module(), "stays": escape(STAYS_BROKEN)}
    return fill_template(__file__, "viewer_page.html", **html, **made)


def page_module() -> str:
    """The viewer's module for a page of its own, which can check a proof as well."""
    return module().replace("export default { render };", (files("oddswap.showing.viewer") / "proof.js").read_text("utf-8"))


def answer_html(answer: Answer, reader: Reader = VISITOR, note: str = "", proof: str = "") -> str:
    """The answer as one HTML file that can be sent, for the ``reader``, in their colours as they hold the puzzle.

    It has the viewer with the way out as a strip, and needs no server and no network. It holds neither the ticket's note nor a
    name or a photograph, unless a ``note`` is handed over on purpose.
    It checks ``proof``, the text of a proof file, if there is one. What is on it came through `html.escape` or is escaped JSON.
    """
    found, puzzle, colours = answer.diagnosis, answer.puzzle, stand_ins(reader.colours) or None
    held, view = {"colours": colours, "holding": reader.holding}, found.asked_view
    before = [STEP_BY_STEP] if answer.easiest else []
    if otherwise := drawn_otherwise(puzzle, reader.colours):
        before.append(STAND_INS.format(listed(otherwise)))
    after = [as_html(reply_text(answer, reader, {"next_view": ""} if view else {}))]
    if view:
        inks = Inks(colours_for(puzzle, colours), letters=True, holding=reader.holding)
        asked = next_prints(puzzle, answer.appearance, view, inks)
        after.append(f'<div class="prints">{as_figures(asked, heard(puzzle, view, reader))}</div>')
    if note:
        after.append(f"<h2>Your note</h2>\n<p>{escape(note)}</p>")
    claims = {"claims": {"proof": json.loads(proof), "says": CHECKED}} if proof else {}
    if proof:
        after.append(
            f'<div><details id="proof"><summary>{escape(CHECK_HERE)}</summary><ul aria-live="polite"></ul></details></div>'
        )
    return viewer_page(
        _traits(answer, in_hand(answer, reader.holding), colours) | claims,
        printed(puzzle, answer.appearance, "The puzzle as it was described", **held),
        "\n".join(after),
        "".join(f"<p>{escape(words)}</p>" for words in before),
        title=f"{puzzle.title}: {found.verdict}",
        headline=headline(answer),
        heading="The way out in words" if answer.easiest else "What to do",
    )


def printed(
    puzzle: Puzzle, shown: Arrangement | Appearance, alt: str, colours: Mapping[str, str] | None = None, holding: Holding = START
) -> str:
    """The prints of a puzzle as figures of a page, or its one flat picture; a visitor knows the colours, so there is no key."""
    if puzzle.geometry is None:
        return _figure(draw_flat(puzzle, shown, colours=colours, caption=False), alt, "")
    return as_figures(prints_of(puzzle, shown, Inks(colours_for(puzzle, colours), holding=holding)), alt)


def as_figures(prints: Iterable[Print], alt: str) -> str:
    """Prints as figures of a page, which wrap where they have no room side by side, all of them pictures of ``alt``."""
    return "".join(_figure(one.alone(), alt, one.words) for one in prints)


def _figure(figure: Figure, alt: str, words: str) -> str:
    picture = address_of(small_png(figure, PRINT_WIDTH / figure.get_figwidth()))
    said = f"{alt}: {words}" if words else alt
    return f'<figure><img alt="{escape(said)}" src="{picture}"><figcaption>{escape(words)}</figcaption></figure>'


def _traits(answer: Answer, done: InHand, colours: Mapping[str, str] | None) -> dict:
    """What the viewer's model holds: where no turning leads to what is seen, with laws that stay broken however it is turned;
    nothing where no arrangement explains it.
    """
    found, puzzle = answer.diagnosis, answer.turning
    if found.explanation is None:
        broken = found.first is not None and answer.verdict == NOT_BY_TURNING and not answer.untried
        book = laws_to_weigh(puzzle) if broken else {}
        return {**traits_of(puzzle, found.first, colours, done.eye), "book": book} if book.get("laws") else {}
    way = done.answer.easiest
    culprits = {piece for culprit in found.culprits for piece in culprit.pieces}
    return {
        **traits_of(puzzle, found.explanation, colours, done.eye),
        "strip": strip_of(puzzle, sent_at_once(answer, way.turns) if way else "", found.explanation, done.eye),
        "hatched": sorted(puzzle.slot(piece) for piece in culprits),
    }


WIDTH = 1600
PICTURED = 40
"""A way out of more turns is told in words only."""
NAMED = 1500
"""The names of more slots than this have no room on a picture."""

Pictures = dict[str, Figure]
"""Figures by the name of the file that they become."""


def write_answer(
    answer: Answer,
    folder: Path,
    reader: Reader = VISITOR,
    *,
    note: str = "",
    ticket: Mapping[str, str] | None = None,
    budget: Limit = None,
    force: bool = False,
) -> list[Path]:
    """Write ``answer.md``, ``reply.md`` and the pictures into ``folder``, for the visitor who is the ``reader``.

    With them ``proof.json``, where something can be proved in half of the ``budget``, and ``answer.html``, one file to send back,
    which bears the visitor's ``note`` if that is given, and the text of the ``ticket`` by its file's name, which never takes the
    place of another ticket. A colour that cannot be drawn has a stand-in, and the page says so. ``force`` is as for an
    `OutputFolder`; `BadOption` when the folder cannot be written.
    """
    said = drawn_otherwise(answer.puzzle, reader.colours)

    def texts(names: dict[str, str]) -> dict[str, str]:
        page = answer_markdown(answer, names, reader)
        if said:
            words = "\n".join(f"- {escaped(sentence)}" for sentence in said)
            page += f"\n## Colours that the pictures do not have\n\n{words}\n"
        proof = proof_if_any(answer, budget)
        return ({"proof.json": proof} if proof else {}) | {
            "reply.md": reply_text(answer, reader, names),
            "answer.html": answer_html(answer, reader, note, proof),
            "answer.md": page,
        }

    return _write("answer", folder, lambda: answer_pictures(answer, reader), texts, force, ticket)


def write_laws(puzzle: Puzzle, folder: Path, budget: Limit = None, *, force: bool = False) -> list[Path]:
    """Write ``laws.md`` with a picture of the puzzle, and one that names its slots where they have room on it."""
    clock = started(budget)

    def pictures() -> Pictures:
        found = {"puzzle.png": draw_prints(puzzle, puzzle.solved)}
        if len(puzzle.slots) <= NAMED:
            found["names.png"] = draw_names(puzzle)
        return found

    return _write("laws", folder, pictures, lambda names: {"laws.md": laws_markdown(puzzle, clock, names)}, force)


def write_alarms(
    puzzle: Puzzle, folder: Path, table: Sequence[Alarm], reached: Sequence[Reached] = (), *, force: bool = False
) -> list[Path]:
    """Write ``alarms.md``, a poster, and the names of slots that need a picture."""

    def pictures() -> Pictures:
        found = {"wall.svg": draw_alarms(puzzle, table)}
        if named_on_a_picture(puzzle):
            found["wall_names.png"] = draw_names(puzzle)
        return found

    return _write("alarms", folder, pictures, lambda names: {"alarms.md": alarms_markdown(puzzle, table, reached, names)}, force)


def write_ways(found: WaysMap, folder: Path, *, force: bool = False) -> list[Path]:
    """Write ``ways.md`` with the picture of the families, where there are any."""
    return _write(
        "ways",
        folder,
        lambda: {"ways.svg": draw_ways(found)} if found.ways else {},
        lambda names: {"ways.md": ways_markdown(found, names)},
        force,
    )


def _write(
    by: str,
    folder: Path,
    draw: Callable[[], Pictures],
    texts: Callable[[dict[str, str]], dict[str, str]],
    force: bool,
    ticket: Mapping[str, str] | None = None,
) -> list[Path]:
    """Make everything first and then move it in, the page and then the ticket last, so that a stop leaves nothing half written.

    The page is the last of the ``texts``, which are made from the names of the pictures by their stems. Pictures that the
    page before it showed, and that this one does not have, are removed.
    """
    with open_folder(folder, force) as out:
        files = {
            name: save(figure, out.making / name, width=None if name.endswith(".svg") else WIDTH)
            for name, figure in draw().items()
        }
        pages = texts({Path(name).stem: out.place(name, made) for name, made in files.items()})
        tickets, told = replace(out, force=False), _write_texts(ticket or {}, out.making)
        if told:  # a ticket lies there only while its own pages do, so that these are never found again as another's
            tickets.withdraw("ticket", told.values())
        laid = out.lay(by, files | _write_texts(pages, out.making))
        return (tickets.lay("ticket", told) if told else []) + laid


def _write_texts(texts: Mapping[str, str], making: Path) -> dict[str, Path]:
    for name, text in texts.items():
        (making / name).write_text(text, encoding="utf-8")
    return {name: making / name for name in texts}


def answer_pictures(answer: Answer, reader: Reader) -> Pictures:
    """The pictures of an answer, as the ``reader`` holds the puzzle and in their colours."""
    puzzle, turning, found = answer.puzzle, answer.turning, answer.diagnosis
    done, colours = in_hand(answer, reader.holding), stand_ins(reader.colours) or None
    drawn, held = {"colours": colours, "holding": done.eye}, {"colours": colours, "holding": reader.holding}
    figures = {"seen.png": draw_prints(puzzle, answer.appearance, **held)}
    if view := found.asked_view:
        words = heard(puzzle, view, reader)
        figures["next_view.png"] = draw_next_view(puzzle, answer.appearance, view, **held, words=words)
    if found.culprits:
        pieces = {piece for culprit in found.culprits for piece in culprit.pieces}
        figures["xray.png"] = draw_prints(puzzle, found.culprits[0].arrangement, xray=sorted(pieces), **drawn)
    if not answer.easiest:
        return figures
    moves, said = answer.easiest.turns, done.answer.easiest.turns
    if found.has(OnTheWay):
        figures["next_turns.png"] = draw_strip(turning, found.explanation, sent_at_once(answer, said), **drawn)
    if answer.easiest.length <= PICTURED:
        if answer.made:
            made, begun = from_solved(done, done.answer.made)
            hidden = found.culprits[0].pieces if found.culprits else ()
            figures["came_about.png"] = draw_strip(turning, turning.solved, made, colours=colours, xray=hidden, holding=begun)
        name = "sent.png" if WAY_ON in answer.easiest.sorts else "strip.png"
        figures[name] = draw_strip(turning, found.explanation, said, **drawn)
        if turning.leaves_outline:
            if shape_changes(turning, found.explanation, moves):
                figures["shapes.png"] = draw_shapes_on_the_way(turning, found.explanation, moves, **drawn)
        elif table := tally_of_way(answer, done.eye, 14):
            figures["tally.png"] = table
    elif turning.steady and not turning.alphabet.is_box:
        figures["turns.png"] = draw_turns(turning, moves, colours=colours)
    return figures


def tally_of_way(answer: Answer, eye: Holding, per_row: int) -> Figure | None:
    """What the way out does to the laws, its moves as hands say them that hold it so; ``None`` where no law is counted."""
    table = tally(answer.turning, answer.easiest.turns, answer.diagnosis.explanation).in_full()
    names = tuple(said_from(answer.turning, name, eye) for name in table.moves)
    return draw_tally(replace(table, moves=names), per_row=per_row) if table.laws else None
