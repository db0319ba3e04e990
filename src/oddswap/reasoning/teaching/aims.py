"""What the phases of a way are for, as a teacher tells them: set up, exchange, undo, finish; and stages of a plan."""

from oddswap.reasoning.teaching.effects import Effect
from oddswap.reasoning.teaching.plan_culprits import MiddleTurned
from oddswap.reasoning.verdicts.findings import Culprit
from oddswap.reasoning.ways.findings import Aim


class Approach(Aim, part="begin"):
    """Bring the position to where the next part can work on it."""


class Finish(Aim, part="finish"):
    """Bring the rest into place with a few turns."""


class Repeat(Aim, part="exchange"):
    """Make a few turns several times; together they are a tool."""

    times: int
    effect: Effect


class SetUp(Aim, part="set up"):
    """Carry the pieces that have to change to where the tool reaches them."""


class UseTool(Aim, part="exchange"):
    """Use the tool itself; ``effect`` is what it does from solved."""

    effect: Effect


class UndoSetUp(Aim, part="undo"):
    """Undo the set-up of a tool."""


class Displace(Aim, part="set up"):
    """Take a piece out of the way: the first part of a commutator."""


class ExchangePieces(Aim, part="exchange"):
    """Put another piece where the first one was: the second part of a commutator."""


class UndoDisplacing(Aim, part="undo"):
    """Undo the first part of a commutator."""


class PutBack(Aim, part="finish"):
    """Undo the second part of a commutator; ``effect`` is that of all four."""

    effect: Effect


class PlaceInStage(Aim):
    """Fill slots of a stage of a plan; ``again``: the other way round this time."""

    stage: str
    slots: tuple[str, ...]
    again: bool


class MeetTrouble(Aim):
    """Hold the puzzle otherwise, because of what is to blame that a plan cannot go on."""

    blamed: Culprit | MiddleTurned


class HoldOtherwise(Aim):
    """Hold the puzzle otherwise than it was described."""
