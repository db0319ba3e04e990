"""The five verdicts, and what a verdict comes with."""

from __future__ import annotations

from dataclasses import dataclass

from oddswap.forwards import forwarded
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.verdicts.repairs import Repair
from oddswap.reasoning.verdicts.slips import Slip
from oddswap.values.arrangement import Arrangement

ORDINARY = "ordinary"
LOOKALIKE = "lookalike"
OTHER_TURNS = "other turns"
NOT_BY_TURNING = "not by turning"
CANNOT_TELL = "cannot tell yet"


@dataclass(frozen=True)
class Culprit:
    """One smallest exchange that nobody can see and that makes the position reachable.

    ``pieces`` by home slot; ``words`` say what is not what it seems; ``arrangement`` is the explanation that it gives.
    """

    pieces: tuple[str, ...]
    words: str
    arrangement: Arrangement


@forwarded
@dataclass(frozen=True)
class Diagnosis:
    """A verdict with its proof.

    ``broken`` are the laws that every first-sight explanation breaks, ``broken_by_some`` those that only some break.
    ``explanation`` is a reachable arrangement with this appearance, if there is one; ``first`` a first-sight one: both, and
    what culprits give, as it is held after the whole-puzzle rotations ``held`` from how it was described, if there are any.
    """

    verdict: str
    assumptions: tuple[str, ...]
    broken: tuple[Law, ...] = ()
    broken_by_some: tuple[Law, ...] = ()
    first: Arrangement | None = None
    explanation: Arrangement | None = None
    culprits: tuple[Culprit, ...] = ()
    slips: tuple[Slip, ...] = ()
    repair: Repair | None = None
    ask_next: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    held: str = ""
