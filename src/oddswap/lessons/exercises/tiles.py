"""Exercises about tiles: arrangements that slides reach, swaps that sort a row, cycles of a given length."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from oddswap.errors import quoted
from oddswap.lessons.pictures.chequers import chequers
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.flat.graphs import GraphPuzzle
from oddswap.reasoning.laws.law_book import law_book
from oddswap.showing.ink.notes import Hint, Note, kindly
from oddswap.showing.pictures.strings import crossings, row_of, told
from oddswap.values.arrangement import Arrangement
from oddswap.values.grammar import listed
from oddswap.values.permutation import cycles, inverse

BLANK = "-"
BLANKS = ("-", "–", "−", "_", ".", "blank")
"""How the blank may be written."""
MOST = 200
"""So many swaps are read at most."""


@kindly
def check_places(written: str, one: str, other: str, *, name: str = "tiles:3x3") -> Note:
    """Whether an arrangement has these two in each other's places and slides reach it.

    The tiles are written slot after slot, with ``-`` for the blank.

    >>> check_places("2 1 3 4 5 6 7 8 -", "1", "2")
    Not yet. Your strings have 1 crossing: odd. The blank is in a light slot, which asks for
    an even number, so no slides lead there. One more swap would make it even.
    """
    puzzle = load(name)
    state = _read(written, puzzle)
    home, row = row_of(puzzle, puzzle.solved), row_of(puzzle, state)
    for tile, place in ((one, other), (other, one)):
        if row[home.index(place)] != tile:
            return Note(f"Not yet. Tile {tile} should be where tile {place} belongs, in slot {puzzle.slots[home.index(place)]}.")
    return _unreached(puzzle, state) or Note(f"Yes: {one} and {other} have changed places, and slides lead there.")


@kindly
def check_cycle(written: str, length: int, *, name: str = "tiles:3x3") -> Note:
    """Whether an arrangement with the blank at home has a cycle of just so many tiles, and slides reach it.

    >>> check_cycle("4 1 2 3 5 6 7 8 -", 4)
    Not yet. Your cycles are: 1 2 3 4. A cycle of 4 tiles takes 3 swaps, so together they
    take 3: odd. With the blank at home slides do only even numbers of swaps.
    """
    puzzle = load(name)
    state = _read(written, puzzle)
    if state.pieces[puzzle.blank] != puzzle.blank:
        return Note(f"Not yet. Leave the blank at home, in slot {puzzle.slots[puzzle.blank]}: this exercise is about the tiles.")
    words, found = row_of(puzzle, puzzle.solved), cycles(inverse(state.pieces))
    if not found:
        return Note("Not yet. All tiles are at home, so there is no cycle at all.")
    said = "; ".join(" ".join(words[tile] for tile in cycle) for cycle in found)
    if length not in map(len, found):
        return Note(f"Not yet. Your cycles are: {said}. None of them has {length} tiles.")
    if not law_book(puzzle).reaches(state):
        takes = sum(len(cycle) - 1 for cycle in found)
        return Note(
            f"Not yet. Your cycles are: {said}. A cycle of {length} tiles takes {length - 1} swaps, so together they take "
            f"{takes}: odd. With the blank at home slides do only even numbers of swaps."
        )
    return Note(f"Yes: your cycles are {said}, and slides lead there.")


def check_sorting(written: str, row: str, count: int) -> Note:
    """Whether exactly ``count`` swaps (pairs of tiles, separated by commas) sort a ``row`` of different numbers.

    >>> check_sorting("1 2", "3 2 1", 3)
    Not yet. After your 1 swap the row is 3 1 2.
    """
    tiles = row.split()
    pairs = [pair.split() for pair in _text(written).split(",") if pair.strip()]
    if not pairs:
        return Note("Nothing written yet. Write pairs of tiles such as: 1 3, 2 5")
    if len(pairs) > MOST:
        return Note(f"These are {len(pairs)} swaps: at most {MOST} are read.")
    for pair in pairs:
        if len(pair) != 2 or pair[0] == pair[1] or not set(pair) <= set(tiles):
            there = quoted(" ".join(pair))
            return Note(f"Each swap names two different tiles of {row}, as in: 1 3. In your answer there is {there}.")
    now = list(tiles)
    for one, other in pairs:
        a, b = now.index(one), now.index(other)
        now[a], now[b] = other, one
    goal, many = sorted(tiles, key=int), f"{len(pairs)} swap{'s' * (len(pairs) != 1)}"
    if now != goal:
        wrong = (len(pairs) - crossings(goal, tiles)) % 2
        law = f" And no {'odd' if len(pairs) % 2 else 'even'} number of swaps can ever sort it: look at its crossings."
        return Note(f"Not yet. After your {many} the row is {' '.join(now)}.{law * wrong}")
    if len(pairs) != count:
        return Note(
            f"Sorted, but by {many} where {count} are asked for. A swap that the next one undoes adds two at a time; one "
            "alone can never be added, because every swap changes the number of crossings by an odd number."
        )
    start = told(crossings(goal, tiles))
    return Note(
        f"Yes: sorted by {many}. At the start there were {start}. The two numbers are always odd together or even together."
    )


def _unreached(puzzle: GraphPuzzle, state: Arrangement) -> Note | None:
    """Why slides do not lead to an arrangement; ``None`` where they do."""
    if law_book(puzzle).reaches(state):
        return None
    count = crossings(row_of(puzzle, puzzle.solved), row_of(puzzle, state))
    colour = chequers(puzzle)[state.pieces.index(puzzle.blank)]
    wanted = ("even", "odd")[colour]
    return Note(
        f"Not yet. Your strings have {told(count)}. The blank is in a {('light', 'dark')[colour]} slot, which asks for an "
        f"{wanted} number, so no slides lead there. One more swap would make it {wanted}."
    )


def _read(written: str, puzzle: GraphPuzzle) -> Arrangement:
    """The arrangement that is written; `Hint` on what is missing."""
    words = [BLANK if word in BLANKS else word for word in re.split(r"[\s,;/|]+", _text(written)) if word]
    home = [word or BLANK for word in row_of(puzzle, puzzle.solved)]
    if not words:
        raise Hint(f"Nothing written yet. Write the tiles row by row, with {BLANK} for the blank, such as: {' '.join(home)}")
    strangers = [word for word in words if word not in home]
    if strangers:
        tiles = " ".join(word for word in home if word != BLANK)
        raise Hint(f"There is no tile {quoted(strangers[0])} on this tray. Its tiles are {tiles}; write {BLANK} for the blank.")
    twice, missing = _surplus(words, home)
    if twice or missing:
        parts = [f"too often there is {listed(twice)}"] if twice else []
        parts += [f"missing is {listed(missing)}"] if missing else []
        raise Hint(f"Write each tile once, and {BLANK} for the blank: {', and '.join(parts)}.")
    return replace(puzzle.solved, pieces=tuple(home.index(word) for word in words))


def _surplus(words: Sequence[str], home: Sequence[str]) -> tuple[list[str], list[str]]:
    return [w for w in home if words.count(w) > 1], [w for w in home if w not in words]


def _text(written: object) -> str:
    return written if isinstance(written, str) else "" if written is None else str(written)
