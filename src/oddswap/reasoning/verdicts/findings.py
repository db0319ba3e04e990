"""The five verdicts, and what a verdict comes with: findings, which `words.say` puts into sentences.

Findings that one file alone makes stand in that file.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Finding, Reached
from oddswap.reasoning.laws.sectors import Law
from oddswap.reasoning.verdicts.exchanges import HiddenSwap, HiddenTurn
from oddswap.values.position import Arrangement

if TYPE_CHECKING:
    from oddswap.reasoning.verdicts.repairs import Repair
    from oddswap.reasoning.verdicts.slips import Slip
    from oddswap.reasoning.verdicts.surprise import Surprise
    from oddswap.reasoning.verdicts.views import View

ORDINARY = "ordinary"
LOOKALIKE = "lookalike"
OTHER_TURNS = "other turns"
NOT_BY_TURNING = "not by turning"
CANNOT_TELL = "cannot tell yet"


Found = TypeVar("Found")


class PuzzleAsTold(Finding):
    """This assumes the puzzle of that title and, for ``kinds``, each piece in a slot of its kind."""

    title: str
    kinds: bool


class OnlyTurned(Finding):
    """This assumes that nothing was taken apart, and only these turns were made, a slab for all of its own."""

    turns: tuple[str, ...]


class OnlySlid(Finding):
    """This assumes that nothing was taken apart, and pieces only slid into the blank."""


class PiecesJoined(Finding):
    """This assumes that the pieces of each block, named by their slots, are joined."""

    blocks: tuple[tuple[str, ...], ...]


class MayBeBlocked(Finding):
    """Advice for turns that the shape may block: stop, line up, go back."""


class FacesTouch(Finding):
    """This assumes that nothing was taken apart, and cells touched by whole faces after every turn."""


class TurnsAsked(Finding):
    """What to ask for: the turns that were made since the puzzle last had its shape."""


class WallsApart(Finding):
    """No known law is broken, but all that is known to be reached is one in ``factor`` of what these laws allow."""

    factor: int


class EquallyOften(Finding):
    """This assumes that of what the turns reach, and what looks solved where this does, everything comes equally often."""


class TooManyExchanged(Finding):
    """Lookalikes explain the position, but no smallest exchange of them was found in so many ``tries``."""

    tries: int


class WiderTurns(Finding):
    """Reachable with these turns, too, which this copy may not make."""

    turns: tuple[str, ...]


class StrangeSight(Finding):
    """A slot shows what no piece can show there."""

    slot: str


class SeenTooOften(Finding):
    """Pieces, by their home slots, that are seen more often than the puzzle has them."""

    pieces: tuple[str, ...]


class NotSeen(Finding):
    """Pieces, by their home slots, that are seen nowhere."""

    pieces: tuple[str, ...]


class ToMeasure(Finding):
    """Only measuring tells these pieces apart, by home slot: twice the same for a piece and its own turn."""

    one: str
    other: str


class SlotAsked(Finding):
    """What to ask for: what this slot shows."""

    slot: str


@forwarded
class Culprit(Finding):
    """One smallest exchange that nobody can see and that makes the position reachable.

    ``pieces`` by home slot; ``changes`` are what is not what it seems; ``arrangement`` is the explanation that it gives.
    """

    pieces: tuple[str, ...]
    changes: tuple[HiddenTurn | HiddenSwap, ...]
    arrangement: Arrangement


class OnceStraight(Finding):
    """Put straight by these ``turns``, after the whole-puzzle rotations ``held``, it will have a ``verdict`` of a worse sort."""

    held: str
    turns: tuple[str, ...]
    verdict: str
    culprits: tuple[Culprit, ...]


@forwarded
@dataclass(frozen=True)
class Diagnosis:
    """A verdict with its proof.

    ``assumed`` is what it takes for granted, ``findings`` what was found beside it, and ``asked`` what to ask for, best first.
    ``broken`` are the laws that every first-sight explanation breaks, ``broken_by_some`` those that only some break.
    ``explanation`` is a reachable arrangement with this appearance, if there is one; ``first`` a first-sight one: both, and
    what culprits give, after the whole-puzzle rotations ``held`` from how it was described, where that has other turns.
    ``reached`` are the parts that were cut short. ``surprise`` comes with a lookalike.
    """

    verdict: str
    assumed: tuple[Finding, ...]
    broken: tuple[Law, ...] = ()
    broken_by_some: tuple[Law, ...] = ()
    first: Arrangement | None = None
    explanation: Arrangement | None = None
    culprits: tuple[Culprit, ...] = ()
    slips: tuple[Slip, ...] = ()
    repair: Repair | None = None
    asked: tuple[Finding, ...] = ()
    findings: tuple[Finding, ...] = ()
    held: str = ""
    reached: tuple[Reached, ...] = ()
    surprise: Surprise | None = None

    @property
    def asked_view(self) -> View | None:
        """The photograph that is asked for first; ``None`` where it is something else, or nothing."""
        return next((view for view in self.asked[:1] if view.code == "view"), None)

    @property
    def hangs_on_measuring(self) -> bool:
        """Whether the verdict is open because only measuring tells some pieces apart."""
        return any(one.code == "to-measure" for one in self.asked)

    def has(self, kind: type) -> bool:
        """Whether a finding of that kind is among the ``findings``."""
        return self.one(kind) is not None

    def one(self, kind: type[Found]) -> Found | None:
        """The first of the ``findings`` of that kind, if there is one."""
        return next((finding for finding in self.findings if isinstance(finding, kind)), None)


def turned_whole(puzzle: Puzzle, found: Diagnosis, rotation: np.ndarray) -> Diagnosis:
    """The diagnosis with its arrangements after the whole puzzle was turned; ``rotation`` is a label permutation."""
    if (rotation == np.arange(puzzle.degree)).all():
        return found

    def turned(arrangement: Arrangement | None) -> Arrangement | None:
        return arrangement and puzzle.arrangement(rotation[puzzle.permutation(arrangement)])

    culprits = tuple(replace(culprit, arrangement=turned(culprit.arrangement)) for culprit in found.culprits)
    return replace(found, first=turned(found.first), explanation=turned(found.explanation), culprits=culprits)
