"""What a map of the ways says of itself, and what the phases of a way through an open box are for."""

from oddswap.reasoning.finding import Finding
from oddswap.reasoning.search.findings import Ending
from oddswap.reasoning.ways.findings import Aim


class AllKnown(Ending):
    """For every family it is known how to come to it, or that nothing does."""


class DepthReached(Ending):
    """All excursions of as many turns as were asked for were looked at."""


class ReadBySign(Finding):
    """The readings are too many, so that orbits of four count by their sign alone."""


class MoreByLooking(Finding):
    """Looking tells ``classes`` apart, more than reading orbits without twins does."""

    classes: int


class Looking(Finding):
    """All excursions of ``length`` turns are being looked at; so many ``states`` were reached."""

    length: int
    states: int


class LeaveBox(Aim):
    """Turn inside the box, and leave it."""


class ChangeOutside(Aim):
    """Change what the turns inside cannot change."""


class CloseBox(Aim):
    """Close the box for good."""


class FinishInside(Aim):
    """Finish with turns that keep the outline."""
