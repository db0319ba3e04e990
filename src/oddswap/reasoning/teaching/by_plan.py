"""The way out that goes through the stage where the culprit was placed: the layer method carried out, culprit nearest the hand.

It is long, but whoever solves in layers knows all of it: finish, meet the trouble, go back to the stage where the culprit was
placed, put it in the other way round, and go on.
"""

from __future__ import annotations

from oddswap.errors import OddswapError
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.search.shortest import Budget
from oddswap.reasoning.teaching.carried_out import Done, carry_out
from oddswap.reasoning.teaching.grips import grip_changes
from oddswap.reasoning.teaching.phases import Phase
from oddswap.reasoning.teaching.plans import read_plan
from oddswap.reasoning.teaching.tool_ways import Told
from oddswap.values.arrangement import Arrangement
from oddswap.values.grammar import listed

THROUGH = "through the stage where the culprit was placed"
PATIENCE = Budget(10.0, 500_000_000)


def through_the_plan(puzzle: Puzzle, start: Arrangement) -> Told | None:
    """The layer method from ``start``, if it meets trouble there and comes to its end; ``None`` where it does not fit.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.describing.changes import changed
    >>> prism = load("shape-mod:prism8")
    >>> told = through_the_plan(prism, changed(prism, ["flip UF", "flip FL"]))
    >>> prism.appearance(prism.follow(told.turns, changed(prism, ["flip UF", "flip FL"]))) == prism.appearance(prism.solved)
    True
    """
    try:
        found = carry_out(puzzle, read_plan(), start, PATIENCE)
    except OddswapError:
        return None
    if not (found.finished and found.troubles):
        return None
    steps, trouble = [], ""
    for event in found.events:
        if not isinstance(event, Done):
            trouble = ", the other way round this time"
            if event.moves:
                steps.append(Phase("stage", event.words, event.moves, (), ()))
        elif event.moves:
            steps.append(Phase("stage", f"{event.stage}, for {listed(event.slots)}{trouble}", event.moves, (), ()))
            trouble = ""
    length = len(puzzle.read(found.moves).steps)
    return Told((THROUGH,), found.moves, found.moves, length, length, grip_changes(puzzle, found.moves), tuple(steps))
