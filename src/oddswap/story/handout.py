"""The handout of a story: one or two pages to print, readable in black and white."""

from collections.abc import Mapping
from dataclasses import replace

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import Answer
from oddswap.showing.ink.camera import cameras
from oddswap.showing.ink.canvas import EDGE, Paper, write
from oddswap.showing.ink.flat import colours_by_paint, lay_flat, spot_within
from oddswap.showing.ink.painting import Inks, hatched_pieces
from oddswap.showing.ink.palette import FAINT_INK, INK
from oddswap.showing.ink.sight import slots_where
from oddswap.showing.pictures.strip import draw_strip, lay_turn, strip_height
from oddswap.story.telling.timeline import Timeline
from oddswap.values.position import START, Appearance, Arrangement, Holding
from oddswap.words.products.stories import HATCHED
from oddswap.words.to_visitors.moves import letters_explained

PICTURED = 30
"""A way out of more moves is told in words only."""
SIDE = 2.1
NOTES = 5
LETTERS = 6.0
"""The size of letters in points, where there is room, for each unit that a picture is broad."""


def handout_pages(answer: Answer, times: Timeline, colours: Mapping[str, str] | None = None, paper: str = "A4") -> list[Figure]:
    """A page with the position, the reason and the culprits, and the moves in a strip, on a second page where they are many.

    Stickers bear letters, so that nothing is lost in black and white.
    """
    story, page = times.story, Paper(paper)
    own = colours if story.colours == "visitor" else None
    page.text(story.title, 17, weight="bold")
    pieces = {piece for culprit in answer.diagnosis.culprits for piece in culprit.pieces}
    start, puzzle = times.shots[0].shown, answer.turning
    inks = Inks(
        colours_by_paint(puzzle, own),
        hatched=hatched_pieces(puzzle, sorted(pieces)) if pieces else {},
        highlight=frozenset(slots_where(start, next((shot.marked for shot in times.shots if shot.marked), ()))),
        letters=True,
        holding=times.holding,
    )
    lay_views(page, puzzle, start, inks)
    for beat in story.beats:
        page.heading(f"{beat.chapter}: {beat.moves}" if beat.moves else beat.chapter, 10)
        page.text(" ".join(beat.says), 9.5, after=0.07)
    names = [name for beat in times.names for name in beat]
    if names:
        page.text(letters_explained(puzzle, story.moves), 9.5)
    if len(names) > PICTURED and puzzle.geometry is not None:
        lay_checks(page, puzzle, times, replace(inks, hatched={}, highlight=frozenset()))
    if 0 < len(names) <= PICTURED:
        start = next(shot.shown for shot in times.shots if isinstance(shot.shown, Arrangement))
        followed = slots_where(start, map(puzzle.slot, story.culprit))
        lay_strip(page, puzzle, start, story.moves, holding=times.holding, colours=own, highlight=followed)
    _notes(page)
    return page.pages


def lay_strip(page: Paper, puzzle: Puzzle, start: Arrangement, moves: str, *, per_row: int = 7, holding: Holding = START, **how):
    """A strip across the page as `draw_strip` makes it, as high as it comes out, with letters on the stickers."""
    ax = page.box(strip_height(puzzle, start, moves, per_row, holding) * page.inner)
    draw_strip(puzzle, start, moves, letters=True, per_row=per_row, holding=holding, **how, ax=ax)


def lay_checks(page: Paper, puzzle: Puzzle, times: Timeline, inks: Inks) -> None:
    """What the puzzle should look like after each part of the way, from both sides."""
    ends = {shot.beat: shot for shot in times.shots if times.names[shot.beat]}
    each = page.inner / 3
    for place, (number, shot) in enumerate(ends.items()):
        if place % 3 == 0:
            page.room(each / 2 + 0.2)
            page.y -= each / 2 + 0.2
        x = EDGE + (place % 3 + 0.5) * each
        lay_both_sides(page.ax, puzzle, shot.shown, inks, x, page.y + each / 4 + 0.2, 0.45 * each)
        write(page.ax, x, page.y + 0.08, times.story.beats[number].chapter, size=8, color=FAINT_INK)


def lay_views(page: Paper, puzzle: Puzzle, shown: Arrangement | Appearance, inks: Inks, side: float = SIDE) -> None:
    """The position from both sides; the pieces that may be the culprit hatched."""
    page.room(side + 0.6)
    middle, top = page.width / 2, page.y
    if puzzle.geometry is None:
        lay_flat(page.ax, puzzle, shown, inks, spot_within(puzzle, (middle - side, top - side, 2 * side, side)))
    else:
        lay_both_sides(page.ax, puzzle, shown, inks, middle, top - side / 2, side)
        for camera, way in zip(cameras(puzzle, inks.holding), (-1, 1), strict=True):
            write(page.ax, middle + way * 0.56 * side, top - side - 0.1, camera.words, size=11, color=FAINT_INK)
    page.y = top - side - 0.28
    if inks.hatched:
        write(page.ax, middle, page.y, HATCHED, size=11, color=INK)
        page.y -= 0.2


def lay_both_sides(
    ax: Axes, puzzle: Puzzle, shown: Arrangement | Appearance, inks: Inks, x: float, y: float, side: float
) -> None:
    """A solid from both points of view in two frames beside each other, their middle at (x, y)."""
    gap = 0.12 * side
    for camera, way in zip(cameras(puzzle, inks.holding), (-1, 1), strict=True):
        at = x + way * (side + gap) / 2
        ax.add_patch(Rectangle((at - side / 2, y - side / 2), side, side, facecolor="none", edgecolor=FAINT_INK, lw=0.6))
        lay_turn(ax, puzzle, shown, (), inks, at, y, 1.03 * side, camera=camera, size=LETTERS * side)


def _notes(page: Paper) -> None:
    """Lines to write on, as far as there is room."""
    y = page.y - 0.1
    if y < EDGE + 0.6:
        return
    write(page.ax, EDGE, y, "Notes", ha="left", size=10, weight="bold")
    for line in range(1, NOTES + 1):
        at = y - 0.32 * line
        if at > EDGE:
            page.ax.add_line(Line2D([EDGE, page.width - EDGE], [at, at], color=FAINT_INK, lw=0.5))
