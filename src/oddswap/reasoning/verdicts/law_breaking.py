"""Which turn breaks which law: what turns that a copy does not make do to what its own turns never change."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.reasoning.finding import Finding
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.orbit_looks import by_orbits
from oddswap.values.arrangement import Arrangement


class TurnsBreak(Finding):
    """Each of these turns breaks the orbit law, as so many pieces of each family leave their orbits, or else the ``laws``."""

    code = "turns-break"
    turns: tuple[str, ...]
    leaving: tuple[tuple[str, int], ...]
    laws: tuple[Law, ...]


class SmallestTurn(Finding):
    """In the shape that the turns ``after`` give, a turn moves only so many pieces of each family: fewer than any turn inside."""

    code = "smallest-turn"
    after: tuple[str, ...]
    turn: str
    moved: tuple[tuple[str, int], ...]


def broken_by_turns(puzzle: Puzzle, wider: Puzzle, turns: Iterable[str]) -> list[TurnsBreak]:
    """What these turns of ``wider``, the same puzzle with more turns, break of the laws of ``puzzle``, those that break the same
    together; those that break none are left out.

    Where a turn takes pieces out of the orbits in which the turns of ``puzzle`` keep them, that is the orbit law, and the others
    have no sense meanwhile. A turn that leads where another holding leads, too, breaks none.

    >>> from oddswap.puzzles.catalogue import load
    >>> broken_by_turns(load("cuboid:2x2x3,turns=half"), load("cuboid:2x2x3"), ["F", "F'", "F2"])
    [TurnsBreak(turns=('F', "F'"), leaving=(('corners', 4),), laws=())]
    """
    looks = by_orbits(wider, tuple(puzzle.turns)).looks
    found: dict[tuple, list[str]] = {}
    for name in turns:
        image, families = wider.turns[name].permutation, Counter()
        for piece, kind in enumerate(wider.kind_of):
            labels = wider.base_label[piece] + np.arange(kind.twist)
            families[kind.family] += bool(_coloured(wider, piece) and (looks[image[labels]] != looks[labels]).any())
        leaving, open_box = tuple((+families).items()), isinstance(wider, BoxPuzzle)
        if open_box or not law_book(puzzle).reaches_permutation(image):
            laws = () if leaving or open_box else law_book(puzzle).broken_at(image)
            if leaving or laws:
                found.setdefault((leaving, laws), []).append(name)
    return [TurnsBreak(tuple(names), leaving, laws) for (leaving, laws), names in found.items()]


def smallest_turn(puzzle: Puzzle, box: BoxPuzzle, start: Arrangement, turns: tuple[str, ...]) -> SmallestTurn | None:
    """Which of these turns, one after another from ``start``, moves fewer pieces than any turn of ``puzzle`` does; ``None`` where
    none does.

    >>> from oddswap.puzzles.catalogue import load
    >>> half, box = load("cuboid:2x3x4,turns=half"), load("cuboid:2x3x4,turns=all")
    >>> smallest_turn(half, box, box.solved, ("U", "2F2", "RR2", "2F2", "U'"))
    SmallestTurn(after=('U', '2F2'), turn='RR2', moved=(('corners', 2),))
    """
    inside = min(_moved(box, box.solved, name).total() for name in puzzle.turns)
    state, counts = start, []
    for number, name in enumerate(turns):
        counts.append((_moved(box, state, name), number))
        state = box.follow(name, state)
    least, number = min(counts, key=lambda pair: pair[0].total())
    return SmallestTurn(turns[:number], turns[number], tuple(least.items())) if least.total() < inside else None


def _moved(box: BoxPuzzle, state: Arrangement, name: str) -> Counter[str]:
    """How many coloured pieces of each family a turn takes to another slot, or turns, in that state."""
    image, found = box.turns[name].permutation, Counter()
    for slot, (piece, twist) in enumerate(zip(state.pieces, state.twists, strict=True)):
        label = int(box.base_label[slot]) + twist
        if _coloured(box, piece) and image[label] != label:
            found[box.kind_of[piece].family] += 1
    return found


def _coloured(puzzle: Puzzle, piece: int) -> bool:
    return not isinstance(puzzle, BoxPuzzle) or bool(puzzle.filled[piece] and not puzzle.blank_inside[piece])
