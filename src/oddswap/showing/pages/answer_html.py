"""The answer as one HTML file that can be sent: the viewer with the way out as a strip; no server, no network.

It holds neither the ticket's note nor a name or a photograph, unless a note is handed over on purpose.
"""

import json
from collections.abc import Mapping
from html import escape
from importlib.resources import files

from matplotlib.figure import Figure

from oddswap.reasoning.answers import Answer
from oddswap.reasoning.in_hand import InHand, in_hand
from oddswap.reasoning.verdicts.findings import NOT_BY_TURNING
from oddswap.showing.ink.stand_ins import stand_ins
from oddswap.showing.ink.widgets import address_of, small_png
from oddswap.showing.pages.markdown import as_html
from oddswap.showing.pages.report import reply_text
from oddswap.showing.pages.template import fill_template, script_data
from oddswap.showing.pictures.prints import draw_next_view, draw_prints
from oddswap.showing.viewer.pack import laws_to_weigh
from oddswap.showing.viewer.widget import module, strip_of, traits_of
from oddswap.words.answers import CHECK_HERE, CHECKED, STAYS_BROKEN, STEP_BY_STEP, headline
from oddswap.words.table import VISITOR, Reader
from oddswap.words.to_visitors.heard import heard

STILL_WIDTH = 700
"""The still picture, for browsers that draw no solids, in pixels."""


def viewer_page(
    title: str, headline: str, alt: str, still: str, heading: str, after: str, traits: Mapping[str, object], before: str = ""
) -> str:
    """A page of one file with the viewer that ``traits`` describe; ``before`` and ``after`` it stands HTML, the rest is text."""
    return fill_template(
        __file__,
        "viewer_page.html",
        title=escape(title),
        headline=escape(headline),
        before=before,
        alt=escape(alt),
        still=still,
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
    """The page in words for the ``reader``, drawn in their colours as they hold the puzzle.

    It checks ``proof``, the text of a proof file, if there is one. What is on it came through `html.escape` or is escaped JSON.
    """
    found, puzzle, colours = answer.diagnosis, answer.puzzle, stand_ins(reader.colours)[0] or None
    still = embedded(draw_prints(puzzle, answer.appearance, colours=colours, holding=reader.holding))
    view = found.asked_view
    after = [as_html(reply_text(answer, reader, {"next_view": ""} if view else {}))]
    if view:
        words, drawn = heard(puzzle, view, reader), {"colours": colours, "holding": reader.holding}
        picture = embedded(draw_next_view(puzzle, answer.appearance, view, **drawn, words=words))
        after.append(f'<img alt="{escape(words)}" src="{picture}">')
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
        "The puzzle as it was described",
        still,
        "The way out in words" if walks else "What to do",
        "\n".join(after),
        _traits(answer, in_hand(answer, reader.holding), colours, still) | claims,
        f"<p>{STEP_BY_STEP}</p>" if walks else "",
    )


def embedded(figure: Figure) -> str:
    """A figure as the address of a picture within a page."""
    return address_of(small_png(figure, STILL_WIDTH / figure.get_figwidth()))


def _traits(answer: Answer, done: InHand, colours: Mapping[str, str] | None, still: str) -> dict:
    """What the viewer's model holds: where no turning leads to what is seen, with laws that stay broken however it is turned;
    nothing where no arrangement explains it.
    """
    found, puzzle = answer.diagnosis, answer.turning
    if found.explanation is None:
        broken = found.first is not None and answer.verdict == NOT_BY_TURNING and not answer.untried
        book = laws_to_weigh(puzzle) if broken else {}
        return {**traits_of(puzzle, found.first, colours, still, done.eye), "book": book} if book.get("laws") else {}
    way = done.answer.easiest
    strip = strip_of(puzzle, way.turns if way else "", found.explanation, done.eye)
    culprits = {piece for culprit in found.culprits for piece in culprit.pieces}
    return {
        **traits_of(puzzle, found.explanation, colours, still, done.eye),
        "strip": strip if strip["frames"] else {},
        "hatched": sorted(puzzle.slot(piece) for piece in culprits),
    }
