"""What a search says of itself: why it ended, what it counted, and what became of a file in the cache."""

from oddswap.reasoning.budget import Finding


class Ending(Finding):
    """Why a search ended."""


class ShorterExcluded(Ending):
    """A way was found, and every shorter one was excluded."""


class AllStatesSeen(Ending):
    """All states that the turns reach were seen, and none is a goal."""


class PiecesKeptAway(Ending):
    """No turns bring some of the pieces to a goal, whatever the others do."""


class TooManyLooks(Ending):
    """The puzzle has more slots or looks than the packed states of a search can hold."""


class TimeUsedUp(Ending):
    """The time ended before longer ways were tried."""

    seconds: float


class MemoryUsedUp(Ending):
    """Longer ways need more memory."""

    bytes: int


class ThrownAway(Finding):
    """A file of the cache was thrown away: its ``fault``, and the ``version`` that it said it was of."""

    file: str
    fault: str
    version: int


class Counted(Finding):
    """What counts as one: a ``unit`` (slab, slabs, slide or move); which turns were allowed, all those ``of`` a puzzle or some.

    ``held``: no other holding was tried, because it has other turns (*throughout*, or *as it is*); else empty.
    """

    unit: str
    allowed: tuple[str, ...]
    of: str | None
    held: str = ""
