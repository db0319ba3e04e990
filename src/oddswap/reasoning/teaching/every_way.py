"""All ways out that are told of one position: the way that was found, easier ones beside it, and the one through the layers."""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Clock
from oddswap.reasoning.teaching.by_plan import through_the_plan
from oddswap.reasoning.teaching.grips import grip_changes
from oddswap.reasoning.teaching.tool_ways import EASIEST, SHORTEST, TaughtWay, told_ways
from oddswap.reasoning.ways.findings import Phase
from oddswap.reasoning.ways.way_out import Route
from oddswap.values.arrangement import Arrangement


def every_way(puzzle: Puzzle, start: Arrangement, way: Route, misled: bool, clock: Clock) -> tuple[TaughtWay, ...]:
    """The ways out of ``start`` as they are told, the easiest to follow first; none where ``way`` is all there is to say.

    Where the eye is ``misled`` by lookalikes, the layer method leads through the place where that happened, too.
    """
    if way.easier:
        return tuple(_in_stages(puzzle, sort, steps) for sort, steps in ((EASIEST, way.easier), (SHORTEST, way.phases)))
    if not way.length or way.phases or not puzzle.steady:
        return ()
    ways = told_ways(puzzle, start, way.moves, clock)
    through = through_the_plan(puzzle, start, clock) if misled else None
    return (*ways, through) if through else ways


def _in_stages(puzzle: Puzzle, sort: str, steps: tuple[Phase, ...]) -> TaughtWay:
    moves = " ".join(step.moves for step in steps)
    length = len(moves.split())
    return TaughtWay((sort,), moves, moves, length, length, grip_changes(puzzle, moves), steps)
