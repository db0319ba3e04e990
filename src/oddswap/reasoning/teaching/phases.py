"""A way out in phases that can be told to a person: set up, exchange, undo, finish, with what each does to the pieces.

The phases are read off the sequence: ``[A: B]`` sets up with A, exchanges with B and undoes A; ``[A, B]`` sets up with A,
exchanges with B, undoes A, and finishes with B undone. What stands before and after such a part begins and finishes.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.tally import Quantity, quantities
from oddswap.reasoning.teaching.effects import effects, words_of
from oddswap.reasoning.teaching.shapes_of_words import structured
from oddswap.reasoning.ways.as_seen import as_seen, wrong
from oddswap.reasoning.ways.commutators import shows
from oddswap.values.arrangement import Arrangement
from oddswap.values.sequence import Bracket, Commutator, Conjugate, Sequence

FOLLOWED = 6
"""At most so many pieces are followed through the phases."""
MOST_PIECES = 8
"""A part that changes more pieces than this is no tool."""
SHORT = 4
"""A part of fewer turns is no structure worth telling."""


@dataclass(frozen=True)
class Phase:
    """One phase: its ``name``, what it is for in ``words``, its ``moves``.

    ``pieces`` are (piece, from, to) for the pieces followed that it moves or turns; ``tally`` is (quantity, before, after)
    for what the laws speak of and the phase changes.
    """

    name: str
    words: str
    moves: str
    pieces: tuple[tuple[str, str, str], ...]
    tally: tuple[tuple[Quantity, int | None, int | None], ...]


def written(puzzle: Puzzle, moves: str) -> Sequence:
    """A flat sequence with its longest part that is a commutator, a conjugate or a repeated group written as one.

    >>> from oddswap.puzzles.catalogue import load
    >>> str(written(load("cube:3"), "U2 F R U R' U' F' L"))
    'U2 [F: [R, U]] L'
    """
    steps = puzzle.read(moves).steps
    for length in range(len(steps), SHORT - 1, -1):
        for start in range(len(steps) - length + 1):
            part = structured(puzzle, Sequence(steps[start : start + length]))
            core, everything = part.items[0], length == len(steps)
            if len(part.items) == 1 and isinstance(core, Bracket) and _worth(puzzle, core, everything):
                return Sequence((*steps[:start], core, *steps[start + length :]))
    return Sequence(steps)


def _worth(puzzle: Puzzle, part: Bracket, everything: bool) -> bool:
    """What has a commutator or a repeated group that changes few pieces, or is the whole sequence, is worth telling as one."""
    if isinstance(part, Conjugate) and not any(isinstance(item, Bracket) for item in part.b.items):
        return everything
    return int(wrong(puzzle, _image(puzzle, Sequence((part,))))) <= MOST_PIECES


def to_remember(sequence: Sequence) -> int:
    """How many turns one has to keep in mind: those that are written, not those that are made."""
    total = 0
    for item in sequence.items:
        total += sum(map(to_remember, item.parts)) if isinstance(item, Bracket) else 1
    return total


def phases(puzzle: Puzzle, start: Arrangement, sequence: Sequence) -> tuple[Phase, ...]:
    """The phases of a way out from ``start``, a reachable arrangement; empty where the sequence is one flat stretch."""
    parts = _parts(puzzle, sequence)
    if not parts:
        return ()
    book, image, told = law_book(puzzle), puzzle.permutation(start), []
    followed = _followed(puzzle, image)
    for name, words, part in parts:
        after = _image(puzzle, part)[image]
        pieces = tuple(
            (puzzle.slots[p], _place(puzzle, image, p), _place(puzzle, after, p))
            for p in followed
            if image[puzzle.base_label[p]] != after[puzzle.base_label[p]]
        )
        before, then = book.best_held(image), book.best_held(after)
        rows = [(q, q.value(before), q.value(then)) for q in quantities(puzzle) if _tells(puzzle, q)]
        told.append(Phase(name, words, str(part), pieces, tuple(row for row in rows if row[1] != row[2])))
        image = after
    return tuple(told)


def _parts(puzzle: Puzzle, sequence: Sequence) -> list[tuple[str, str, Sequence]]:
    """Name, words and moves of each phase."""
    at = next((i for i, item in enumerate(sequence.items) if isinstance(item, Bracket)), None)
    if at is None:
        return []
    before, core, after = sequence.items[:at], sequence.items[at], sequence.items[at + 1 :]
    parts = [("begin", "bring the position to where the next part can work on it", Sequence(before))]
    parts += _inside(puzzle, core)
    parts.append(("finish", "a few turns more, and everything is in place", Sequence(after)))
    return [part for part in parts if part[2].items]


def _inside(puzzle: Puzzle, core: Bracket) -> list[tuple[str, str, Sequence]]:
    whole = words_of(effects(puzzle, as_seen(puzzle, _image(puzzle, Sequence((core,))))))
    if abs(core.times) > 1 or not isinstance(core, Commutator | Conjugate):
        words = f"the same few turns {abs(core.times)} times; together they make a tool that {whole}"
        return [("exchange", words, Sequence((core,)))]
    a, b = core.a, core.b
    if isinstance(core, Conjugate):
        inner = words_of(effects(puzzle, as_seen(puzzle, _image(puzzle, b))))
        return [
            ("set up", "carry the pieces that have to change to where the tool reaches them", a),
            ("exchange", f"the tool itself: from solved it {inner}", b),
            ("undo", "the set-up backwards; all that it disturbed goes back", a.inverse()),
        ]
    return [
        ("set up", "take a piece out of the way; what else this disturbs comes back later", a),
        ("exchange", "put another piece where the first one was", b),
        ("undo", "the set-up backwards; what it disturbed goes back, except for the pieces that were exchanged", a.inverse()),
        ("finish", f"the exchange backwards; the four parts together make a tool that {whole}", b.inverse()),
    ]


def _tells(puzzle: Puzzle, quantity: Quantity) -> bool:
    """Whether a quantity speaks of anything that shows."""
    return any(shows(puzzle, part.sector.kind) for part in quantity.parts)


def _image(puzzle: Puzzle, sequence: Sequence) -> np.ndarray:
    image = np.arange(puzzle.degree)
    for turn in puzzle.settled(sequence)[0]:
        image = turn.permutation[image]
    return image


def _followed(puzzle: Puzzle, image: np.ndarray) -> list[int]:
    """The pieces out of place, fewest first: those of the explanation that show."""
    return [p for p, k in enumerate(puzzle.kind_of) if shows(puzzle, k) and image[puzzle.base_label[p]] != puzzle.base_label[p]][
        :FOLLOWED
    ]


def _place(puzzle: Puzzle, image: np.ndarray, piece: int) -> str:
    """The slot where a piece is, with its twist: ``UFR +1``."""
    kind = puzzle.kind_of[piece]
    slot, twist = divmod(int(image[puzzle.base_label[piece]]) - kind.first, kind.twist)
    return kind.slots[slot] + (f" +{twist}" if twist else "")
