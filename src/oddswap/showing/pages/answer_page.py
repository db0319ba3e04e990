"""The page to send back: one file with the viewer and the way out as a strip, or with prints where there is nothing to turn."""

import json
from collections.abc import Iterable, Mapping
from html import escape
from importlib.resources import files

from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.in_hand import InHand, in_hand
from oddswap.reasoning.ticket_answers import sent_at_once
from oddswap.reasoning.verdicts.findings import NOT_BY_TURNING
from oddswap.showing.ink.flat import draw_flat
from oddswap.showing.ink.painting import Inks
from oddswap.showing.ink.palette import colours_for
from oddswap.showing.ink.stand_ins import stand_ins
from oddswap.showing.ink.widgets import address_of, small_png
from oddswap.showing.pages.markdown import as_html
from oddswap.showing.pages.report import reply_text
from oddswap.showing.pages.template import fill_template, script_data
from oddswap.showing.pictures.prints import Print, next_prints, prints_of
from oddswap.showing.viewer.pack import laws_to_weigh
from oddswap.showing.viewer.widget import module, strip_of, traits_of
from oddswap.values.position import START, Appearance, Arrangement, Holding
from oddswap.words.answers import CHECK_HERE, CHECKED, STAYS_BROKEN, STEP_BY_STEP, headline
from oddswap.words.table import VISITOR, Reader
from oddswap.words.to_visitors.heard import heard

PRINT_WIDTH = 520
"""A print on a page, for browsers that draw no solids and where there is nothing to turn, in pixels: sharp on a phone, too."""


def viewer_page(
    title: str, headline: str, prints: str, heading: str, after: str, traits: Mapping[str, object], before: str = ""
) -> str:
    """A page of one file with the viewer that ``traits`` describe, or the ``prints`` where there are no scripts.

    These, and what stands ``before`` and ``after`` the viewer, are HTML; the rest is text.
    """
    return fill_template(
        __file__,
        "viewer_page.html",
        title=escape(title),
        headline=escape(headline),
        before=before,
        prints=prints,
        heading=escape(heading),
        after=after,
        stays=escape(STAYS_BROKEN),
        data=script_data(traits),
        module=page_module(),
    )


def page_module() -> str:
    """The viewer's module for a page of its own, which can check a proof as well."""
    return module().replace("export default { render };", (files("oddswap.showing.viewer") / "proof.js").read_text("utf-8"))


def answer_html(answer: Answer, reader: Reader = VISITOR, note: str = "", proof: str = "") -> str:
    """The answer as one HTML file that can be sent, for the ``reader``, in their colours as they hold the puzzle.

    It has the viewer with the way out as a strip, and needs no server and no network. It holds neither the ticket's note nor a
    name or a photograph, unless a ``note`` is handed over on purpose.
    It checks ``proof``, the text of a proof file, if there is one. What is on it came through `html.escape` or is escaped JSON.
    """
    found, puzzle, colours = answer.diagnosis, answer.puzzle, stand_ins(reader.colours)[0] or None
    held, view = {"colours": colours, "holding": reader.holding}, found.asked_view
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
    walks = answer.easiest is not None
    return viewer_page(
        f"{puzzle.title}: {found.verdict}",
        headline(answer),
        printed(puzzle, answer.appearance, "The puzzle as it was described", **held),
        "The way out in words" if walks else "What to do",
        "\n".join(after),
        _traits(answer, in_hand(answer, reader.holding), colours) | claims,
        f"<p>{STEP_BY_STEP}</p>" if walks else "",
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
