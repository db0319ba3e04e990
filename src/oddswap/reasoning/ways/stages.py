"""Going home in two stages, through a smaller set of turns.

First every label is brought into its orbit under the smaller set: that is a search on coarser looks, in which a piece
shows only the orbit that it belongs to. Then the smaller set of turns finishes. Each stage is proved shortest by itself;
the whole is not.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.orbit_looks import by_orbits
from oddswap.reasoning.search.shortest import Budget, Progress, find_way
from oddswap.values.arrangement import Arrangement


@dataclass(frozen=True)
class Stage:
    """One stage: what it is for, its turns, and which turns it was allowed."""

    words: str
    turns: tuple[str, ...]
    allowed: tuple[str, ...]


def through(
    puzzle: Puzzle, explanation: Arrangement, inner: Iterable[str], budget: Budget | None = None, progress: Progress | None = None
) -> tuple[Stage, ...] | None:
    """The two stages home through the turns ``inner``; ``None`` when the budget ends first.

    ``explanation`` is a reachable arrangement; the last stage looks for what is seen, so lookalikes help it.
    """
    budget = budget or Budget()
    generators = tuple(inner)
    allowed = tuple(name for name in puzzle.turns if _made_by(name, generators))
    coarse = by_orbits(puzzle, generators)
    start = Arrangement(coarse.name, explanation.pieces, explanation.twists)
    first = find_way(coarse, coarse.appearance(start), budget=budget, progress=progress)
    if first.turns is None:
        return None
    between = puzzle.follow(" ".join(first.turns), explanation)
    last = find_way(puzzle, puzzle.appearance(between), turns=allowed, budget=budget, progress=progress)
    if last.turns is None:
        return None
    return (
        Stage("bring every piece among its own, the right way round", first.turns, tuple(puzzle.turns)),
        Stage(f"finish with {' '.join(generators)} alone", last.turns, allowed),
    )


def _made_by(name: str, generators: tuple[str, ...]) -> bool:
    """Whether repeating one of the generators gives the turn of this name."""
    return name in generators or name.rstrip("2'") in generators
