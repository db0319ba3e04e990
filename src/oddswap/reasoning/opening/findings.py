"""What a map of the ways says of itself: why it ended, and how far it tells positions apart."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from oddswap.reasoning.search.findings import Ending


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
