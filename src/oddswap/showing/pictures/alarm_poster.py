"""The table of alarms as a page to hang on a wall: what looks wrong, whether it is, and why.

One picture for each sort of anomaly, gathered by reason in blocks, as large as fits. Nothing is told by colour alone: what looks
wrong is outlined, bears letters and stands out from a pale puzzle, what is not what it seems is hatched, and each verdict has its
sign.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from oddswap.errors import BadOption
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.verdicts.alarms import VERDICTS, Alarm, Reason, alarms, gathered
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.showing.ink.canvas import INCHES, sheet, wrapped, write
from oddswap.showing.ink.palette import BACKDROP, BODY, FAINT_INK, PAPER
from oddswap.showing.pictures.typical import lay_typical, typical
from oddswap.values.grammar import capital, listed
from oddswap.words import say
from oddswap.words.alarms import HEADING, KEY, NONE_OF_THIS, numbered_reason
from oddswap.words.verdicts import WORDINGS

WIDTH, HEIGHT = 210 / 25.4 / INCHES, 297 / 25.4 / INCHES
"""A4, upright."""
MARGIN, GAP, BETWEEN = 0.36, 0.1, 0.14
TITLE, HEAD, FOOT = 0.62, 0.36, 0.3
ACROSS, ROOM = WIDTH - 2 * MARGIN, HEIGHT - 2 * MARGIN - TITLE - FOOT
"""Breadth and height that are left for the sections."""
SMALL, LINE, RULE = 7.5, 0.118, 0.8
"""Points of the small print, how far apart its lines are, and how many lines a rule takes."""
TEXT, WIDER = 1.25, 1.2
"""How broad the words beside a single picture are, and by how much they may be broader where a line has room."""
SIDES, FEWER = np.arange(2.8, 0.64, -0.05), (4, 2, 1)
"""Breadths of pictures, the first that fits on the page is taken; and how many for one reason there may be, if none does."""
LOOSE = 0.3
"""How much further apart lines of blocks may be than they must, where the page has room."""
SIGNS = {ORDINARY: "✓", LOOKALIKE: "≈", CANNOT_TELL: "?", OTHER_TURNS: "↻", NOT_BY_TURNING: "✗"}
SELDOM = CANNOT_TELL, OTHER_TURNS
"""The verdicts that have a section only where some alarm has them."""


def draw_alarms(puzzle: Puzzle, table: Sequence[Alarm] | None = None, *, ax: Axes | None = None) -> Figure:
    """The table of alarms of a puzzle, solid or flat, on one page of A4; the whole one, if no ``table`` is given.

    `BadOption` where there are too many sorts of anomaly for one page.

    >>> from oddswap import draw
    >>> figure = draw.draw_alarms("cube:2")
    """
    sections = fitted(puzzle, alarms(puzzle) if table is None else table)
    lines = sum(map(len, sections.values()))
    loose = min((ROOM - height_of(sections)) / (lines + len(sections)), LOOSE)
    page = sheet(WIDTH, HEIGHT, ax)
    if ax is None:
        page.figure.set_facecolor(PAPER)
    top = HEIGHT - MARGIN
    write(page, MARGIN, top - 0.14, HEADING, ha="left", size=19, weight="bold")
    write(page, MARGIN, top - 0.42, capital(puzzle.title), ha="left", size=12, color=FAINT_INK)
    top -= TITLE
    for verdict, section in sections.items():
        _lay_heading(page, verdict, top)
        top -= HEAD
        if not section:
            write(page, MARGIN, top, NONE_OF_THIS, ha="left", va="top", size=SMALL, color=FAINT_INK)
            top -= LINE + BETWEEN
        for line in section:
            left = MARGIN
            for block in line:
                _lay_block(page, puzzle, block, left, top)
                left += block.breadth + 2 * GAP
            top -= max(block.height for block in line) + BETWEEN + loose
        top -= loose
    write(page, MARGIN, MARGIN, KEY, ha="left", va="bottom", size=SMALL, color=FAINT_INK, linespacing=1.35)
    return page.figure


def _lay_heading(ax: Axes, verdict: str, top: float) -> None:
    """The sign of a verdict, light on dark, and what it means."""
    size = HEAD - 0.14
    ax.add_patch(Rectangle((MARGIN, top - size), WIDTH - 2 * MARGIN, size, facecolor=BACKDROP, lw=0))
    ax.add_patch(Rectangle((MARGIN, top - size), 1.3 * size, size, facecolor=BODY, lw=0))
    write(ax, MARGIN + 0.65 * size, top - size / 2, SIGNS[verdict], size=12, weight="bold", color=PAPER)
    write(ax, MARGIN + 1.3 * size + 0.1, top - size / 2, capital(WORDINGS[verdict].alarm), ha="left", size=11, weight="bold")


def _lay_block(ax: Axes, puzzle: Puzzle, block: Block, left: float, top: float) -> None:
    side = block.side
    beside = left + side + GAP if block.single else left
    for i, (words, (_, members)) in enumerate(zip(block.words, block.sorts, strict=True)):
        x, y = left + i % block.columns * (side + GAP), top - i // block.columns * block.row
        ax.add_patch(Rectangle((x, y - side), side, side, facecolor=BACKDROP, lw=0))
        lay_typical(ax, puzzle, typical(puzzle, members), x + side / 2, y - side / 2, side)
        at = (beside, top) if block.single else (x, y - side - 0.4 * LINE)
        write(ax, *at, words, ha="left", va="top", size=SMALL, weight="bold", linespacing=1.3)
    top -= block.top
    ax.add_line(Line2D([beside, left + block.breadth], [top - 0.3 * LINE] * 2, color=BODY, lw=0.6))
    write(ax, beside, top - RULE * LINE, block.text, ha="left", va="top", size=SMALL, linespacing=1.3)


@dataclass(frozen=True)
class Block:
    """The sorts of anomaly that share a reason: their words and members, and the reason, in a block of a page ``breadth`` wide.

    A single picture has its words beside it and not below; a block without sorts is words alone.
    """

    reason: str
    sorts: tuple[tuple[str, tuple[Alarm, ...]], ...]
    side: float
    breadth: float

    @property
    def single(self) -> bool:
        return len(self.sorts) == 1

    @property
    def columns(self) -> int:
        return int((self.breadth + GAP + 1e-6) / (self.side + GAP))

    @property
    def words(self) -> tuple[str, ...]:
        """What is written at each picture, in lines."""
        breadth = self.breadth - self.side - GAP if self.single else self.side
        return tuple(wrapped(words, breadth, SMALL, "bold") for words, _ in self.sorts)

    @property
    def text(self) -> str:
        """The reason, in lines."""
        return wrapped(self.reason, self.breadth - self.side - GAP if self.single else self.breadth, SMALL)

    @property
    def height(self) -> float:
        words = self.top + LINE * (RULE + lines_of(self.text))
        return max(self.side, words) if self.sorts else words

    @property
    def top(self) -> float:
        """How far below the top the rule above the reason is."""
        if self.single:
            return LINE * lines_of(*self.words)
        return -(-len(self.sorts) // self.columns) * self.row if self.sorts else 0.0

    @property
    def row(self) -> float:
        """How high a picture is with the words below it."""
        return self.side + LINE * (max(map(lines_of, self.words)) + 0.5)


Section = list[list[Block]]
"""The blocks of one verdict, line by line."""


def fitted(puzzle: Puzzle, table: Sequence[Alarm]) -> dict[str, Section]:
    """What stands below each verdict, with the largest pictures that fit on the page.

    Where none do, laws are numbered and said only once; and where that is not enough, there are fewer pictures.
    """
    found = gathered(table)
    shown = [verdict for verdict in VERDICTS if verdict not in SELDOM or any(v == verdict for v, _ in found)]
    numbered, laws = _numbered(found)
    for reasons, last, most in (({}, "", 99), (numbered, laws, 99), *((numbered, laws, few) for few in FEWER)):
        for side in SIDES:
            blocks: dict[str, list[Block]] = {verdict: [] for verdict in shown}
            for (verdict, reason), members in found.items():
                blocks[verdict].append(_block(reasons.get(reason) or say(reason), members, side, most))
            if last:
                blocks[NOT_BY_TURNING].append(Block(last, (), side, ACROSS))
            sections = {verdict: _in_lines(several) for verdict, several in blocks.items()}
            if height_of(sections) <= ROOM:
                return sections
    raise BadOption(f"{puzzle.name} has {len(found)} reasons for its alarms, too many for one page: read its table in words")


def _numbered(found: Iterable[tuple[str, Reason]]) -> tuple[dict[Reason, str], str]:
    """The laws that are broken, numbered, in one text; and the reasons that are nothing else in terms of it."""
    reasons = [reason for _, reason in found if reason.code == "broken"]
    laws = list(dict.fromkeys(law for reason in reasons for law in reason.laws))
    said = {reason: numbered_reason(sorted(laws.index(law) + 1 for law in reason.laws)) for reason in reasons}
    return said, "\n".join(f"Law {i}: {say(law)}" for i, law in enumerate(laws, 1))


def _block(reason: str, members: Sequence[Alarm], side: float, most: int) -> Block:
    sorts: dict[str, list[Alarm]] = {}
    for alarm in members:
        sorts.setdefault(say(alarm.sort), []).append(alarm)
    shown, left_out = list(sorts)[:most], list(sorts)[most:]
    text = capital(reason).removesuffix(".") + "." + (f" Likewise {listed(left_out)}." if left_out else "")
    words = tuple((f"{words} ({sum(alarm.alike for alarm in sorts[words])})", tuple(sorts[words])) for words in shown)
    columns = min(len(shown), int((ACROSS + GAP) / (side + GAP)))
    return Block(text, words, side, columns * (side + GAP) - GAP if len(shown) > 1 else min(side + GAP + TEXT, ACROSS))


def _in_lines(blocks: Iterable[Block]) -> Section:
    """The blocks in lines, each in the first that has room for it; words beside a picture take what room is left."""
    lines: Section = []
    for block in blocks:
        fitting = (line for line in lines if sum(b.breadth + 2 * GAP for b in line) + block.breadth <= ACROSS)
        line = next(fitting, None)
        if line is None:
            lines.append(line := [])
        line.append(block)
    return [_spread(line) for line in lines]


def _spread(line: list[Block]) -> list[Block]:
    spare = ACROSS - sum(block.breadth + 2 * GAP for block in line) + 2 * GAP
    more = min(spare / max(sum(block.single for block in line), 1), WIDER)
    return [replace(block, breadth=block.breadth + more) if block.single else block for block in line]


def height_of(sections: dict[str, Section]) -> float:
    return sum(
        HEAD + (sum(max(block.height for block in line) + BETWEEN for line in section) if section else LINE + BETWEEN)
        for section in sections.values()
    )


def lines_of(text: str) -> int:
    return text.count("\n") + 1
