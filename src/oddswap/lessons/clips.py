"""One beat of a story as three tracks over time: what is said, what is seen, and what is turned.

Exercises on stories: one caption that names a culprit, and a clip cut short.
"""

import re
from dataclasses import replace

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.errors import BadOption, OddswapError
from oddswap.lessons.machinery.exercises import parts, written
from oddswap.reasoning.answers import Answer
from oddswap.showing.ink.canvas import sheet, wrapped, write
from oddswap.showing.ink.palette import BACKDROP, BODY, FAINT_INK, HIGHLIGHT, INK, PAPER, mix
from oddswap.showing.ink.widgets import Note, kindly
from oddswap.story.clip import Film
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.captions import WIDE, split_sentence
from oddswap.story.telling.timeline import Shot, Timeline, timeline
from oddswap.values.grammar import listed

LONG, LEFT, MARGIN = 8.2, 0.75, 0.15
"""The breadth of the tracks, of their names before them, and of the edge."""
VOICE, PICTURE, MOVE, GAP, AXIS = 0.8, 1.1, 0.34, 0.14, 0.34
"""The heights of the tracks, what lies between them, and the height of the seconds below."""
PICTURES, PIXELS = 7, 240
SMALLEST, LETTERS = 4.5, 8.5
"""Points of the letters."""


def draw_one_beat(answer: Answer, times: Timeline, number: int) -> Figure:
    """The beat with this number (from 0) on its way: its captions, seven looks at the puzzle, and arrows and turns.

    An arrow's block is light, a turn's is dark. Everything is where the timeline has it, to the frame.

    `BadOption` for a number that the story has not.

    >>> import oddswap
    >>> from oddswap import lessons
    >>> found = oddswap.answer("cube:2", "R U")
    >>> figure = lessons.draw_one_beat(found, oddswap.timeline(oddswap.story_of(found), found), 0)
    """
    if not 0 <= number < len(times.story.beats):
        raise BadOption(f"this story has no beat {number}: its beats are numbered from 0 to {len(times.story.beats) - 1}")
    shots = [shot for shot in times.shots if shot.beat == number]
    first, last = shots[0].first, shots[-1].last
    size = 2 * MARGIN + LEFT + LONG, 2 * MARGIN + AXIS + MOVE + GAP + PICTURE + GAP + VOICE
    ax = sheet(*size)

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
    low = MARGIN + AXIS
    for name, high in (("moves", MOVE), ("picture", PICTURE), ("voice", VOICE)):
        write(ax, MARGIN, low + high / 2, name, ha="left", size=9, weight="bold")
        low += high + GAP
    return sheet(*size, ax).figure


def _block(ax: Axes, left: float, right: float, low: float, high: float, colour: str) -> None:
    ax.add_patch(Rectangle((left, low), right - left, high, facecolor=colour, edgecolor=BODY, lw=0.6, zorder=2))


def _fitted(ax: Axes, text: str, left: float, right: float, low: float) -> None:
    """The text in a block of the voice, in letters as large as fit."""
    for size in np.arange(LETTERS, SMALLEST - 0.1, -0.25):
        lines = wrapped(text, right - left - 0.06, size)
        if (lines.count("\n") + 1) * size * 1.25 / 72 / 1.3 < VOICE - 0.04:
            break
    write(ax, (left + right) / 2, low + VOICE / 2, lines, size=size, linespacing=1.15, zorder=3)


def _seconds(ax: Axes, times: Timeline, first: int, last: int, at, low: float) -> None:
    rate = times.frames_a_second
    step = next(step for step in (1, 2, 5, 10, 30, 60, 600) if (last - first) / rate / step <= 16)
    for second in range(0, (last - first) // rate + 1, step):
        x = at(first + second * rate)
        ax.plot([x, x], [low - 0.05, low + MOVE + PICTURE + VOICE + 2 * GAP], color=BACKDROP, lw=0.7, zorder=0)
        write(ax, x, low - 0.15, f"{second} s", size=7, color=FAINT_INK)


def _moves(ax: Axes, names: tuple[str, ...], shots: list[Shot], at, low: float) -> None:
    for shot in (shot for shot in shots if shot.turns and not shot.again):
        _block(ax, at(shot.first), at(shot.last), low, MOVE, BODY if shot.moving else mix(HIGHLIGHT, PAPER, 0.7))
        if shot.moving:
            write(ax, (at(shot.first) + at(shot.last)) / 2, low + MOVE / 2, names[shot.move], size=7.5, color=PAPER, zorder=3)
    if not names:
        write(ax, (at(shots[0].first) + at(shots[-1].last)) / 2, low + MOVE / 2, "nothing is turned", size=8, color=INK)


def _pictures(ax: Axes, answer: Answer, times: Timeline, shots: list[Shot], at, low: float) -> None:
    """What is on the screen in the middle of each of equal stretches."""
    first, last = shots[0].first, shots[-1].last
    stage = Film(answer, times, "clear", PIXELS).stage()
    for i in range(PICTURES):
        frame = first + (last - first) * (2 * i + 1) // (2 * PICTURES)
        shot = next(shot for shot in shots if shot.first <= frame < shot.last)
        left, high = at(frame) - 0.47 * PICTURE, 0.94 * PICTURE
        ax.add_patch(Rectangle((left, low), high, PICTURE, facecolor=BACKDROP, lw=0, zorder=1))
        place = left, left + high, low + 0.03 * PICTURE, low + 0.97 * PICTURE
        ax.imshow(stage.picture(shot, frame).copy(), extent=place, interpolation="antialiased", zorder=4)


PROOF = ("law", "xray")
"""The pictures of the beats without which a viewer does not learn why."""


@kindly
def check_caption(sentence: str, found: Answer) -> Note:
    """Whether a sentence of one's own fits one caption and names a culprit of a *lookalike* by its home slot.

    Any text at all gets a kind sentence.

    >>> import oddswap
    >>> from oddswap import lessons
    >>> lessons.check_caption("It can be mended.", oddswap.answer("cube:2", "R U"))
    Not yet. Name one piece by its home, in capital letters, such as UF.
    """
    said = " ".join(written(sentence, "one sentence between the quotation marks.").split())
    try:
        pieces = split_sentence(said)
    except OddswapError as error:
        return Note(f"Not yet: {error}.")
    if len(pieces) > 1:
        return Note(f"Not yet. That makes {len(pieces)} captions, and one holds {WIDE} letters. Say it shorter.")
    named = [word for word in re.findall(r"\w+", said) if word in found.puzzle.slots]
    if not named:
        return Note("Not yet. Name one piece by its home, in capital letters, such as UF.")
    culprits = {piece for culprit in found.diagnosis.culprits for piece in culprit.pieces}
    if not culprits.intersection(named):
        law = found.diagnosis.broken[0].statement
        told = f"If {listed(dict.fromkeys(named))} changed, it would be seen, or it would not make up for this law"
        return Note(f"Not yet. {told}: {law}")
    return Note(f"Yes: one caption, and it names {listed(word for word in dict.fromkeys(named) if word in culprits)}.")


@kindly
def check_cut(chapters: str, found: Answer, seconds: float) -> Note:
    """Whether a clip of these chapters (separated by commas) leads to solved, says why, and is no longer than ``seconds``.

    Any text at all gets a kind sentence.

    >>> import oddswap
    >>> from oddswap import lessons
    >>> lessons.check_cut("the cube", oddswap.answer("cube:2", "R U"), 60)
    That cannot be read yet: there is no chapter of that name. There are: What is seen, What
    is wrong, Why it can happen, The way out, What to remember, Send me yours.
    """
    story = story_of(found)
    known = {_plain(beat.chapter): beat for beat in story.beats}
    there = f"There are: {', '.join(beat.chapter for beat in story.beats)}."
    asked = {_plain(chapter) for chapter in parts(chapters, f"chapters with commas between them. {there}")}
    if asked - known.keys():
        return Note(f"That cannot be read yet: there is no chapter of that name. {there}")
    kept = [beat for name, beat in known.items() if name in asked]
    for beat in story.beats:
        if beat in kept:
            continue
        if beat.moves:
            return Note(f'Not yet. Without "{beat.chapter}" the moves do not lead to solved.')
        if beat.picture in PROOF and not any(other.moves for other in story.beats[: story.beats.index(beat)]):
            law = found.diagnosis.broken[0].statement
            return Note(f'Not yet. Without "{beat.chapter}" nobody learns how it keeps this law: {law}')
    long = timeline(replace(story, beats=tuple(kept)), found).seconds
    if long > seconds:
        return Note(f"Not yet. That takes {long:.0f} seconds, and {seconds:g} are given. Leave something out.")
    return Note(f"Yes: {long:.0f} seconds, and a viewer can check every step of the argument.")


def _plain(chapter: str) -> str:
    return " ".join(re.findall(r"\w+", chapter.lower()))
