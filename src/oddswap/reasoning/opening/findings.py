"""What a map of the ways says of itself, and what the phases of a way through an open box are for."""

from dataclasses import dataclass
from typing import ClassVar

from oddswap.reasoning.search.findings import Ending
from oddswap.reasoning.ways.findings import Aim


class AllKnown(Ending):
    """For every family it is known how to come to it, or that nothing does."""

    code = "all-known"


class DepthReached(Ending):
    """All excursions of as many turns as were asked for were looked at."""

    code = "depth-reached"


@dataclass(frozen=True)
class ReadBySign:
    """The readings are too many, so that orbits of four count by their sign alone."""

    code: ClassVar[str] = "read-by-sign"


@dataclass(frozen=True)
class MoreByLooking:
    """Looking tells ``classes`` apart, more than reading orbits without twins does."""

    code: ClassVar[str] = "more-by-looking"
    classes: int


@dataclass(frozen=True)
class Looking:
    """All excursions of ``length`` turns are being looked at; so many ``states`` were reached."""

    code: ClassVar[str] = "looking"
    length: int
    states: int


class LeaveBox(Aim):
    """Turn inside the box, and leave it."""

    code = "leave-box"


class ChangeOutside(Aim):
    """Change what the turns inside cannot change."""

    code = "change-outside"


class CloseBox(Aim):
    """Close the box for good."""

    code = "close-box"


class FinishInside(Aim):
    """Finish with turns that keep the outline."""

    code = "finish-inside"
