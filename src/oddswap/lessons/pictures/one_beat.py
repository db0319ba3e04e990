"""One beat of a story as three tracks over time: what is said, what is seen, and what is turned."""

from __future__ import annotations

from collections.abc import Iterable

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.errors import BadOption
from oddswap.reasoning.answers import Answer
from oddswap.showing.ink.arrows import draw_arrow
from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.ink.canvas import sheet, wrapped, write
from oddswap.showing.ink.flat import centred, extent, lay_flat, token_colours
from oddswap.showing.ink.painting import Inks, Spot, paint
from oddswap.showing.ink.palette import BACKDROP, BODY, FAINT_INK, HIGHLIGHT, INK, PAPER, colours_for, mix
from oddswap.showing.ink.scene import scene
from oddswap.story.timeline import Shot, Timeline

LONG, LEFT, MARGIN = 8.2, 0.75, 0.15
"""The breadth of the tracks, of their names before them, and of the edge."""
VOICE, PICTURE, MOVE, GAP, AXIS = 0.8, 1.1, 0.34, 0.14, 0.34
"""The heights of the tracks, what lies between them, and the height of the seconds below."""
PICTURES = 7
SMALLEST, LETTERS = 4.5, 8.5
"""Points of the letters."""


def one_beat(answer: Answer, times: Timeline, number: int, *, ax: Axes | None = None) -> Figure:
    """The beat with this number (from 0) on its way: its captions, seven looks at the puzzle, and arrows and turns.

    An arrow's block is light, a turn's is dark. Everything is where the timeline has it, to the frame.

    `BadOption` for a number that the story has not.
    """
    if not 0 <= number < len(times.story.beats):
        raise BadOption(f"this story has no beat {number}: its beats are numbered from 0 to {len(times.story.beats) - 1}")
    shots = [shot for shot in times.shots if shot.beat == number]
    first, last = shots[0].first, shots[-1].last
    height = 2 * MARGIN + AXIS + MOVE + GAP + PICTURE + GAP + VOICE
    ax = sheet(2 * MARGIN + LEFT + LONG, height, ax)

    def at(frame: int) -> float:
        return MARGIN + LEFT + LONG * (frame - first) / (last - first)

    low = MARGIN + AXIS
    _seconds(ax, times, first, last, at, low)
    _moves(ax, times.names[number], shots, at, low)
    low += MOVE + GAP
    _pictures(ax, answer, times, shots, at, low)
    low += PICTURE + GAP
    for cue in (cue for sentence in times.spoken[number] for cue in sentence):
        _block(ax, at(cue.first), at(cue.last), low, VOICE, PAPER)
        _fitted(ax, cue.text, at(cue.first), at(cue.last), low)
    for name, middle in (
        ("moves", MARGIN + AXIS + MOVE / 2),
        ("picture", MARGIN + AXIS + MOVE + GAP + PICTURE / 2),
        ("voice", low + VOICE / 2),
    ):
        write(ax, MARGIN, middle, name, ha="left", size=9, weight="bold")
    return ax.figure


def _block(ax: Axes, left: float, right: float, low: float, high: float, colour: str) -> None:
    ax.add_patch(Rectangle((left, low), right - left, high, facecolor=colour, edgecolor=BODY, lw=0.6, zorder=2))


def _fitted(ax: Axes, text: str, left: float, right: float, low: float) -> None:
    """The text in a block of the voice, in letters as large as fit."""
    size = LETTERS
    while True:
        lines = wrapped(text, right - left - 0.06, size)
        if (lines.count("\n") + 1) * size * 1.25 / 72 / 1.3 < VOICE - 0.04 or size <= SMALLEST:
            break
        size -= 0.25
    write(ax, (left + right) / 2, low + VOICE / 2, lines, size=size, linespacing=1.15, zorder=3)


def _seconds(ax: Axes, times: Timeline, first: int, last: int, at, low: float) -> None:
    rate = times.frames_a_second
    step = next(step for step in (1, 2, 5, 10, 30, 60, 600) if (last - first) / rate / step <= 16)
    for second in range(0, (last - first) // rate + 1, step):
        x = at(first + second * rate)
        ax.plot([x, x], [low - 0.05, low + MOVE + PICTURE + VOICE + 2 * GAP], color=BACKDROP, lw=0.7, zorder=0)
        write(ax, x, low - 0.15, f"{second} s", size=7, color=FAINT_INK)


def _moves(ax: Axes, names: tuple[str, ...], shots: list[Shot], at, low: float) -> None:
    for shot in shots:
        if not shot.turns:
            continue
        _block(ax, at(shot.first), at(shot.last), low, MOVE, BODY if shot.moving else mix(HIGHLIGHT, PAPER, 0.7))
        if shot.moving:
            write(ax, (at(shot.first) + at(shot.last)) / 2, low + MOVE / 2, names[shot.move], size=7.5, color=PAPER, zorder=3)
    if not names:
        write(ax, (at(shots[0].first) + at(shots[-1].last)) / 2, low + MOVE / 2, "nothing is turned", size=8, color=INK)


def _pictures(ax: Axes, answer: Answer, times: Timeline, shots: list[Shot], at, low: float) -> None:
    """What is on the screen in the middle of each of equal stretches."""
    first, last = shots[0].first, shots[-1].last
    for i in range(PICTURES):
        frame = first + (last - first) * (2 * i + 1) // (2 * PICTURES)
        shot = next(shot for shot in shots if shot.first <= frame < shot.last)
        x = at(frame)
        side = PICTURE - 0.04
        ax.add_patch(Rectangle((x - side / 2, low), side, PICTURE, facecolor=BACKDROP, lw=0, zorder=1))
        _look(ax, answer, times, shot, shot.done(frame), (x, low + PICTURE / 2))


def _look(ax: Axes, answer: Answer, times: Timeline, shot: Shot, done: float, middle: Iterable[float]) -> None:
    puzzle, size = answer.turning, 0.94 * PICTURE / 2
    if puzzle.geometry is None:
        spot = centred(puzzle.flat, *middle, 0.9 * size / max(extent(puzzle.flat)))
        lay_flat(ax, puzzle, shot.shown, Inks(token_colours(puzzle.flat, None)), spot)
        return
    camera, spot = cameras(puzzle)[0], Spot(*middle, size / (1.14 * reach(puzzle)))
    turning = [(turn, done) for turn in shot.turns] if shot.moving else []
    paint(ax, scene(puzzle, shot.shown, camera, turning).open(), Inks(colours_for(puzzle, None)), spot, zorder=4, size=4)
    for turn in shot.turns if not shot.moving else ():
        draw_arrow(ax, puzzle, shot.shown, turn, camera, spot, zorder=6)
