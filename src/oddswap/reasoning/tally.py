"""The tally of a sequence: every law's quantity after every move."""

from __future__ import annotations

from dataclasses import dataclass

from oddswap.puzzles.puzzle import Puzzle, Turn
from oddswap.reasoning.laws import law_book
from oddswap.reasoning.sectors import measure
from oddswap.reasoning.statements import part_name
from oddswap.values.arrangement import Arrangement
from oddswap.values.sequence import Sequence


@dataclass(frozen=True)
class Tally:
    """``moves`` (n names); ``laws`` (names) with one row of ``values`` each; ``parts`` (names) with ``part_values``.

    Rows have n + 1 entries: at the start, and after each move. A law's row never changes; what it is made of does.
    """

    moves: tuple[str, ...]
    laws: tuple[str, ...]
    values: tuple[tuple[str, ...], ...]
    parts: tuple[str, ...]
    part_values: tuple[tuple[str, ...], ...]


def tally(puzzle: Puzzle, moves: str | Sequence, start: Arrangement | None = None) -> Tally:
    """The tally of ``moves`` from an arrangement (solved when left out).

    >>> from oddswap.puzzles.catalogue import load
    >>> table = tally(load("cube:2"), "R U")
    >>> table.moves, table.laws, table.values
    (('R', 'U'), ('twists of corners',), (('0', '0', '0'),))
    """
    book = law_book(puzzle)
    parts = tuple(dict.fromkeys(part for law in book.laws for part in law.parts))
    image = puzzle.permutation(start or puzzle.solved)
    turns = puzzle.settled(moves)[0]
    columns = [measure(parts, image)]
    laws = [tuple(law.value(image) for law in book.laws)]
    for turn in turns:
        image = turn.permutation[image]
        columns.append(measure(parts, image))
        laws.append(tuple(law.value(image) for law in book.laws))
    return Tally(
        tuple(turn.name for turn in turns),
        tuple(law.name for law in book.laws),
        tuple(tuple(map(str, row)) for row in zip(*laws, strict=True)),
        tuple(part_name(part) for part in parts),
        tuple(
            tuple(("even", "odd")[v] if part.what == "sign" else str(v) for v in row)
            for part, row in zip(parts, zip(*columns, strict=True), strict=True)
        ),
    )


def move_table(puzzle: Puzzle, turns: tuple[Turn, ...]) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """What each turn adds to each quantity that the laws speak of: ``(names of quantities, a row for each turn)``."""
    book = law_book(puzzle)
    parts = tuple(dict.fromkeys(part for law in book.laws for part in law.parts))
    rows = tuple(
        tuple(
            ("even", "odd")[v] if part.what == "sign" else f"+{v}"
            for part, v in zip(parts, measure(parts, turn.permutation), strict=True)
        )
        for turn in turns
    )
    return tuple(part_name(part) for part in parts), rows
