"""The answer as one HTML file that can be sent: the viewer with the way out as a strip; no server, no network.

It holds neither the ticket's note nor a name or a photograph, unless a note is handed over on purpose.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from html import escape

from matplotlib.figure import Figure

from oddswap.reasoning.answers import Answer
from oddswap.reasoning.verdicts.views import asked_view
from oddswap.showing.ink.palette import coloured
from oddswap.showing.ink.widgets import address_of, small_png
from oddswap.showing.pages.markdown import as_html
from oddswap.showing.pages.report import headline, reply_text
from oddswap.showing.pictures.next_view import draw_next_view
from oddswap.showing.pictures.prints import draw_prints
from oddswap.showing.viewer.widget import module, strip_of, traits_of

STILL_WIDTH = 700
"""The still picture, for browsers that draw no solids, in pixels."""
VIEWER_PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy"
 content="default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:">
<title>{title}</title>
<style>
:root {{ color-scheme: light dark; }}
body {{ margin: 0 auto; padding: 14px; max-width: 760px; font: 16px/1.5 system-ui, sans-serif;
  background: $TABLE; color: $INK; }}
h1 {{ font-size: 1.35em; line-height: 1.25; margin: 0.2em 0 0.6em; }}
h2 {{ font-size: 1.05em; margin: 1.2em 0 0.3em; }}
img {{ max-width: 100%; }}
code {{ overflow-wrap: anywhere; }}
@media (prefers-color-scheme: dark) {{ body {{ background: $DARK_TABLE; color: $DARK_INK; }} }}
</style>
</head>
<body>
<h1>{headline}</h1>
{before}
<div id="viewer"><img alt="{alt}" src="{still}"></div>
<h2>{heading}</h2>
{after}
<script type="application/json" id="answer">{data}</script>
<script type="module">
{module}
{stub}
</script>
</body>
</html>
"""
STUB = """
const traits = JSON.parse(document.getElementById('answer').textContent);
if (traits.pack) {
  const calls = {};
  const place = document.getElementById('viewer');
  place.replaceChildren();
  render({ el: place, model: {
    get: name => traits[name],
    set: (name, value) => {
      if (traits[name] === value) return;
      traits[name] = value;
      (calls[`change:${name}`] ?? []).forEach(call => call());
    },
    on: (name, call) => { (calls[name] ??= []).push(call); },
    off: (name, call) => { calls[name] = (calls[name] ?? []).filter(other => other !== call); },
    send: () => {},
    save_changes: () => {},
  } });
}
"""


def viewer_page(
    title: str, headline: str, alt: str, still: str, heading: str, after: str, traits: Mapping[str, object], before: str = ""
) -> str:
    """A page of one file with the viewer that ``traits`` describe; ``before`` and ``after`` it stands HTML, the rest is text."""
    return coloured(VIEWER_PAGE).format(
        title=escape(title),
        headline=escape(headline),
        before=before,
        alt=escape(alt),
        still=still,
        heading=escape(heading),
        after=after,
        data=json.dumps(traits, separators=(",", ":")).replace("<", "\\u003c"),
        module=module().replace("export default { render };", ""),
        stub=STUB,
    )


def answer_html(answer: Answer, colours: Mapping[str, str] | None = None, note: str = "") -> str:
    """The page, in the visitor's ``colours`` by facet. What is on it came through `html.escape` or is escaped JSON."""
    found, puzzle = answer.diagnosis, answer.puzzle
    still = embedded(draw_prints(puzzle, answer.appearance, colours=colours))
    view = asked_view(puzzle, found.ask_next)
    reply = reply_text(answer, ("next_view",) if view else ())
    after = [as_html(reply.removeprefix(headline(answer)))]
    if view:
        picture = embedded(draw_next_view(puzzle, answer.appearance, view, colours=colours))
        after.append(f'<img alt="{escape(view.words)}" src="{picture}">')
    if note:
        after.append(f"<h2>Your note</h2>\n<p>{escape(note)}</p>")
    walks = answer.way_out is not None and bool(answer.way_out.moves)
    return viewer_page(
        f"{puzzle.title}: {found.verdict}",
        headline(answer),
        "The puzzle as it was described",
        still,
        "The way out in words" if walks else "What to do",
        "\n".join(after),
        _traits(answer, colours, still),
        "<p>Each small picture is one move. Tap the marked one to make it, or any other to go there.</p>" if walks else "",
    )


def embedded(figure: Figure) -> str:
    """A figure as the address of a picture within a page."""
    return address_of(small_png(figure, STILL_WIDTH / figure.get_figwidth()))


def _traits(answer: Answer, colours: Mapping[str, str] | None, still: str) -> dict:
    """What the viewer's model holds; nothing where no arrangement explains what is seen."""
    found, puzzle = answer.diagnosis, answer.turning
    if found.explanation is None:
        return {}
    moves = answer.way_out.moves if answer.way_out is not None and answer.way_out.moves else ""
    strip = strip_of(puzzle, moves, found.explanation)
    culprits = {piece for culprit in found.culprits for piece in culprit.pieces}
    return {
        **traits_of(puzzle, found.explanation, colours, still),
        "strip": strip if strip["frames"] else {},
        "hatched": sorted(puzzle.slot(piece) for piece in culprits),
    }
