"""What a search says of itself: why it ended, what it counted, and what became of a file in the cache."""

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True)
class Ending:
    """Why a search ended."""

    code: ClassVar[str]


class ShorterExcluded(Ending):
    """A way was found, and every shorter one was excluded."""

    code = "shorter-excluded"


class AllStatesSeen(Ending):
    """All states that the turns reach were seen, and none is a goal."""

    code = "all-states-seen"


class PiecesKeptAway(Ending):
    """No turns bring some of the pieces to a goal, whatever the others do."""

    code = "pieces-kept-away"


class TooManyLooks(Ending):
    """The puzzle has more slots or looks than the packed states of a search can hold."""

    code = "too-many-looks"


@dataclass(frozen=True)
class TimeUsedUp(Ending):
    """The time ended before longer ways were tried."""

    code = "time-used-up"
    seconds: float


@dataclass(frozen=True)
class MemoryUsedUp(Ending):
    """Longer ways need more memory."""

    code = "memory-used-up"
    bytes: int


@dataclass(frozen=True)
class ThrownAway:
    """A file of the cache was thrown away: its ``fault``, and the ``version`` that it said it was of."""

    code: ClassVar[str] = "thrown-away"
    file: str
    fault: str
    version: int


@dataclass(frozen=True)
class Counted:
    """What counts as one: a ``unit`` (slab, slide or move); which turns were allowed, all those ``of`` a puzzle or some.

    ``held``: no other holding was tried, because it has other turns (*throughout*, or *as it is*); else empty.
    """

    code: ClassVar[str] = "counted"
    unit: str
    allowed: tuple[str, ...]
    of: str | None
    held: str = ""
