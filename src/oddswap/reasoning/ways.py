"""The way out of a reported position and the set-up that puts it on one's own copy, searched on what is seen."""

from __future__ import annotations

from dataclasses import dataclass

from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.search import Budget, Progress, find_way
from oddswap.reasoning.seen import seen_model
from oddswap.values.appearance import Appearance
from oddswap.values.arrangement import Arrangement


@dataclass(frozen=True)
class Route:
    """A checked sequence, or ``None`` with the bound that was proved before the budget ended.

    ``turns`` are the names of the slabs that were allowed; ``counting`` says what counts as one.
    """

    moves: str | None
    length: int | None
    lower_bound: int
    shortest: bool
    counting: str
    turns: tuple[str, ...]
    reason: str


def way_out(
    puzzle: Puzzle,
    explanation: Arrangement,
    budget: Budget | None = None,
    progress: Progress | None = None,
) -> Route:
    """A shortest sequence after which a reachable explanation looks solved, in any holding where that is free.

    Lookalikes need no special case, because the search knows only what is seen. `ArithmeticError` if the sequence fails
    its replay, which would be a bug.
    """
    found = find_way(puzzle, puzzle.appearance(explanation), budget=budget, progress=progress)
    allowed = tuple(sorted({turn.step.name for turn in puzzle.turns.values()}, key=lambda n: (len(n), n)))
    moves = None if found.turns is None else " ".join(found.turns)
    if moves is not None and not looks_solved(puzzle, puzzle.appearance(puzzle.follow(moves, explanation))):
        raise ArithmeticError(f"the way out {moves} does not solve {explanation}")
    length = None if found.turns is None else len(found.turns)
    return Route(moves, length, found.lower_bound, found.shortest, found.counting, allowed, found.reason)


def set_up(puzzle: Puzzle, way: Route, appearance: Appearance) -> str | None:
    """The moves that put a reported appearance on a solved copy: the way out undone, after a new holding if need be."""
    if way.moves is None:
        return None
    undone = str(puzzle.read(way.moves).inverse())
    for holding in ("", *_holdings(puzzle)):
        moves = f"{holding} {undone}".strip()
        if puzzle.appearance(puzzle.follow(moves)).sights == appearance.sights:
            return moves
    raise ArithmeticError(f"{undone} does not set the position up")


def looks_solved(puzzle: Puzzle, appearance: Appearance) -> bool:
    """Whether an appearance is the solved one, in any holding where nothing fixes it."""
    model = seen_model(puzzle)
    return bool((model.goals == model.pack(appearance)).all(axis=1).any())


def _holdings(puzzle: Puzzle) -> list[str]:
    if not puzzle.rotations:
        return []
    first = ["", "x", "x'", "x2", "z", "z'"]
    return [f"{a} {b}".strip() for a in first for b in ("", "y", "y2", "y'") if a or b]
