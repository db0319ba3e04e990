"""What is said of a way out beside its turns: how it was put together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True)
class Composed:
    """How a way was put together, where no search found it in one go."""

    code: ClassVar[str]


class FromStages(Composed):
    """The way was put together from stages, and is not the shortest."""

    code = "from-stages"


class NotInStages(Composed):
    """No way could be put together from stages, either."""

    code = "not-in-stages"


class ThroughOpenBox(Composed):
    """The way leaves the box, changes what the turns inside cannot change, and finishes with these."""

    code = "through-open-box"
