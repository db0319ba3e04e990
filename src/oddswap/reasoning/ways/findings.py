"""What is said of a way out beside its turns: how it was put together, and what each of its phases is for."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from oddswap.forwards import forwarded
from oddswap.reasoning.laws.tally import Quantity
from oddswap.reasoning.ways.commutators import Word


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


@dataclass(frozen=True)
class Aim:
    """What a phase of a way is for; ``part`` is its place in the whole: stage, begin, set up, exchange, undo or finish."""

    code: ClassVar[str]
    part: ClassVar[str] = "stage"


class GoShortest(Aim):
    """Go home on the shortest way there is."""

    code = "go-shortest"


class SortIntoOrbits(Aim):
    """Bring every piece among its own under fewer turns, the right way round."""

    code = "sort-into-orbits"


@dataclass(frozen=True)
class FinishWith(Aim):
    """Finish with some turns alone."""

    code = "finish-with"
    turns: Word


class MakeEven(Aim):
    """Make every kind even, and turn straight what only turns in its place."""

    code = "make-even"


@dataclass(frozen=True)
class BringKindHome(Aim):
    """Bring all pieces of a kind home by three-cycles."""

    code = "bring-kind-home"
    kind: str


class BringOneByOne(Aim):
    """Bring the pieces home one by one, sparing those that are there."""

    code = "bring-one-by-one"


@dataclass(frozen=True)
class FillSlots(Aim):
    """Fill some slots; ``last``: all that are left, together."""

    code = "fill-slots"
    slots: tuple[str, ...]
    last: bool


class SlideLoops(Aim):
    """Bring the pieces home by loops of the blank."""

    code = "slide-loops"


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
