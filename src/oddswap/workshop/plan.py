"""An evening as data: which table has which sheet, what opens it, and what is shown on the wall."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Clock
from oddswap.workshop.by_turning import known_turns
from oddswap.workshop.count_sheet import FlipCount, flip_count
from oddswap.workshop.worksheets import Worksheet, worksheet

QUESTIONS = 4
"""How many questions a sheet has."""


@dataclass(frozen=True)
class Evening:
    """Sheets numbered from 1; ``slides`` is a sheet for the wall. Table t has sheet t, or after the last the first again.

    ``hero`` are a puzzle and the turns that make its opening position; ``count`` is for a sheet on flips, if there is one.
    """

    puzzles: tuple[Puzzle, ...]
    sheets: tuple[Worksheet, ...]
    slides: Worksheet
    people: int
    tables: int
    hero: tuple[Puzzle, str]
    count: FlipCount | None

    @cached_property
    def seats(self) -> tuple[tuple[int, int, Worksheet], ...]:
        """Each table with its people and its sheet."""
        each, more = divmod(self.people, self.tables)
        sheets = self.sheets
        return tuple((t + 1, each + (t < more), sheets[t % len(sheets)]) for t in range(self.tables))

    def at(self, sheet: Worksheet) -> list[int]:
        """The tables that have a sheet."""
        return [table for table, _, own in self.seats if own is sheet]


def planned(puzzles: Sequence[Puzzle], level: int, seed: int, count: int, tables: int, people: int, clock: Clock) -> Evening:
    """The evening as data: the puzzles go round the tables, and each has a sheet at least."""
    numbers = range(1, max(len(puzzles), min(tables, len(puzzles) * count)) + 1)
    sheets = tuple(worksheet(puzzles[(n - 1) % len(puzzles)], level, seed, n, QUESTIONS, clock) for n in numbers)
    known = {puzzle: known_turns(puzzle, clock) for puzzle in puzzles}
    odd = [(puzzle, turns.odd[0]) for puzzle, turns in known.items() if turns.odd]
    plain = [(puzzle, turns.plain[0]) for puzzle, turns in known.items() if turns.plain]
    asked = (question for sheet in sheets for question in sheet.questions if not question.changes)
    hero, word = (odd or plain or [(puzzles[0], next(asked).moves.split())])[0]
    wall = worksheet(hero, level, seed, 0, QUESTIONS, clock)
    return Evening(tuple(puzzles), sheets, wall, people, tables, (hero, " ".join(word)), flip_count(puzzles, seed))
