"""What is said of a way out beside its turns: how it was put together, and what each of its phases is for."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from oddswap.forwards import forwarded
from oddswap.reasoning.budget import Finding
from oddswap.reasoning.laws.tally import Quantity
from oddswap.reasoning.ways.commutators import Word


class Composed(Finding):
    """How a way was put together, where no search found it in one go."""


class FromStages(Composed):
    """The way was put together from stages, and is not the shortest."""


class NotInStages(Composed):
    """No way could be put together from stages, either."""


class ThroughOpenBox(Composed):
    """The way leaves the box, changes what the turns inside cannot change, and finishes with these."""


class Aim(Finding):
    """What a phase of a way is for; ``part`` is its place in the whole: stage, begin, set up, exchange, undo or finish."""

    part: ClassVar[str]

    def __init_subclass__(cls, part: str = "stage") -> None:
        cls.part = part
        super().__init_subclass__()


class GoShortest(Aim):
    """Go home on the shortest way there is."""


class SortIntoOrbits(Aim):
    """Bring every piece among its own under fewer turns, the right way round."""


class FinishWith(Aim):
    """Finish with some turns alone."""

    turns: Word


class MakeEven(Aim):
    """Make every kind even, and turn straight what only turns in its place."""


class BringKindHome(Aim):
    """Bring all pieces of a kind home by three-cycles."""

    kind: str


class BringOneByOne(Aim):
    """Bring the pieces home one by one, sparing those that are there."""


class FillSlots(Aim):
    """Fill some slots; ``last``: all that are left, together."""

    slots: tuple[str, ...]
    last: bool


class BringShapeHome(Aim):
    """Bring the shape home, whatever its pieces do."""


class GoRound(Aim):
    """Bring the pieces home by round trips, each of which leaves the shape and comes back to it."""


class SlideLoops(Aim):
    """Bring the pieces home by loops of the blank."""


@forwarded
@dataclass(frozen=True)
class Phase:
    """One phase of a way: what it is for, and its moves.

    ``pieces`` are (piece, from, to) for the pieces followed that it moves or turns; ``tally`` is (quantity, before, after)
    for what the laws speak of and the phase changes.
    """

    aim: Aim
    moves: str
    pieces: tuple[tuple[str, str, str], ...] = ()
    tally: tuple[tuple[Quantity, int | None, int | None], ...] = ()

    @property
    def name(self) -> str:
        """The place of the phase in the whole: stage, begin, set up, exchange, undo or finish."""
        return self.aim.part


Parts = list[tuple[Aim, Word]]
"""A way in parts: what each is for, and its turns."""


def fewest_turns(ways: Iterable[Parts]) -> Parts | None:
    """Return the way with the fewest turns in all, the first of several; None where there is none."""
    return min(ways, key=lambda way: sum(len(word) for _, word in way), default=None)
