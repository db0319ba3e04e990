"""How the table of alarms is laid out on a page: blocks of pictures that share a reason, in lines, as large as fits."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from oddswap.errors import BadOption
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.verdicts.alarms import VERDICTS, Alarm, Reason, gathered
from oddswap.reasoning.verdicts.diagnosis import NOT_BY_TURNING, OTHER_TURNS
from oddswap.showing.ink.canvas import INCHES, wrapped
from oddswap.values.grammar import capital, listed
from oddswap.words import say
from oddswap.words.alarms import numbered_reason

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


def fitted(puzzle: Puzzle) -> dict[str, Section]:
    """What stands below each verdict, with the largest pictures that fit on the page.

    Where none do, laws are numbered and said only once; and where that is not enough, there are fewer pictures.
    """
    found = gathered(puzzle)
    shown = [verdict for verdict in VERDICTS if verdict != OTHER_TURNS or any(v == verdict for v, _ in found)]
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
