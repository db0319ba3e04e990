"""All ways out that are told of one position: the way that was found, easier ones beside it, and the one through the layers.

The last goes through the stage where the culprit was placed: the layer method carried out, culprit nearest the hand. It is
long, but whoever solves in layers knows all of it: finish, meet the trouble, go back to the stage where the culprit was placed,
put it in the other way round, and go on.
"""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from oddswap.errors import OddswapError
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import holdings
from oddswap.reasoning.budget import Clock
from oddswap.reasoning.teaching.aims import MeetTrouble, PlaceInStage
from oddswap.reasoning.teaching.carried_out import Done, carry_out
from oddswap.reasoning.teaching.phases import phases
from oddswap.reasoning.teaching.plans import taught_plan
from oddswap.reasoning.teaching.tool_ways import SHORTEST, TaughtWay, easiest_first, taught, told_ways
from oddswap.reasoning.verdicts.exchanges import HiddenSwap, HiddenTurn
from oddswap.reasoning.verdicts.findings import Diagnosis
from oddswap.reasoning.ways.findings import Phase
from oddswap.reasoning.ways.way_out import Route
from oddswap.values.permutation import cycles
from oddswap.values.position import Arrangement

INSIDE = "most turns inside the box"
THROUGH = "through the stage where the culprit was placed"


def through_the_plan(puzzle: Puzzle, start: Arrangement, clock: Clock) -> TaughtWay | None:
    """The layer method from ``start``, if it meets trouble there and comes to its end; ``None`` where it does not fit.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.describing.changes import changed
    >>> from oddswap.reasoning.budget import Budget
    >>> prism = load("shape-mod:prism8")
    >>> told = through_the_plan(prism, changed(prism, ["flip UF", "flip FL"]), Budget().start())
    >>> prism.appearance(prism.follow(told.turns, changed(prism, ["flip UF", "flip FL"]))) == prism.appearance(prism.solved)
    True
    """
    try:
        found = carry_out(puzzle, taught_plan(3), start, clock)
    except OddswapError:
        return None
    if not (found.finished and found.troubles):
        return None
    steps, again = [], False
    for event in found.events:
        aim = PlaceInStage(event.stage, event.slots, again) if isinstance(event, Done) else MeetTrouble(event.blamed)
        steps += [Phase(aim, event.moves)] if event.moves else []
        again = not isinstance(event, Done) or (again and not event.moves)
    named = sum(len(event.parts) for event in found.events if isinstance(event, Done))
    return taught(puzzle, found.moves, (THROUGH,), tuple(steps), named)


def every_way(puzzle: Puzzle, found: Diagnosis, way: Route, clock: Clock) -> tuple[TaughtWay, ...]:
    """The ways out of what was found as they are told, the easiest to follow first; none where there is nothing to turn.

    Where the eye is misled by lookalikes, the layer method leads through the place where that happened, too, and each way says
    which culprit it mends.
    """
    if not way.length:
        return ()
    ways = _ways(puzzle, found, way, clock)
    if found.explanation not in [culprit.arrangement for culprit in found.culprits]:
        return ways
    return tuple(_mending(puzzle, found, told) for told in ways)


def _ways(puzzle: Puzzle, found: Diagnosis, way: Route, clock: Clock) -> tuple[TaughtWay, ...]:
    if way.phases or not puzzle.steady:
        ways = [taught(puzzle, way.moves, (SHORTEST,), way.phases)]
        if way.easier:
            ways.append(taught(puzzle, " ".join(step.moves for step in way.easier), (INSIDE,), way.easier))
        return easiest_first(ways)
    through = through_the_plan(puzzle, found.explanation, clock) if found.culprits else None
    ways = told_ways(puzzle, found.explanation, way.moves, clock)
    return easiest_first((*ways, through)) if through else ways


def _mending(puzzle: Puzzle, found: Diagnosis, told: TaughtWay) -> TaughtWay:
    """The way with the culprit that it mends: if it was that one, the fewest pieces end where they only look right.

    What its phases do to pieces and to the tally is counted from that culprit.
    """
    ends = {one: puzzle.permutation(puzzle.follow(told.turns, one.arrangement)) for one in found.culprits}
    left = {one: min((end[np.argsort(r)] for _, r in holdings(puzzle)), key=_strays) for one, end in ends.items()}
    culprit = min(left, key=lambda one: _strays(left[one]))
    counted = any(step.tally or step.pieces for step in told.phases)
    steps = phases(puzzle, culprit.arrangement, puzzle.read(told.moves)) if counted else told.phases
    families = {change.family for change in culprit.changes}
    return replace(told, mends=culprit, phases=steps, leaves=tuple(_hidden(puzzle, left[culprit], families)))


def _strays(image: np.ndarray) -> int:
    return int((image != np.arange(len(image))).sum())


def _hidden(puzzle: Puzzle, image: np.ndarray, families: set[str]) -> Iterator[HiddenTurn | HiddenSwap]:
    """What a permutation that does not show does to the pieces of some families."""
    for kind in (kind for kind in puzzle.kinds if kind.family in families):
        slots, twists = np.divmod(image[puzzle.base_label[list(kind.places)]] - kind.first, kind.twist)
        for ring in cycles(slots.tolist()):
            yield HiddenSwap(tuple(kind.slots[s] for s in ring), kind.family)
        for s in np.flatnonzero((slots == np.arange(len(slots))) & (twists > 0)):
            yield HiddenTurn(kind.slots[s], kind.family, (int(twists[s]),), kind.twist)
