"""The course as data: each lesson's question, its minutes, and which lessons it needs; as a table and as a picture.

Its glossary: every technical word in one place, what it means, where it first appears, and an example.
"""

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import FancyArrowPatch, Rectangle
from matplotlib.path import Path

from oddswap.errors import BadOption, quoted
from oddswap.showing.ink.canvas import sheet, wrapped, write
from oddswap.showing.ink.palette import BODY, CUT, FAINT_INK, INK, PAPER

WIDTH, HEIGHT, HEAD = 1.66, 1.04, 0.3
"""Of the card of a lesson, on the sheet, and of its head."""
ACROSS, DOWN = 1.98, 1.36
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
    row: int = 0
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
        Lesson(name, entry["question"], entry["minutes"], tuple(entry["needs"]), tuple(entry["helps"]), *entry["place"])
        for name, entry in sorted(data.items())
    )


def known_before(number: str, course: Sequence[Lesson] | None = None) -> frozenset[str]:
    """The numbers of all lessons that one needs, those that they need in their turn, and so on.

    >>> sorted(known_before("07"))
    ['00', '02', '03', '06']
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


def how_the_lessons_depend(course: Sequence[Lesson] | None = None) -> Figure:
    """The lessons as cards, in the rows and columns of ``course.toml``: lines with an arrow lead to those that need one.

    There is no line to a lesson from one that another lesson on the way to it needs in any case, and one that only helps is
    named below. A card with a dark head needs no other.
    """
    course = tuple(course or lessons())
    bottom = MARGIN + 0.36 + 0.24 * sum(len(lesson.helps) for lesson in course)
    height = bottom + max(lesson.row for lesson in course) * DOWN + HEIGHT + MARGIN
    width = max(lesson.column for lesson in course) * ACROSS + WIDTH + 2 * MARGIN
    ax = sheet(width, height)
    top = height - MARGIN - HEIGHT
    places = {one.number: np.array([MARGIN + one.column * ACROSS, top - one.row * DOWN]) for one in course}
    for lesson in course:
        _draw_card(ax, lesson, *places[lesson.number])
        for line in _lines_from(lesson, course, places):
            look = {"color": CUT, "lw": 2.2, "mutation_scale": 14, "joinstyle": "round"}
            ax.add_patch(FancyArrowPatch(path=Path(line), arrowstyle="-|>", **look))
    told = ["Dark head: begin here, in any order. An arrow leads to a lesson that needs the one it comes from."]
    told += [f"{lesson.number} looks back at {other}; it does not need it." for lesson in course for other in lesson.helps]
    for row, line in enumerate(told):
        write(ax, MARGIN, bottom - 0.4 - 0.24 * row, line, ha="left", size=12)
    return ax.figure


def _lines_from(lesson: Lesson, course: Sequence[Lesson], places: Mapping[str, np.ndarray]) -> Iterator[np.ndarray]:
    """A line of right angles to each lesson that needs this one directly.

    It goes down and aside: into its top from the row above, else into its side. Where
    a card lies below it leaves by the side. The lines from a lower edge keep their order, so that none crosses another.
    """
    needing = [other for other in course if lesson.number in _directly(other.needs, course)]
    below = sorted(
        (other for other in needing if other.row > lesson.row),
        key=lambda other: (other.column - lesson.column) / (other.row - lesson.row),
    )
    straight = next((i for i, other in enumerate(below) if other.column == lesson.column), (len(below) - 1) / 2)
    x, y = places[lesson.number]
    for other in needing:
        over, down = np.sign(other.column - lesson.column), other.row - lesson.row
        to_x, to_y = places[other.number]
        side, middle = (to_x if over > 0 else to_x + WIDTH), to_y + HEIGHT / 2
        out = x + WIDTH * (over > 0)
        blocked = any(card.column == lesson.column and lesson.row < card.row <= other.row for card in course)
        port = x + WIDTH * (0.5 + 0.25 * (below.index(other) - straight)) if down > 0 else out
        if not down:
            line = [(out, middle), (side, middle)]
        elif down == 1 or not over:
            lane = y - (DOWN - HEIGHT) / 2
            line = [(port, y), (port, lane), (to_x + WIDTH / 2, lane), (to_x + WIDTH / 2, to_y + HEIGHT)]
        elif blocked:
            lane = out + over * (ACROSS - WIDTH) / 2
            line = [(out, y + HEIGHT / 2), (lane, y + HEIGHT / 2), (lane, middle), (side, middle)]
        else:
            line = [(port, y), (port, middle), (side, middle)]
        yield np.array(line)


def _directly(needs: Sequence[str], course: Sequence[Lesson]) -> tuple[str, ...]:
    """Those of ``needs`` that no other of them needs."""
    further = frozenset().union(*(known_before(other, course) for other in needs))
    return tuple(other for other in needs if other not in further)


def _draw_card(ax: Axes, lesson: Lesson, x: float, y: float) -> None:
    ax.add_patch(Rectangle((x, y), WIDTH, HEIGHT, facecolor=PAPER, edgecolor=BODY, lw=1.2))
    ink, faint = (INK, FAINT_INK) if lesson.needs else (PAPER, PAPER)
    if not lesson.needs:
        ax.add_patch(Rectangle((x, y + HEIGHT - HEAD), WIDTH, HEAD, facecolor=INK, edgecolor=BODY, lw=1.2))
    write(ax, x + 0.1, y + HEIGHT - HEAD / 2, lesson.number, ha="left", size=15, weight="bold", color=ink)
    write(ax, x + WIDTH - 0.1, y + HEIGHT - HEAD / 2, f"{lesson.minutes} min", ha="right", size=11.5, color=faint)
    write(ax, x + WIDTH / 2, y + (HEIGHT - HEAD) / 2, wrapped(lesson.question, WIDTH - 0.12, 12.0), size=12)


@dataclass(frozen=True)
class Word:
    """A word with one plain sentence about it, an example, and the number of the lesson that defines it.

    An ``everyday`` word may be used in its everyday meaning before that.
    """

    word: str
    theme: str
    lesson: str
    said: str
    example: str
    forms: tuple[str, ...] = ()
    everyday: bool = False

    @property
    def pattern(self) -> re.Pattern[str]:
        """Where the word stands in a text, in any of its forms."""
        forms = sorted({self.word, f"{self.word}s", *self.forms}, key=len, reverse=True)
        spread = (re.escape(form).replace(r"\ ", r"\s+") for form in forms)
        return re.compile(rf"(?<![\w-])(?:{'|'.join(spread)})(?![\w-])", re.IGNORECASE)


@cache
def words() -> tuple[Word, ...]:
    """All words, theme by theme.

    >>> next(word.said for word in words() if word.word == "slot")
    'A place where a piece can sit.'
    """
    data = tomllib.loads(files(__package__).joinpath("glossary.toml").read_text("utf-8"))
    return tuple(Word(**{**entry, "forms": tuple(entry.get("forms", ()))}) for entry in data["word"])


def themes() -> tuple[str, ...]:
    return tuple(dict.fromkeys(word.theme for word in words()))


class Page(str):
    """Markdown that a notebook shows as a page, and that is plain text elsewhere."""

    __repr__ = _repr_markdown_ = str.__str__


def glossary_table(theme: str) -> Page:
    """The words of one theme as a table, each with a link to the lesson that defines it; `BadOption` for no theme.

    >>> print(str(glossary_table("What is wrong with a piece")).splitlines()[0])
    | word | what it means | on the puzzle table | first in |
    """
    chosen = [word for word in words() if word.theme == theme]
    if not chosen:
        raise BadOption(f"the glossary has no theme {quoted(theme)}: write one of {'; '.join(themes())}")
    notebooks = {lesson.number: lesson.name for lesson in lessons()}
    rows = ["| word | what it means | on the puzzle table | first in |", "|:--|:--|:--|:--|"]
    for word in chosen:
        rows.append(f"| **{word.word}** | {word.said} | {word.example} | [{word.lesson}]({notebooks[word.lesson]}.ipynb) |")
    return Page("\n".join(rows))


def alphabet() -> Page:
    """All words in the order of the alphabet, each with the theme where it is explained.

    >>> print(str(alphabet())[:44])
    - **A** alarm (*What is wrong with a piece*)
    """
    by_letter: dict[str, list[str]] = {}
    for word in sorted(words(), key=lambda word: word.word.lower()):
        by_letter.setdefault(word.word[0].upper(), []).append(f"{word.word} (*{word.theme}*)")
    return Page("\n".join(f"- **{letter}** {', '.join(found)}" for letter, found in by_letter.items()))


def plain_prose(markdown: str) -> str:
    """Markdown without code, formulas, links' targets and folds, of the same length, so that places in it stay where they are."""
    hidden = re.compile(r"<details>.*?</details>|```.*?```|`[^`]*`|\$[^$]*\$|(?<=\])\([^)]*\)", re.DOTALL)
    return hidden.sub(lambda found: " " * len(found[0]), markdown)
