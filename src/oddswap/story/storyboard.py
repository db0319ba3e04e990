"""Pictures of a clip at chosen moments, each with its time and what is said then: a storyboard."""

from collections.abc import Sequence

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.errors import BadOption
from oddswap.showing.ink.canvas import sheet, write
from oddswap.showing.ink.palette import BODY, FAINT_INK
from oddswap.story.clip import Film
from oddswap.story.telling.captions import clock

WIDE, GAP, WORDS = 3.4, 0.16, 0.5
"""The breadth of a picture, what lies between two, and the room for words below one."""


def draw_storyboard(film: Film, seconds: Sequence[float], per_row: int = 2, *, ax: Axes | None = None) -> Figure:
    """The clip's pictures at these times, row by row. `BadOption` for a time that it has not.

    >>> import oddswap
    >>> from oddswap import draw
    >>> found = oddswap.answer("cube:2", "R U")
    >>> times = oddswap.timeline(oddswap.story_of(found), found)
    >>> figure = draw.draw_storyboard(draw.Film(found, times, "wide", 360), [1.0, 8.0])
    """
    times = film.times
    if not seconds:
        raise BadOption("a storyboard needs a time or more: give seconds such as [2, 10]")
    for second in seconds:
        if not 0 <= second < times.seconds:
            raise BadOption(f"the clip has no picture at {second} s: give seconds from 0 to less than {times.seconds:.1f}")
    stage, (across, up) = film.stage(), film.size
    high = WIDE * up / across
    rows = -(-len(seconds) // per_row)
    columns = min(per_row, len(seconds))
    ax = sheet(columns * (WIDE + GAP) + GAP, rows * (high + WORDS + GAP) + GAP, ax)
    top = rows * (high + WORDS + GAP)
    for place, second in enumerate(seconds):
        frame = int(second * times.frames_a_second)
        x, y = GAP + place % per_row * (WIDE + GAP), top - place // per_row * (high + WORDS + GAP) - high
        picture = stage.picture(times.shot_at(frame), frame)[..., :3].copy()
        ax.imshow(picture, extent=(x, x + WIDE, y, y + high), aspect="auto", interpolation="antialiased", zorder=1)
        ax.add_patch(Rectangle((x, y), WIDE, high, facecolor="none", edgecolor=BODY, lw=0.8, zorder=2))
        write(ax, x, y - 0.12, clock(frame, times.frames_a_second), ha="left", size=8, color=FAINT_INK)
        said = next((cue.lines for cue in times.cues if cue.first <= frame < cue.last), ())
        write(ax, x + WIDE / 2, y - 0.06, "\n".join(said), va="top", size=8, linespacing=1.2)
    sheet(columns * (WIDE + GAP) + GAP, top + GAP, ax)
    return ax.figure
