"""The course as data: each lesson's question, its minutes, and which lessons it needs; as a table and as a picture."""

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import FancyArrowPatch, Rectangle

from oddswap.showing.ink.canvas import sheet, wrapped, write
from oddswap.showing.ink.palette import BODY, CUT, FAINT_INK, INK, PAPER

WIDTH, HEIGHT = 1.66, 0.74
"""Of the card of a lesson, on the sheet."""
ACROSS, DOWN = 2.06, 1.28
"""From one card to the next."""
MARGIN = 0.24


@dataclass(frozen=True)
class Lesson:
    """A notebook by its file's name, with the numbers of the lessons that it needs, and of those that only help."""

    name: str
    question: str
    minutes: int
    needs: tuple[str, ...]
    helps: tuple[str, ...]
    column: int = 0

    @property
    def number(self) -> str:
        return self.name[:2]


@cache
def lessons() -> tuple[Lesson, ...]:
    """All lessons in their order.

    >>> lessons()[1].question
    'Can two tiles change places?'
    """
    data = tomllib.loads(files(__package__).joinpath("course.toml").read_text("utf-8"))
    return tuple(
        Lesson(name, entry["question"], entry["minutes"], tuple(entry["needs"]), tuple(entry["helps"]), entry["column"])
        for name, entry in sorted(data.items())
    )


def known_before(number: str, course: Sequence[Lesson] | None = None) -> frozenset[str]:
    """The numbers of all lessons that one needs, those that they need in their turn, and so on.

    >>> sorted(known_before("05"))
    ['00', '02', '04']
    """
    needs = {lesson.number: lesson.needs for lesson in course or lessons()}
    return frozenset(needs[number]).union(*(known_before(other, course) for other in needs[number]))


def index_table(folder: str = "notebooks", course: Sequence[Lesson] | None = None) -> str:
    """The lessons as a table in Markdown, each linked to its notebook in ``folder``."""
    rows = ["| | question | minutes | needs |", "|---|---|---|---|"]
    for lesson in course or lessons():
        helped = f"; {', '.join(lesson.helps)} helps" if lesson.helps else ""
        linked = f"[{lesson.question}]({folder}/{lesson.name}.ipynb)"
        rows.append(f"| {lesson.number} | {linked} | {lesson.minutes} | {', '.join(lesson.needs) or 'nothing'}{helped} |")
    return "\n".join(rows)


def levels(course: Sequence[Lesson]) -> dict[str, int]:
    """How many lessons must come one after another before each: 0 for those that need and are helped by none."""
    found: dict[str, int] = {}
    for lesson in course:
        found[lesson.number] = max((found[other] + 1 for other in lesson.needs + lesson.helps), default=0)
    return found


def how_the_lessons_depend(course: Sequence[Lesson] | None = None) -> Figure:
    """The lessons as cards: a full arrow leads from a lesson to one that needs it, a broken one where it only helps.

    There is no arrow to a lesson from one that another lesson on the way to it needs in any case.
    """
    course = tuple(course or lessons())
    level = levels(course)
    width = max(lesson.column for lesson in course) * ACROSS + WIDTH + 2 * MARGIN
    height = max(level.values()) * DOWN + HEIGHT + 2 * MARGIN
    places = {
        lesson.number: np.array([MARGIN + lesson.column * ACROSS, height - MARGIN - HEIGHT - level[lesson.number] * DOWN])
        for lesson in course
    }
    ax = sheet(width, height)
    for lesson in course:
        for other in _directly(lesson.needs, course) + lesson.helps:
            _draw_arrow(ax, places[other], places[lesson.number], "--" if other in lesson.helps else "-")
    for lesson in course:
        _draw_card(ax, lesson, *places[lesson.number])
    return ax.figure


def _directly(needs: Sequence[str], course: Sequence[Lesson]) -> tuple[str, ...]:
    """Those of ``needs`` that no other of them needs."""
    further = frozenset().union(*(known_before(other, course) for other in needs))
    return tuple(other for other in needs if other not in further)


def _draw_card(ax: Axes, lesson: Lesson, x: float, y: float) -> None:
    ax.add_patch(Rectangle((x, y), WIDTH, HEIGHT, facecolor=PAPER, edgecolor=BODY, lw=1.2, zorder=2))
    write(ax, x + 0.08, y + HEIGHT - 0.12, lesson.number, ha="left", size=9, weight="bold", color=INK, zorder=3)
    write(ax, x + WIDTH - 0.08, y + HEIGHT - 0.12, f"{lesson.minutes} minutes", ha="right", size=7.5, color=FAINT_INK, zorder=3)
    write(ax, x + WIDTH / 2, y + 0.28, wrapped(lesson.question, WIDTH - 0.16, 9.0), size=9, zorder=3)


def _draw_arrow(ax: Axes, above: np.ndarray, below: np.ndarray, style: str) -> None:
    """From the lower edge of one card to the upper edge of another, the nearer halves of both where they stand apart."""
    lean = 0.46 * np.sign(below[0] - above[0])
    start, end = above + [WIDTH * (0.5 + lean), 0], below + [WIDTH * (0.5 - lean), HEIGHT]
    look = {"color": CUT, "lw": 2.2, "mutation_scale": 15, "shrinkA": 0, "shrinkB": 2, "zorder": 1}
    ax.add_patch(FancyArrowPatch(start, end, arrowstyle="-|>", linestyle=style, **look))
