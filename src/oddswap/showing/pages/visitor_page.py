"""The page on which a visitor says what they see, and that makes a postcard of it: one file, no server, nothing kept or sent."""

import json
import re
from base64 import b64encode
from collections.abc import Iterable, Iterator
from contextlib import suppress
from html import escape
from itertools import product
from pathlib import Path
from urllib.parse import urlsplit
from zlib import compress

import numpy as np

from oddswap.describing.changes import changed
from oddswap.describing.postcards import colour_names, travelling_name
from oddswap.describing.stickers import every_holding, stickers, ways_held
from oddswap.errors import BadOption, OddswapError, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import restricted
from oddswap.reasoning.budget import Limit, started
from oddswap.reasoning.verdicts.alarms import VERDICTS, alarms_until
from oddswap.showing.ink.camera import reach
from oddswap.showing.ink.flat import colours_by_paint
from oddswap.showing.ink.palette import difference, read_colour
from oddswap.showing.pages.output_folder import write_file
from oddswap.showing.pages.template import fill_template, script_data
from oddswap.showing.viewer.pack import labels_of, laws_to_weigh
from oddswap.showing.viewer.widget import module, traits_of
from oddswap.values.grammar import capital
from oddswap.words.products.visitor_page import COLOURS, FURTHER, TEXTS, usual_words

USUAL = 12
"""So many usual sights are shown."""
PUZZLES = ("cube:3", "cube:2", "cube:4", "shape-mod:prism8", "shape-mod:cube,axis=U,degrees=45", "cube:3,centres=marked")
PUZZLES += ("cuboid:2x3x4", "cuboid:3x3x4", "tetrahedron", "dodecahedron", "corner-cube", "tiles:4x4")
"""Those on a page for somebody whose puzzle is not known: the commonest, and few enough to stay small."""
TARGET, ACROSS = 24, 320
"""What a fingertip touches is so many pixels wide at least (WCAG 2.2, 2.5.8), and the whole picture on a phone so many."""
ADDRESS = re.compile(r"https?://[!-~]{1,300}")


def write_visitor_page(
    puzzles: Iterable[Puzzle], path: Path, address: str = "", budget: Limit = None, *, force: bool = False
) -> Path:
    """Write the page; where somebody's own file has its name, beside that. `BadOption` also for a name that is no page's."""
    if path.suffix != ".html":
        raise BadOption(f"--out {quoted(path, 200)} is no page: write such as visitor.html")
    text = visitor_html(puzzles, address, budget)
    return write_file("visitor", path, text, force)


def visitor_html(puzzles: Iterable[Puzzle], address: str = "", budget: Limit = None) -> str:
    """The page for these puzzles; where there are several, the visitor chooses first which is theirs.

    ``address`` is where the page will be hosted: then a printed code opens it. `BadOption` for a puzzle that is too fine to
    touch, or for what is no address of a page.
    """
    clock, hosted = started(budget), _hosted(address)
    data = [_entry(puzzle, clock) for puzzle in puzzles]
    says = {"says": TEXTS["says"], "sides": TEXTS["sides"], "words": COLOURS + FURTHER, "css": colour_names()}
    packed = b64encode(compress(json.dumps({**says, "puzzles": data}, separators=(",", ":")).encode(), 9)).decode()
    here = Path(__file__).with_name("visitor_page.js").read_text("utf-8")
    script = module().replace("export default { render };", Path(__file__).with_name("postcard.js").read_text("utf-8") + here)
    texts = {name: escape(text) for name, text in TEXTS["page"].items()}
    return fill_template(__file__, "visitor_page.html", **texts, data=script_data(packed), module=script, hosted=hosted)


def _entry(puzzle: Puzzle, clock) -> dict:
    """What the page knows of a puzzle: the viewer's model, and what a postcard, the laws and the usual sights need."""
    if _finest(puzzle) < TARGET:
        raise BadOption(f"nobody can touch the pieces of {quoted(puzzle.name)} on a phone: name a puzzle of fewer layers")
    table, geometry = stickers(puzzle), puzzle.geometry
    held = ways_held(puzzle) if table else ()
    fixed = geometry is not None and puzzle.alphabet.is_box and not puzzle.rotations and not table
    ways = list(every_holding().values())
    return {
        "title": capital(puzzle.title),
        "traits": {**traits_of(puzzle, puzzle.solved), "tools": ["undo", "letters", "view"]},
        "paints": list(geometry.paints.items()) if geometry else [],
        "words": _colour_words(puzzle) if geometry else {},
        "places": [f"{puzzle.slots[slot]}|{face}" for slot, face in table.places] if table else None,
        "held": [[ways.index(way.words), list(way.middles.items()), way.own] for way in held],
        "holdings": [[n, way.own("U"), way.own("F")] for n, way in enumerate(every_holding())] if fixed else [],
        "copies": [
            [turns, TEXTS["copies"][turns], travelling_name(copy), laws_to_weigh(copy)] for turns, copy in _copies(puzzle)
        ],
        "usual": list(_usual(puzzle, clock)),
    }


def _finest(puzzle: Puzzle) -> float:
    """How wide, on a phone, the piece is that is hardest to touch: on the largest of its faces, in pixels."""
    if puzzle.geometry is None:
        return ACROSS / float(np.ptp(puzzle.flat.positions, axis=0).max() + 1)
    faces = ([face.vertices for face in body.faces if face.facet] for body in puzzle.geometry.bodies)
    return min(max(map(_area, own)) for own in faces if own) ** 0.5 / reach(puzzle) * ACROSS / 2


def _area(corners: np.ndarray) -> float:
    return float(np.linalg.norm(np.cross(corners[1:-1] - corners[0], corners[2:] - corners[0]).sum(axis=0))) / 2


def _colour_words(puzzle: Puzzle) -> dict[str, str]:
    """For each paint a word for a colour near that of the lessons: it is drawn so until the visitor has another."""
    words: dict[str, str] = {}
    pairs = product(colours_by_paint(puzzle).items(), COLOURS + FURTHER)
    for (paint, _), word in sorted(pairs, key=lambda pair: (pair[1] in FURTHER, difference(pair[0][1], read_colour(pair[1])))):
        if paint not in words and word not in words.values():
            words[paint] = word
    return {paint: words.get(paint, paint) for paint in colours_by_paint(puzzle)}


def _copies(puzzle: Puzzle) -> Iterator[tuple[str, Puzzle]]:
    """The puzzle with all its turns, and with those that its copies often make, where these are other ones."""
    yield "all", puzzle
    with suppress(OddswapError):
        copy = restricted(puzzle, "half") if "turns=" not in puzzle.name and puzzle.alphabet.is_box else puzzle
        if len(copy.turns) < len(puzzle.turns) and copy.slots == puzzle.slots and (copy.looks == puzzle.looks).all():
            yield "half", copy


def _usual(puzzle: Puzzle, clock) -> Iterator[dict]:
    """What looks wrong at the end most often: first what turning makes, and of that what there are most of.

    Where a blank moves, what lies next to its home comes home last.
    """
    found = alarms_until(puzzle, clock.share(0.5))
    ordered = found if puzzle.blank is None else reversed(found)
    for alarm in sorted(ordered, key=lambda alarm: (VERDICTS.index(alarm.verdict), -alarm.alike))[:USUAL]:
        state = changed(puzzle, alarm.changes)
        marked = sorted({puzzle.slot(slot) for change in alarm.changes for slot in change.split()[1:] if slot in puzzle.slots})
        yield {"words": usual_words(puzzle, alarm.sort, marked), "labels": labels_of(puzzle, state), "marked": marked}


def _hosted(address: str) -> str:
    """The code that opens the page, where it is hosted, and what a host may do."""
    if not address:
        return ""
    named = None
    with suppress(ValueError):
        named = ADDRESS.fullmatch(address) and urlsplit(address).hostname
    if not named:
        raise BadOption(
            f"--address: {quoted(address, 60)} is no address of a page: write such as https://example.org/visitor.html"
        )
    import segno

    code = segno.make(address, micro=False).svg_inline(scale=4, border=4)
    said = f"<h2>{escape(TEXTS['page']['code'])}</h2>{code}<p><code>{escape(address)}</code></p>"
    return f'<section id="code">{said}<p>{escape(TEXTS["page"]["logs"])}</p></section>'
