"""The figures of the README and the guides: each file is named after its call in ``figures.toml``, or the function here."""

import json
import tomllib
from collections.abc import Callable, Mapping, Sequence
from inspect import isfunction
from operator import itemgetter
from pathlib import Path

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter

from oddswap import draw, lessons
from oddswap.describing.changes import changed
from oddswap.describing.sights import covered
from oddswap.lessons.machinery.course import how_the_lessons_depend
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import Answer, answer
from oddswap.reasoning.opening.ways_map import ways_map
from oddswap.reasoning.verdicts.views import views
from oddswap.showing.ink.canvas import FONT, save, write
from oddswap.showing.ink.palette import FAINT_INK, INK, PALETTE, PAPER
from oddswap.showing.pages.output_folder import open_folder
from oddswap.story.large_words import TALL, WIDE
from oddswap.story.stage import Stage
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import Timeline, timeline
from oddswap.values.position import Appearance
from oddswap.workshop.worksheet_pages import sheet_pages
from oddswap.workshop.worksheets import worksheet

CALLS = tomllib.loads(Path(__file__).with_name("figures.toml").read_text("utf-8"))
"""What each figure shows that one call of a public function draws: which function, what it is given, and how."""
BY_SIZE = Path(__file__).with_name("growth.json")
"""Seconds by number of slabs; measured anew by ``python -m tests.benchmarks.test_growth``."""
BY_LENGTH = Path(__file__).with_name("growth_of_search.json")
"""Cost by depth; measured anew by ``python -m tests.benchmarks.test_growth_of_search``."""

PROOFS = {
    "GAP": ("GAP, Size", PALETTE["vermillion"], "^"),
    "GAP told the order": ("GAP, chain told\nthe order", PALETTE["orange"], "v"),
    "chain": ("our chain told\nthe order", PALETTE["blue"], "s"),
    "structure": ("proof by structure", PALETTE["bluish green"], "o"),
}
COSTS = {
    "states": ("states generated", PALETTE["blue"], "o"),
    "bytes": ("bytes kept", PALETTE["vermillion"], "s"),
    "seconds": ("processor seconds", PALETTE["bluish green"], "^"),
}
"""Words, colour and marker of each curve."""


def fork() -> Figure:
    """Two layers of a cube done and one upper edge upside down: of two photographs, one leaves it open and one decides."""
    puzzle = load("cube:3")
    flipped = puzzle.appearance(changed(puzzle, ["flip UF", "flip UR"]))
    above = [slot for slot in puzzle.slots if "U" in slot and slot not in ("U", "UF")]
    sights = list(covered(puzzle, above).sights)
    sights[puzzle.slot("UF")] = flipped.sights[puzzle.slot("UF")]
    chosen = [view for view in views(puzzle) if "".join(view.facets) in ("UFR", "UBL")]
    return lessons.draw_fork(puzzle, Appearance(puzzle.name, tuple(sights)), flipped, chosen)


def one_beat() -> Figure:
    """One beat of a clip along the time: what is said, what is seen and what turns."""
    found, times = _told_prism()
    return lessons.draw_one_beat(found, times, 6)


def frame_of_a_clip() -> Figure:
    """One picture of a clip in mid-turn: the puzzle with its culprit marked, and beside it the strip of moves."""
    found, times = _told_prism()
    shot = [shot for shot in times.shots if shot.moving and not shot.again][4]
    return Stage(found, times, WIDE, None, 1080).figure(shot, (shot.first + shot.last) // 2)


def upright_frame_of_a_clip() -> Figure:
    """The same for a telephone held upright, where the pieces that may be the culprit are hatched."""
    found, times = _told_prism()
    shot = next(shot for shot in times.shots if shot.marked and times.story.beats[shot.beat].picture == "xray")
    return Stage(found, times, TALL, None, 1920).figure(shot, shot.last - 1)


def ways_out_of_the_box() -> Figure:
    """What leaving a box and coming back can do that no turn inside can, and in how few turns."""
    return draw.draw_ways(ways_map(load("cuboid:2x3x4"), 12))


def worksheet_page() -> Figure:
    """A sheet of an evening's questions, with letters on the stickers."""
    return sheet_pages(worksheet(load("shape-mod:prism8"), 1, 7))[0]


def growth_of_cost() -> Figure:
    """The seconds that it takes to prove the order of a cube's group, by the number of its slabs, in four ways."""
    rows = json.loads(BY_SIZE.read_text("utf-8"))["rows"]
    figure = Figure(figsize=(7.2, 4.4), facecolor=PAPER)
    title = "processor time to prove how many arrangements the turns of a cube reach"
    ax = _axes(figure, (0.1, 0.13, 0.66, 0.8), title, range(3, 26, 2), "slabs each way")
    for key, (words, colour, marker) in PROOFS.items():
        points = [(row["slabs"], row[key]) for row in rows if key in row]
        ax.plot(*zip(*points, strict=True), color=colour, marker=marker, markersize=4.5, linewidth=1.4)
        if key == "GAP":
            x, y = max(points, key=itemgetter(1))
            write(ax, x, 1.4 * y, words, va="baseline")
        else:
            write(ax, points[-1][0] + 0.5, points[-1][1], words, ha="left")
    ax.yaxis.set_major_formatter(FuncFormatter(lambda value, _: f"{value:g} s" if value >= 1 else f"{1000 * value:g} ms"))
    return figure


def growth_of_search() -> Figure:
    """States, bytes and seconds to prove a way out shortest, by its length, on a cube with marked centres."""
    rows = json.loads(BY_LENGTH.read_text("utf-8"))["rows"]
    figure = Figure(figsize=(7.2, 3.6), facecolor=PAPER)
    for number, (key, (words, colour, marker)) in enumerate(COSTS.items()):
        ax = _axes(figure, (0.075 + 0.325 * number, 0.15, 0.255, 0.67), words, range(1, rows[-1]["depth"] + 1, 2), "turns")
        depths, values = zip(*((row["depth"], row[key]) for row in rows if row[key] > 0), strict=True)
        ax.plot(depths, values, color=colour, marker=marker, markersize=4, linewidth=1.4)
    title = "what it costs to prove a way out the shortest, by its length (cube with marked centres)"
    figure.text(0.075, 0.93, title, size=10, family=FONT, color=INK)
    return figure


def _axes(figure: Figure, place: tuple[float, float, float, float], title: str, ticks: range, across: str) -> Axes:
    ax = figure.add_axes(place, yscale="log", xticks=ticks)
    ax.set_title(title, loc="left", size=10, family=FONT, color=INK)
    ax.set_xlabel(across, family=FONT, color=INK)
    ax.grid(axis="y", color=FAINT_INK, alpha=0.25, linewidth=0.6)
    ax.spines[["top", "right"]].set_visible(False)
    return ax


def _told_prism() -> tuple[Answer, Timeline]:
    prism = load("shape-mod:prism8")
    found = answer(prism, prism.appearance(changed(prism, ["flip UF"])))
    return found, timeline(story_of(found), found)


def _called(shows: str, function: str, of: Sequence = (), how: Mapping | None = None) -> Callable[[], Figure]:
    def figure() -> Figure:
        return getattr(draw if function in draw.__all__ else lessons, function)(*of, **how or {})

    figure.__doc__ = shows
    return figure


FIGURES: dict[str, Callable[[], Figure]] = {name: _called(**call) for name, call in CALLS.items()}
"""All of them, by their names."""
OWN = [value for name, value in globals().items() if isfunction(value) and value.__module__ == __name__ and name[0] != "_"]
FIGURES |= {figure.__name__: figure for figure in (*OWN, how_the_lessons_depend)}


def rebuild(folder: str | Path, *, force: bool = False) -> list[Path]:
    """Draw every figure anew into ``folder`` as SVG, and return the files; ``force`` as for an `OutputFolder`."""
    with open_folder(Path(folder), force) as out:
        return out.lay("figures", {f"{n}.svg": save(draw(), out.making / f"{n}.svg") for n, draw in FIGURES.items()})
