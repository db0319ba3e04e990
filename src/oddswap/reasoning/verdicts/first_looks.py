"""What somebody sees first: an appearance held so that the fewest slots look wrong, or with its layers turned straight.

Where a puzzle's turns do not lead to every holding, a position can be reached if in one of them it can; so each look at it is
given as it is in every holding between which the turns do not lead.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_otherwise, holdings
from oddswap.reasoning.laws.free_pieces import free_pieces
from oddswap.reasoning.laws.law_book import LawBook
from oddswap.reasoning.laws.lookalikes import first_sight
from oddswap.values.appearance import Appearance


@dataclass(frozen=True, eq=False)
class Look:
    """One first-sight explanation, as a label ``permutation``, in one holding.

    ``rotation`` takes the puzzle from how it is described to how it is held here. ``wrong`` are the slots that look wrong when it
    is held so that they are fewest, as it is here if ``nearest``, and ``free`` the free pieces.
    """

    rotation: np.ndarray
    permutation: np.ndarray
    wrong: frozenset[int]
    free: frozenset[int]
    nearest: bool


def looks_at(book: LawBook, appearance: Appearance) -> Iterator[Look]:
    """The looks at a complete appearance, one where the holding makes no difference; none that no assembly of the pieces has."""
    puzzle = book.puzzle
    for rotation, held in nearest(book, appearance):
        sighted = first_sight(puzzle, held)
        if sighted is None:
            return
        first, wrong = sighted
        free, permutation = free_pieces(puzzle, wrong), puzzle.permutation(first)
        yield Look(rotation, permutation, wrong, free, True)
        for other in book.holdings[1:]:
            turned = np.argsort(other)
            yield Look(turned[rotation], turned[permutation], wrong, free, False)


def straightened(puzzle: Puzzle, appearance: Appearance) -> tuple[Appearance, tuple[str, ...]]:
    """A complete appearance with its layers straight, and the turns that made it so, in order.

    Each leaves the fewest slots that do not look solved, and fewer than before; reachability is not changed. Where a move depends
    on a blank, or no assembly of the pieces looks so, nothing is turned.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:4")
    >>> straightened(cube, cube.appearance(cube.follow("U 2R")))[1]
    ("U'", "2R'")
    """
    sighted = first_sight(puzzle, appearance) if puzzle.blank is None else None
    if sighted is None:
        return appearance, ()
    names, solved, image = list(puzzle.turns), puzzle.looks[puzzle.base_label], puzzle.permutation(sighted[0])
    sources = np.array([np.argsort(puzzle.turns[name].permutation)[puzzle.base_label] for name in names])
    made: list[str] = []
    wrong = int((puzzle.looks[np.argsort(image)[puzzle.base_label]] != solved).sum())
    while wrong:
        counts = (puzzle.looks[np.argsort(image)[sources]] != solved).sum(axis=1)
        best = int(counts.argmin())
        if counts[best] >= wrong:
            break
        wrong, image = int(counts[best]), puzzle.turns[names[best]].permutation[image]
        made.append(names[best])
    return (puzzle.appearance(puzzle.arrangement(image)), tuple(made)) if made else (appearance, ())


def nearest(book: LawBook, appearance: Appearance) -> list[tuple[np.ndarray, Appearance]]:
    """The rotations to the holdings in which the fewest slots look wrong, and what is seen in them; as it is described, where
    the turns lead to all holdings.
    """
    puzzle, solved = book.puzzle, book.puzzle.appearance(book.puzzle.solved).sights
    if len(book.holdings) == 1:
        return [(np.arange(puzzle.degree), appearance)]
    every = [(rotation, held_otherwise(puzzle, appearance, rotation)) for _, rotation in holdings(puzzle)]
    wrong = [sum(map(frozenset.__ne__, held.sights, solved)) for _, held in every]
    return [one for one, number in zip(every, wrong, strict=True) if number == min(wrong)]
