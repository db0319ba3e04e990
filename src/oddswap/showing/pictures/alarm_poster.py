"""The table of alarms as a poster to hang on a wall and to read from three metres: what can happen by turning, and what cannot.

A few pictures, large, below the sign of their verdict; laws and counts belong on the page of the table. Nothing is told by colour
alone: what looks wrong is marked, bears letters and stands out from a pale puzzle, and what is not what it seems is hatched.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.describing.changes import changed
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.verdicts.alarms import VERDICTS, Alarm, alarms
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.showing.ink.camera import AWAY, Camera, cameras, directions, reach
from oddswap.showing.ink.canvas import EDGE, INCHES, PAPERS, height_of, sheet, text_size, wrapped, write
from oddswap.showing.ink.flat import colours_by_paint, lay_flat, spot_within
from oddswap.showing.ink.painting import Inks, fitting, hatched_pieces, paint
from oddswap.showing.ink.palette import BACKDROP, BODY, PAPER
from oddswap.showing.ink.scene import scene
from oddswap.values.grammar import capital
from oddswap.values.position import Arrangement
from oddswap.words import say
from oddswap.words.alarms import FOOT, MIND, NONE, POSTER, POSTER_OF, such_as
from oddswap.words.verdicts import WORDINGS

WIDTH, HEIGHT = 297 / 25.4 / INCHES, 420 / 25.4 / INCHES
"""A3, upright."""
TITLE, NAME, LETTER = 86, 27, 24
"""Points of the title, of what stands below pictures, and of letters on stickers."""
BAND = 46, 40, 34, 30, 27, 24
"""Points that are tried for the heading of a verdict."""
MARGIN, HEAD, ROWS, COLUMNS = 0.45, 0.62, 3, 2
SIGNS = {ORDINARY: "✓", LOOKALIKE: "≈", CANNOT_TELL: "?", OTHER_TURNS: "↻", NOT_BY_TURNING: "✗"}
Sorts = dict[str, list[tuple[str, list[Alarm]]]]
"""Below each verdict what is shown: its words, and the alarms that are so."""


def draw_alarms(puzzle: Puzzle, table: Sequence[Alarm] | None = None, *, ax: Axes | None = None) -> Figure:
    """A poster of the alarms of a puzzle, solid or flat, on A3; of the whole table, if no ``table`` is given.

    >>> from oddswap import draw
    >>> figure = draw.draw_alarms("cube:2")
    """
    page = sheet(WIDTH, HEIGHT, ax)
    page.figure.set_facecolor(PAPER)
    _lay(page, puzzle, chosen(alarms(puzzle) if table is None else table), 1.0)
    return page.figure


def poster_tiles(puzzle: Puzzle, table: Sequence[Alarm], paper: str = "A4") -> Iterator[Figure]:
    """The poster larger, as four pages to cut along the dashes and to lay edge to edge: the upper two, then the lower two.

    They are one figure that moves on: save each before the next is asked for.
    """
    wide, high = PAPERS[paper]
    large = min((wide - EDGE) / (WIDTH * INCHES / 2), (high - EDGE) / (HEIGHT * INCHES / 2))
    across, up = large * WIDTH * INCHES / wide / 2, large * HEIGHT * INCHES / high / 2
    page = sheet(wide / INCHES, high / INCHES).figure
    page.set_facecolor(PAPER)
    left, low = (1 - across) / 2, (1 - up) / 2
    ax = sheet(WIDTH, HEIGHT, page.add_axes((0, 0, 1, 1)))
    _lay(ax, puzzle, chosen(table), large)
    page.add_artist(Rectangle((left, low), across, up, transform=page.transFigure, fill=False, lw=0.8, ls=(0, (4, 4))))
    for row, column in product((0, 1), repeat=2):
        ax.set_position((left - column * across, low - (1 - row) * up, 2 * across, 2 * up))
        yield page


def chosen(table: Sequence[Alarm]) -> Sorts:
    """What is shown, at most as much as there is room for: of each verdict a row, then more of those that have most.

    First come sorts that always have the same verdict, and of these single changes; of others one example is named.
    """
    sorts: dict[str, dict] = {verdict: {} for verdict in VERDICTS}
    for alarm in table:
        sorts[alarm.verdict].setdefault(alarm.sort, []).append(alarm)
    found = {verdict: several for verdict, several in sorts.items() if several}
    rows = dict.fromkeys(found, 1)
    while found and sum(rows.values()) < ROWS:
        rows[max(found, key=lambda verdict: (len(found[verdict]) - COLUMNS * rows[verdict], verdict == NOT_BY_TURNING))] += 1
    shown: Sorts = {}
    for verdict, several in found.items():
        torn = {sort for sort in several if any(sort in other for v, other in found.items() if v != verdict)}
        ordered = sorted(several, key=lambda sort: (sort in torn, len(several[sort][0].changes)))[: COLUMNS * rows[verdict]]
        shown[verdict] = [
            (such_as(say(sort), several[sort][0].changes if sort in torn else ()), several[sort]) for sort in ordered
        ]
    return shown


def _lay(ax: Axes, puzzle: Puzzle, shown: Sorts, large: float) -> None:
    """Lay the poster on a sheet whose units are ``large`` times as long on paper as they are elsewhere."""
    inner, top = WIDTH - 2 * MARGIN, HEIGHT - MARGIN

    def text(words: str, size: float, x: float, y: float, **style) -> None:
        write(ax, x, y, words, size=size * large, linespacing=1.3, **style)

    text(POSTER, TITLE, MARGIN, top, ha="left", va="top", weight="bold")
    top -= height_of("", TITLE) * 0.9
    name = wrapped(POSTER_OF.format(capital(puzzle.title)) if shown else NONE, inner, NAME)
    text(name, NAME, MARGIN, top, ha="left", va="top")
    top -= height_of(name, NAME) + 0.08
    text(FOOT if puzzle.geometry else MIND, NAME, WIDTH / 2, MARGIN, va="bottom")
    lines = {verdict: [part[i : i + COLUMNS] for i in range(0, len(part), COLUMNS)] for verdict, part in shown.items()}
    names = {words: wrapped(words, inner / COLUMNS - 0.1, NAME, "bold") for part in shown.values() for words, _ in part}
    every = [line for several in lines.values() for line in several]
    taken = sum(0.18 + max(height_of(names[words], NAME) for words, _ in line) for line in every)
    taken += len(lines) * (HEAD + 0.15) + MARGIN + height_of(FOOT, NAME)
    side = min((top - taken) / max(len(every), 1), inner / COLUMNS - 0.4)
    for verdict, several in lines.items():
        heading = capital(WORDINGS[verdict].alarm)
        room = (inner - 1.3 * HEAD) * 72 * INCHES
        size = next((size for size in BAND if text_size(heading, "bold")[0] * size < room), BAND[-1])
        ax.add_patch(Rectangle((MARGIN, top - HEAD), inner, HEAD, facecolor=BACKDROP, lw=0))
        ax.add_patch(Rectangle((MARGIN, top - HEAD), HEAD, HEAD, facecolor=BODY, lw=0))
        text(SIGNS[verdict], BAND[0], MARGIN + HEAD / 2, top - HEAD / 2, color=PAPER)
        text(heading, size, MARGIN + 1.2 * HEAD, top - HEAD / 2, ha="left", weight="bold")
        top -= HEAD + 0.15
        for line in several:
            for i, (words, members) in enumerate(line):
                x = MARGIN + (i + 0.5) * inner / COLUMNS
                lay_typical(ax, puzzle, typical(puzzle, members), x, top - side / 2, side, size=LETTER * large)
                text(names[words], NAME, x, top - side - 0.06, va="top", weight="bold")
            top -= side + 0.18 + max(height_of(names[words], NAME) for words, _ in line)


PLAIN = 0.45
"""The cosine between a sticker and the line of sight from which on the sticker shows plainly."""
FILLED = 0.92
"""How much of its square a picture takes."""
FRAME = 4.5
"""How high the page is for which marks are drawn, in sides of a picture."""
FAVOUR = 0.3
"""How much better another point of view must be than that of the first print."""


@dataclass(frozen=True)
class Typical:
    """A member of a sort of anomaly: its arrangement, and where to look from (nowhere in particular where it is flat)."""

    alarm: Alarm
    arrangement: Arrangement
    camera: Camera | None


def typical(puzzle: Puzzle, members: Sequence[Alarm]) -> Typical:
    """The member that shows best, from the first print's point of view or a better one, higher than the puzzle's middle."""
    states = [changed(puzzle, alarm.changes) for alarm in members]
    if puzzle.geometry is None:
        return Typical(members[0], states[0], None)
    front = cameras(puzzle)[0]
    further = [Camera(way, AWAY * reach(puzzle)) for way in directions(30.0) if way[1] > 0.3]
    shows = [
        (_shown(puzzle, state, camera) + FAVOUR * (camera is front), -i, -j)
        for i, state in enumerate(states)
        for j, camera in enumerate([front, *further])
    ]
    _, i, j = max(shows)
    return Typical(members[-i], states[-i], [front, *further][-j])


def _shown(puzzle: Puzzle, state: Arrangement, camera: Camera) -> float:
    """How well one sees the slots that are changed: the sum over their facets of how squarely, and plainly is enough.

    A slot of which nothing is seen weighs against the rest.
    """
    geometry, total = puzzle.geometry, 0.0
    for slot in state.displaced():
        normals = np.array([geometry.facets[face.facet] for face in geometry.bodies[slot].faces if face.facet])
        squarely = float(np.clip(normals @ camera.direction, 0.0, PLAIN).sum())
        total += squarely if squarely > PLAIN / 2 else -1.0
    return round(total, 6)


def lay_typical(ax: Axes, puzzle: Puzzle, shown: Typical, x: float, y: float, side: float, size: float) -> None:
    """Lay the picture in a square round (x, y): what is changed marked and lettered, the rest pale, culprits hatched.

    ``size`` is that of the letters, in points, where there is room.
    """
    out = shown.arrangement.displaced()
    culprits = {piece for culprit in shown.alarm.culprits for piece in culprit.pieces}
    inks = Inks(
        colours=colours_by_paint(puzzle),
        hatched=hatched_pieces(puzzle, sorted(culprits)),
        marked=dict.fromkeys(out, 1.0),
        letters=out,
        faded=frozenset(range(len(puzzle.slots))) - out,
    )
    if puzzle.geometry is not None:
        seen = scene(puzzle, shown.arrangement, shown.camera).open()
        spot = fitting(np.concatenate(seen.outlines()), (x, y), FILLED * side)
        paint(ax, seen, inks, spot, size=size, frame=FRAME * side)
    else:
        spot = spot_within(puzzle, (x - side / 2, y - side / 2, side, side))
        lay_flat(ax, puzzle, shown.arrangement, replace(inks, highlight=out), spot)
