"""What the phases of a way are for, as a teacher tells them: set up, exchange, undo, finish; and stages of a plan."""

from oddswap.reasoning.teaching.effects import Effect
from oddswap.reasoning.teaching.plan_culprits import MiddleTurned
from oddswap.reasoning.verdicts.findings import Culprit
from oddswap.reasoning.ways.findings import Aim


class Approach(Aim):
    """Bring the position to where the next part can work on it."""

    part = "begin"


class Finish(Aim):
    """Bring the rest into place with a few turns."""

    part = "finish"


class Repeat(Aim):
    """Make a few turns several times; together they are a tool."""

    part = "exchange"
    times: int
    effect: Effect


class SetUp(Aim):
    """Carry the pieces that have to change to where the tool reaches them."""

    part = "set up"


class UseTool(Aim):
    """Use the tool itself; ``effect`` is what it does from solved."""

    part = "exchange"
    effect: Effect


class UndoSetUp(Aim):
    """Undo the set-up of a tool."""

    part = "undo"


class Displace(Aim):
    """Take a piece out of the way: the first part of a commutator."""

    part = "set up"


class ExchangePieces(Aim):
    """Put another piece where the first one was: the second part of a commutator."""

    part = "exchange"


class UndoDisplacing(Aim):
    """Undo the first part of a commutator."""

    part = "undo"


class PutBack(Aim):
    """Undo the second part of a commutator; ``effect`` is that of all four."""

    part = "finish"
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
