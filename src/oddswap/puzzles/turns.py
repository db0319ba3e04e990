"""Fewer turns: what this copy makes, or what its owner wants to use."""

from dataclasses import replace
from types import MappingProxyType

from oddswap.errors import BadOption, quoted
from oddswap.forwards import fetched
from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.base.puzzle_names import nearest

why_not = fetched("puzzles.boxes.closing:why_not")


def with_turns(puzzle: Puzzle, wanted: str) -> Puzzle:
    """The puzzle with ``half`` turns only, with all that it has (``box``, ``all``), or with those of a list joined by +.

    A turn on the list brings what repeating it gives: R brings R2 and R'. Kinds and looks stay those of the widest set.
    Turns are named as the puzzle is held when it looks solved; where nothing fixes that, a position is tried in every holding.

    >>> from oddswap.puzzles.catalogue import load
    >>> list(load("cube:3,turns=R2+U").turns)
    ['U', 'U2', "U'", 'R2']
    """
    if wanted in ("box", "all"):
        return puzzle
    if wanted == "half":
        kept = {name: turn for name, turn in puzzle.turns.items() if 2 * abs(turn.step.amount) == turn.step.order}
        title = f"{puzzle.title}, half turns only"
    else:
        kept = _listed(puzzle, wanted.split("+"))
        title = f"{puzzle.title}, turns {wanted.replace('+', ' ')} only"
    if not kept:
        raise BadOption(f"turns={wanted} leaves nothing to turn: write half, box, all or a list such as R2+U")
    return replace(puzzle, title=title, turns=MappingProxyType(kept), chosen=len(kept) < len(puzzle.turns))


def _listed(puzzle: Puzzle, names: list[str]) -> dict[str, Turn]:
    kept = set()
    for name in names:
        if name not in puzzle.turns:
            reason = why_not(name, puzzle.alphabet.layers)
            near = nearest(name, ("half", "box", "all", *puzzle.turns))
            right = f"{reason}; " if reason else f"write {near}; " if near else ""
            raise BadOption(f"{quoted(name)} is no turn of {puzzle.title}: {right}its turns are {' '.join(puzzle.turns)}")
        step = puzzle.turns[name].step
        multiples = (step.amount * k % step.order for k in range(1, step.order))
        kept |= {str(step.turned(amount)) for amount in multiples if amount}
    return {name: turn for name, turn in puzzle.turns.items() if name in kept}
