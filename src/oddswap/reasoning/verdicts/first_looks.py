"""What somebody sees first: an appearance held so that the fewest slots look wrong, or with its layers turned straight.

Where a puzzle's turns do not lead to every holding, a position can be reached if in one of them it can; so each look at it is
given as it is in every holding between which the turns do not lead.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_otherwise, holdings
from oddswap.reasoning.laws.as_seen import wrong
from oddswap.reasoning.laws.free_pieces import free_pieces
from oddswap.reasoning.laws.law_book import LawBook, law_book
from oddswap.reasoning.laws.lookalikes import first_sight
from oddswap.reasoning.verdicts.mending import is_reachable_as_held
from oddswap.values.position import Appearance


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
    for rotation, held in nearest(puzzle, appearance):
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

    Each leaves the fewest slots that do not look solved, and fewer than before; reachability is not changed. Where the shape
    decides the turns, or no assembly of the pieces looks so, nothing is turned.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:4")
    >>> straightened(cube, cube.appearance(cube.follow("U 2R")))[1]
    ("U'", "2R'")
    """
    sighted = first_sight(puzzle, appearance) if puzzle.steady else None
    if sighted is None:
        return appearance, ()
    names, image = list(puzzle.turns), puzzle.permutation(sighted[0])
    turns, made = np.array([turn.permutation for turn in puzzle.turns.values()]), []
    while True:
        counts = wrong(puzzle, turns[:, image])
        best = int(counts.argmin())
        if counts[best] >= wrong(puzzle, image):
            break
        image = turns[best][image]
        made.append(names[best])
    return (puzzle.appearance(puzzle.arrangement(image)), tuple(made)) if made else (appearance, ())


def is_ordinary(puzzle: Puzzle, appearance: Appearance) -> bool:
    """Whether an explanation that differs from a first-sight one on free pieces only is reachable."""
    if appearance.foreign or not appearance.complete:
        return False
    book = law_book(puzzle)
    return any(is_reachable_as_held(book, look.permutation, look.free) for look in looks_at(book, appearance))


def nearest(puzzle: Puzzle, appearance: Appearance) -> Iterator[tuple[np.ndarray, Appearance]]:
    """The rotations to the holdings in which the fewest slots look wrong, and what is seen in them.

    Where slots are not seen for certain: all holdings in which these can be fewest.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:4")
    >>> [held == cube.appearance(cube.solved) for _, held in nearest(cube, cube.appearance(cube.follow("x y")))]
    [True]
    """
    wrong = _solved_in_every_holding(puzzle) != np.array([min(sight, default=-1) for sight in appearance.sights])
    most = wrong.sum(axis=1)
    for slot in appearance.uncertain:
        most += ~wrong[:, slot]
        wrong[:, slot] = ~np.isin(_solved_in_every_holding(puzzle)[:, slot], list(appearance.sights[slot]))
    for (names, rotation), fewest in zip(holdings(puzzle), wrong.sum(axis=1), strict=True):
        if fewest <= most.min():
            yield rotation, held_otherwise(puzzle, appearance, rotation) if names else appearance


@lru_cache(maxsize=32)
def _solved_in_every_holding(puzzle: Puzzle) -> np.ndarray:
    """What each slot must show to look solved once the puzzle is held otherwise, (holdings, slots)."""
    held = (puzzle.arrangement(np.argsort(rotation)) for _, rotation in holdings(puzzle))
    return np.array([puzzle.appearance(arrangement).looks for arrangement in held])
