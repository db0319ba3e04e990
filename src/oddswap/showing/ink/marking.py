"""Which pieces a picture marks: slots by name or number, and the lookalikes that an x-ray hatches."""

from collections.abc import Iterable

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.lookalikes import lookalikes


def hatched_pieces(puzzle: Puzzle, xray: bool | Iterable[str | int]) -> dict[int, tuple[str, ...]]:
    """For each piece (its home slot) with lookalikes the keys of its hatching.

    ``xray`` is True for all pieces, or names the home slots of those that are meant.
    """
    if xray is False:
        return {}
    alike = lookalikes(puzzle)
    twins = {piece for pieces in alike.twins for piece in pieces}
    chosen = range(len(puzzle.slots)) if xray is True else slot_numbers(puzzle, xray)
    reasons = {p: ("twins",) * (p in twins) + ("hidden turns",) * (p in alike.hidden_turns) for p in chosen}
    return {piece: keys for piece, keys in reasons.items() if keys}


def slot_numbers(puzzle: Puzzle, named: Iterable[str | int]) -> list[int]:
    """The numbers of slots given by name or number; `UnknownSlot` for a name that the puzzle has not."""
    return [puzzle.slot(slot) if isinstance(slot, str) else int(slot) for slot in named]
