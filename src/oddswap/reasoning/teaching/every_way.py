"""All ways out that are told of one position: the way that was found, easier ones beside it, and the one through the layers.

The last goes through the stage where the culprit was placed: the layer method carried out, culprit nearest the hand. It is
long, but whoever solves in layers knows all of it: finish, meet the trouble, go back to the stage where the culprit was placed,
put it in the other way round, and go on.
"""

from oddswap.errors import OddswapError
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Clock
from oddswap.reasoning.teaching.aims import MeetTrouble, PlaceInStage
from oddswap.reasoning.teaching.carried_out import Done, carry_out
from oddswap.reasoning.teaching.plans import read_plan
from oddswap.reasoning.teaching.tool_ways import SHORTEST, TaughtWay, easiest_first, taught, told_ways
from oddswap.reasoning.ways.findings import Phase
from oddswap.reasoning.ways.way_out import Route
from oddswap.values.arrangement import Arrangement

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
        found = carry_out(puzzle, read_plan(), start, clock)
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


def every_way(puzzle: Puzzle, start: Arrangement, way: Route, misled: bool, clock: Clock) -> tuple[TaughtWay, ...]:
    """The ways out of ``start`` as they are told, the easiest to follow first; none where there is nothing to turn.

    Where the eye is ``misled`` by lookalikes, the layer method leads through the place where that happened, too.
    """
    if not way.length:
        return ()
    if way.phases or not puzzle.steady:
        ways = [taught(puzzle, way.moves, (SHORTEST,), way.phases)]
        if way.easier:
            ways.append(taught(puzzle, " ".join(step.moves for step in way.easier), (INSIDE,), way.easier))
        return easiest_first(ways)
    through = through_the_plan(puzzle, start, clock) if misled else None
    ways = told_ways(puzzle, start, way.moves, clock)
    return easiest_first((*ways, through)) if through else ways
