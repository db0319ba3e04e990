"""The answer as one HTML file that can be sent: the viewer with the way out as a strip; no server, no network.

It holds neither the ticket's note nor a name or a photograph, unless a note is handed over on purpose.
"""

from __future__ import annotations

import json
from base64 import b64encode
from collections.abc import Mapping
from html import escape

from matplotlib.figure import Figure

from oddswap.reasoning.answers import Answer
from oddswap.reasoning.verdicts.views import View, asked_view
from oddswap.showing.ink.palette import coloured
from oddswap.showing.ink.widgets import small_png
from oddswap.showing.pages.markdown import as_html
from oddswap.showing.pages.report import headline, reply_text
from oddswap.showing.pictures.next_view import draw_next_view
from oddswap.showing.pictures.prints import draw_prints
from oddswap.showing.viewer.pack import inks_of, labels_of, packed
from oddswap.showing.viewer.widget import module, strip_of

STILL_WIDTH = 700
"""The still picture, for browsers that draw no solids, in pixels."""
PAGE = """<!doctype html>
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
<div id="viewer">{still}</div>
<h2>{heading}</h2>
{words}
{view}
{note}
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


def answer_html(answer: Answer, colours: Mapping[str, str] | None = None, note: str = "") -> str:
    """The page, in the visitor's ``colours`` by facet. What is on it came through `html.escape` or is escaped JSON."""
    found = answer.diagnosis
    still = _still(answer, colours)
    view = asked_view(answer.puzzle, found.ask_next)
    reply = reply_text(answer, ("next_view",) if view else ())
    words = as_html(reply.removeprefix(headline(answer)))
    walks = answer.way_out is not None and bool(answer.way_out.moves)
    return coloured(PAGE).format(
        title=escape(f"{answer.puzzle.title}: {found.verdict}"),
        headline=escape(headline(answer)),
        before="<p>Each small picture is one move. Tap the marked one to make it, or any other to go there.</p>" if walks else "",
        still=f'<img alt="The puzzle as it was described" src="{still}">',
        heading="The way out in words" if walks else "What to do",
        words=words,
        view=f'<img alt="{escape(view.words)}" src="{_view_picture(answer, view, colours)}">' if view else "",
        note=f"<h2>Your note</h2>\n<p>{escape(note)}</p>" if note else "",
        data=json.dumps(_traits(answer, colours, still), separators=(",", ":")).replace("<", "\\u003c"),
        module=module().replace("export default { render };", ""),
        stub=STUB,
    )


def _still(answer: Answer, colours: Mapping[str, str] | None) -> str:
    return _embedded(draw_prints(answer.puzzle, answer.appearance, colours=colours))


def _view_picture(answer: Answer, view: View, colours: Mapping[str, str] | None) -> str:
    return _embedded(draw_next_view(answer.puzzle, answer.appearance, view, colours=colours))


def _embedded(figure: Figure) -> str:
    return "data:image/png;base64," + b64encode(small_png(figure, STILL_WIDTH / figure.get_figwidth())).decode("ascii")


def _traits(answer: Answer, colours: Mapping[str, str] | None, still: str) -> dict:
    """What the viewer's model holds; nothing where no arrangement explains what is seen."""
    found, puzzle = answer.diagnosis, answer.turning
    if found.explanation is None:
        return {}
    moves = answer.way_out.moves if answer.way_out is not None and answer.way_out.moves else ""
    strip = strip_of(puzzle, moves, found.explanation)
    culprits = {piece for culprit in found.culprits for piece in culprit.pieces}
    return {
        "pack": packed(puzzle),
        "labels": labels_of(puzzle, found.explanation),
        "colours": inks_of(puzzle, colours),
        "strip": strip if strip["frames"] else {},
        "hatched": sorted(puzzle.slot(piece) for piece in culprits),
        "picture": still,
        **{name: [] for name in ("done", "highlight")},
        **{name: {} for name in ("played", "stickers", "words")},
        **{name: 0 for name in ("asked", "heard", "step")},
        **{name: False for name in ("answers", "xray", "letters")},
        "mode": "turn",
        "size": 340,
    }
