"""The five verdicts, and what a verdict comes with."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.verdicts.exchanges import HiddenSwap, HiddenTurn
from oddswap.reasoning.verdicts.repairs import Repair
from oddswap.reasoning.verdicts.slips import Slip
from oddswap.values.arrangement import Arrangement

ORDINARY = "ordinary"
LOOKALIKE = "lookalike"
OTHER_TURNS = "other turns"
NOT_BY_TURNING = "not by turning"
CANNOT_TELL = "cannot tell yet"


@forwarded
@dataclass(frozen=True)
class Culprit:
    """One smallest exchange that nobody can see and that makes the position reachable.

    ``pieces`` by home slot; ``changes`` are what is not what it seems; ``arrangement`` is the explanation that it gives.
    """

    code: ClassVar[str] = "culprit"
    pieces: tuple[str, ...]
    changes: tuple[HiddenTurn | HiddenSwap, ...]
    arrangement: Arrangement


@forwarded
@dataclass(frozen=True)
class Diagnosis:
    """A verdict with its proof.

    ``broken`` are the laws that every first-sight explanation breaks, ``broken_by_some`` those that only some break.
    ``explanation`` is a reachable arrangement with this appearance, if there is one; ``first`` a first-sight one: both, and
    what culprits give, after the whole-puzzle rotations ``held`` from how it was described, where that has other turns.
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


def turned_whole(puzzle: Puzzle, found: Diagnosis, rotation: np.ndarray) -> Diagnosis:
    """The diagnosis with its arrangements after the whole puzzle was turned; ``rotation`` is a label permutation."""
    if (rotation == np.arange(puzzle.degree)).all():
        return found

    def turned(arrangement: Arrangement | None) -> Arrangement | None:
        return arrangement and puzzle.arrangement(rotation[puzzle.permutation(arrangement)])

    culprits = tuple(replace(culprit, arrangement=turned(culprit.arrangement)) for culprit in found.culprits)
    return replace(found, first=turned(found.first), explanation=turned(found.explanation), culprits=culprits)
