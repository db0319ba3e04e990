"""The verdict on a box that may leave its outline: shown by a way home that is replayed, never by laws alone.

What turns are possible depends on the outline, so the states that can be reached are no group. A way that was found shows that a
position can be; that none was found within the budget shows nothing, unless all states were seen.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from oddswap.errors import BadTicket
from oddswap.puzzles.base.whole_turns import held_by, held_otherwise, holdings, turns_fit_every_holding
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.reasoning.search.outlines_reached import FEW, MANY, count_of_outlines, outline_is_reached, outline_seen
from oddswap.reasoning.search.seen import Unseen
from oddswap.reasoning.search.shortest import Budget, Way, find_way
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, NOT_BY_TURNING, ORDINARY, Diagnosis
from oddswap.values.appearance import Appearance
from oddswap.values.arrangement import Arrangement

BUDGET = Budget(20.0)
QUICK = Budget(1.0)
"""While somebody is still telling what they see."""
AGAIN = "tell again which pieces stick out, and where"


def judged_open(box: BoxPuzzle, appearance: Appearance, budget: Budget = BUDGET) -> Diagnosis:
    """*Ordinary* with an arrangement where a way home was found, *not by turning* where all states were seen and none is it,
    else *cannot tell yet*. `BadTicket` for an outline that no turning gives.

    >>> from oddswap.puzzles.catalogue import load
    >>> box = load("cuboid:2x3x4,turns=all")
    >>> judged_open(box, box.appearance(box.follow("U 2F2"))).verdict
    'ordinary'
    """
    stated = stated_open(box)
    if appearance.complete:
        _check_outline(box, appearance, FEW)
    try:
        rotation, way = _way_home(box, appearance, budget)
    except Unseen as reason:
        return Diagnosis(
            CANNOT_TELL, stated, ask_next=("photographs of every side of the box as it stands",), notes=(str(reason),)
        )
    if way.turns is not None:
        state = _before(box, way.turns, held_otherwise(box, appearance, rotation))
        return Diagnosis(ORDINARY, stated, first=state, explanation=state, held=held_by(box, rotation))
    if way.impossible:
        return Diagnosis(NOT_BY_TURNING, stated, notes=(f"{way.reason}, so this is proved",))
    _check_outline(box, appearance, MANY)
    note = f"no way home was found; that there is none is not proved, only none below {way.lower_bound} turns: {way.reason}"
    ask = ("the turns that were made since it was last closed, as far as anybody remembers them",)
    return Diagnosis(CANNOT_TELL, stated, ask_next=ask, notes=(note,))


def _way_home(box: BoxPuzzle, appearance: Appearance, budget: Budget) -> tuple[np.ndarray, Way]:
    """A way home, and the rotation of the whole box with which it begins: one where another holding has other turns, else none.

    Where none was found: what was proved for all of these holdings together.
    """
    every = [rotation for _, rotation in holdings(box)][: 1 if turns_fit_every_holding(box) else None]
    share, ways = replace(budget, seconds=budget.seconds / len(every)), []
    for rotation in every:
        way = find_way(box, held_otherwise(box, appearance, rotation), budget=share)
        if way.turns is not None:
            return rotation, way
        ways.append(way)
    if all(way.impossible for way in ways):
        return every[0], ways[0]
    return every[0], min((way for way in ways if not way.impossible), key=lambda way: way.lower_bound)


def stated_open(box: BoxPuzzle) -> tuple[str, str]:
    """What is taken for granted."""
    return (
        f"the puzzle is what the ticket says ({box.title})",
        "nothing was taken apart, and after every turn all cells touched by whole faces, which is no model of a mechanism",
    )


def _check_outline(box: BoxPuzzle, appearance: Appearance, most: int) -> None:
    outline = outline_seen(box, appearance)
    if not box.hangs_together(outline):
        raise BadTicket(f"the cells that the ticket tells do not touch by whole faces: {AGAIN}")
    if outline_is_reached(box, outline, most) is False:
        count = count_of_outlines(box, most)
        raise BadTicket(f"no turning gives the outline that the ticket tells, of the {count} that {box.name} has: {AGAIN}")


def _before(box: BoxPuzzle, turns: tuple[str, ...], appearance: Appearance) -> Arrangement:
    """The arrangement of that appearance which these turns take home, in whatever holding."""
    for _, whole in holdings(box):
        image = whole
        for name in reversed(turns):
            image = np.argsort(box.turns[name].permutation)[image]
        state = box.arrangement(image)
        if box.appearance(state).sights == appearance.sights:
            return state
    raise ArithmeticError(f"{' '.join(turns)} does not come from what is seen")
