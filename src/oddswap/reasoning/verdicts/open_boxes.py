"""The verdict on a box that may leave its outline: shown by a way home that is replayed, never by laws alone.

What turns are possible depends on the outline, so the states that can be reached are no group. A way that was found shows that a
position can be; that none was found within the budget shows nothing, unless all states were seen.
"""

import numpy as np

from oddswap.errors import BadTicket
from oddswap.puzzles.base.whole_turns import held_by, held_otherwise, holdings, turns_fit_every_holding
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.reasoning.budget import Clock, Limit, started
from oddswap.reasoning.finding import Finding
from oddswap.reasoning.search.outlines import FEW, MANY, count_of_outlines, outline_is_reached, outline_seen
from oddswap.reasoning.search.shortest import Way, find_way
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, NOT_BY_TURNING, ORDINARY, Diagnosis, PuzzleAsTold
from oddswap.values.appearance import Appearance
from oddswap.values.arrangement import Arrangement

AGAIN = "tell again which pieces stick out, and where"


class FacesTouch(Finding):
    """This assumes that nothing was taken apart, and cells touched by whole faces after every turn."""


class SlotUnsure(Finding):
    """A slot of the puzzle may show so many ``looks``, and a way home is searched only from a sight that is whole."""

    puzzle: str
    slot: str
    looks: int


class AllSeen(Finding):
    """A search, which ended for these ``reasons``, proved that the turns do not lead there."""

    reasons: tuple[Finding, ...]


class NoWayFound(Finding):
    """No way home was found, and none of fewer turns than ``lower_bound`` exists; the search ended for these ``reasons``."""

    lower_bound: int
    reasons: tuple[Finding, ...]


class EverySideAsked(Finding):
    """What to ask for: photographs of every side of the box as it stands."""


class TurnsAsked(Finding):
    """What to ask for: the turns that were made since the box was last closed."""


def judged_open(box: BoxPuzzle, appearance: Appearance, budget: Limit = None) -> Diagnosis:
    """*Ordinary* with an arrangement where a way home was found, *not by turning* where all states were seen and none is it,
    else *cannot tell yet*. `BadTicket` for an outline that no turning gives.

    >>> from oddswap.puzzles.catalogue import load
    >>> box = load("cuboid:2x3x4,turns=all")
    >>> judged_open(box, box.appearance(box.follow("U 2F2"))).verdict
    'ordinary'
    """
    assumed, clock = assumed_open(box), started(budget)
    if appearance.uncertain:
        first = appearance.uncertain[0]
        unsure = SlotUnsure(box.name, box.slots[first], len(appearance.sights[first]))
        return Diagnosis(CANNOT_TELL, assumed, asked=(EverySideAsked(),), findings=(unsure,))
    _check_outline(box, appearance, FEW)
    rotation, way = _way_home(box, appearance, clock)
    if way.turns is not None:
        state = _before(box, way.turns, held_otherwise(box, appearance, rotation))
        return Diagnosis(ORDINARY, assumed, first=state, explanation=state, held=held_by(box, rotation))
    if way.impossible:
        return Diagnosis(NOT_BY_TURNING, assumed, findings=(AllSeen(way.reasons),))
    _check_outline(box, appearance, MANY)
    return Diagnosis(CANNOT_TELL, assumed, asked=(TurnsAsked(),), findings=(NoWayFound(way.lower_bound, way.reasons),))


def _way_home(box: BoxPuzzle, appearance: Appearance, clock: Clock) -> tuple[np.ndarray, Way]:
    """A way home, and the rotation of the whole box with which it begins: one where another holding has other turns, else none.

    Where none was found: what was proved for all of these holdings together.
    """
    every = [rotation for _, rotation in holdings(box)][: 1 if turns_fit_every_holding(box) else None]
    ways = []
    for done, rotation in enumerate(every):
        way = find_way(box, held_otherwise(box, appearance, rotation), budget=clock.share(1 / (len(every) - done)))
        if way.turns is not None:
            return rotation, way
        ways.append(way)
    if all(way.impossible for way in ways):
        return every[0], ways[0]
    return every[0], min((way for way in ways if not way.impossible), key=lambda way: way.lower_bound)


def assumed_open(box: BoxPuzzle) -> tuple[PuzzleAsTold, FacesTouch]:
    """What is taken for granted."""
    return PuzzleAsTold(box.title, kinds=False), FacesTouch()


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
