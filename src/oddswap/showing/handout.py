"""The handout of a story: one or two pages in PDF, vector, with fonts embedded, readable in black and white."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from oddswap.reasoning.answers import Answer
from oddswap.showing.camera import cameras, reach
from oddswap.showing.canvas import INCHES, sheet, wrapped, write
from oddswap.showing.flat import centred, extent, lay_flat, token_colours
from oddswap.showing.marking import hatched_pieces
from oddswap.showing.painting import Inks, Spot, paint
from oddswap.showing.palette import FAINT_INK, INK, colours_for
from oddswap.showing.scene import scene
from oddswap.showing.strip import draw_strip
from oddswap.showing.timeline import Timeline

PAPERS: Mapping[str, tuple[float, float]] = {"A4": (8.27, 11.69), "Letter": (8.5, 11.0)}
"""Width and height in inches."""
EDGE = 0.6
PER_PAGE = 30
"""So many moves are drawn on one page at most; more are told in words."""
NOTES = 5


def write_handout(
    answer: Answer, times: Timeline, path: Path, colours: Mapping[str, str] | None = None, paper: str = "A4"
) -> Path:
    """A page with the position, the reason and the culprits, and the moves in a strip, on a second page where they are many.

    Stickers bear letters, so that nothing is lost in black and white. The file appears complete or not at all.
    """
    with TemporaryDirectory(dir=path.parent, prefix=".making-") as made:
        target = Path(made) / path.name
        dateless = {"CreationDate": None, "Creator": None, "Producer": None}
        with mpl.rc_context({"pdf.fonttype": 42}), PdfPages(target, metadata=dateless) as pages:
            for figure in _pages(answer, times, colours, PAPERS[paper]):
                pages.savefig(figure)
        os.replace(target, path)
    return path


def _pages(answer: Answer, times: Timeline, colours, paper: tuple[float, float]) -> list[Figure]:
    story = times.story
    own = colours if story.colours == "visitor" else None
    ax = _page(paper)
    wide, high = (side / INCHES for side in paper)
    edge = EDGE / INCHES
    y = high - edge
    y = _text(ax, story.title, edge, y, wide - 2 * edge, 17, weight="bold") - 0.1
    y = _position(ax, answer, times, own, y, wide)
    names = [name for beat in times.names for name in beat]
    for beat in story.beats:
        if beat.picture == "way":
            y = _text(ax, f"{beat.chapter}: {beat.moves}", edge, y, wide - 2 * edge, 11, weight="bold") - 0.06
        else:
            y = _text(ax, beat.chapter, edge, y, wide - 2 * edge, 11, weight="bold") - 0.02
        y = _text(ax, " ".join(beat.says), edge, y, wide - 2 * edge, 10) - 0.12
    pages = [ax.figure]
    if names and len(names) <= PER_PAGE and times.shots[0].shown is not None:
        room = y - edge
        strip = _strip(answer, times, own)
        tall = strip.get_figheight() / strip.get_figwidth() * (wide - 2 * edge)
        if tall > room:
            ax = _page(paper)
            pages.append(ax.figure)
            y = high - edge
        y = _place(ax.figure, answer, times, own, y, tall, paper)
    _notes(ax, y, wide, edge)
    return pages


def _page(paper: tuple[float, float]) -> Axes:
    ax = sheet(paper[0] / INCHES, paper[1] / INCHES, None)
    ax.figure.set_facecolor("white")
    return ax


def _text(ax: Axes, text: str, x: float, y: float, wide: float, size: float, weight: str = "normal") -> float:
    """Lines from the left, and where they end below."""
    lines = wrapped(text, wide, size, weight)
    write(ax, x, y, lines, ha="left", va="top", size=size, weight=weight, linespacing=1.35)
    return y - (lines.count("\n") + 1) * size * 1.42 / 72 / INCHES


def _position(ax: Axes, answer: Answer, times: Timeline, own, y: float, wide: float) -> float:
    """The position from both sides, letters on it, the pieces that may be the culprit hatched."""
    puzzle, side = answer.puzzle, 2.1
    pieces = {piece for culprit in answer.diagnosis.culprits for piece in culprit.pieces}
    hatched = hatched_pieces(puzzle, sorted(pieces)) if pieces else {}
    if puzzle.geometry is None:
        inks = Inks(token_colours(puzzle.flat, own), hatched=hatched, letters=True)
        spot = centred(puzzle.flat, wide / 2, y - side / 2, 0.9 * side / 2 / max(extent(puzzle.flat)))
        lay_flat(ax, puzzle, answer.appearance, inks, spot)
        return y - side - 0.1
    inks = Inks(colours_for(puzzle, own), hatched=hatched, letters=True)
    for camera, x in zip(cameras(puzzle), (wide / 2 - 1.3, wide / 2 + 1.3), strict=True):
        ax.add_patch(Rectangle((x - side / 2, y - side), side, side, facecolor="none", edgecolor=FAINT_INK, lw=0.6))
        spot = Spot(x, y - side / 2, 0.94 * side / 2 / (1.14 * reach(puzzle)))
        paint(ax, scene(puzzle, answer.appearance, camera).open(), inks, spot, size=7)
        write(ax, x, y - side - 0.1, camera.words, size=8, color=FAINT_INK)
    y -= side + 0.28
    if hatched:
        write(ax, wide / 2, y, "hatched: one of these may be the culprit", size=9, color=INK)
        y -= 0.2
    return y


def _strip(answer: Answer, times: Timeline, own) -> Figure:
    return draw_strip(answer.turning, times.shots[0].shown, times.story.moves, colours=own, letters=True, per_row=7)


def _place(figure: Figure, answer: Answer, times: Timeline, own, top: float, tall: float, paper: tuple[float, float]) -> float:
    """The strip across the page below ``top``; returns where it ends."""
    edge, wide, high = EDGE / INCHES, paper[0] / INCHES, paper[1] / INCHES
    part = figure.add_axes((edge / wide, (top - tall) / high, 1 - 2 * edge / wide, tall / high))
    draw_strip(answer.turning, times.shots[0].shown, times.story.moves, colours=own, letters=True, per_row=7, ax=part)
    return top - tall - 0.15


def _notes(ax: Axes, y: float, wide: float, edge: float) -> None:
    """Lines to write on, as far as there is room."""
    y -= 0.1
    if y < edge + 0.6:
        return
    write(ax, edge, y, "Notes", ha="left", size=10, weight="bold")
    for line in range(1, NOTES + 1):
        at = y - 0.32 * line
        if at > edge:
            ax.add_line(Line2D([edge, wide - edge], [at, at], color=FAINT_INK, lw=0.5))
