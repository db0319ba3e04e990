"""The verdict on a puzzle of which only a part is seen: exact counts, and always two readings, both said.

*Everything unseen is in place* and *everything unseen has only been turned*. The second one gives the verdict: where every
completion would have it, or where every completion that turning leaves open would be a lookalike.
"""

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace

from oddswap.describing.sights import own_look
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import with_all_turns
from oddswap.reasoning.finding import Finding
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.laws.law_book import LawBook
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts import findings as said
from oddswap.reasoning.verdicts.assignments import TooManyToCount, count_assignments
from oddswap.reasoning.verdicts.counting import Classes, Count, Uncounted, count_explanations, joined, values_of
from oddswap.reasoning.verdicts.exchanges import HiddenSwap, HiddenTurn
from oddswap.reasoning.verdicts.explanations import allowed_columns, completions, in_place
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS, Diagnosis
from oddswap.reasoning.verdicts.mending import steady_laws
from oddswap.values.appearance import Appearance

FEW = 12
"""So many completions are judged one by one at most."""

Judge = Callable[[Puzzle, Appearance], Diagnosis]


@dataclass(frozen=True)
class Share:
    """How many of the ``ways`` in which the pieces may lie are ``reached`` by turning; ``None`` where that was not counted."""

    ways: int
    reached: int | None


class NoAssembly(Finding):
    """No way to put the pieces together agrees with what is told."""


class OneWhole(Finding):
    """What is not told can be only one thing."""


class FewWholes(Finding):
    """What is told leaves few looks of the whole: how many have which verdict."""

    verdicts: tuple[tuple[str, int], ...]


class NotAllInPlace(Finding):
    """First reading: not all that is unseen can be in place, as some of its pieces were seen elsewhere."""


class IfInPlace(Finding):
    """First reading: the verdict if what is unseen is in place, ``nearly`` where that is as far as it can be.

    ``laws`` are those that are broken then, ``changes`` one culprit.
    """

    verdict: str
    nearly: bool
    laws: tuple[Law, ...]
    changes: tuple[HiddenTurn | HiddenSwap, ...]


class IfOnlyTurned(Finding):
    """Second reading: the share that turning reaches if what is unseen was only turned, or why it was not counted.

    ``equal``: all classes come out equally often, so that what is seen says nothing.
    """

    share: Share
    equal: bool
    uncounted: Uncounted | None


class RestIsFree(Finding):
    """However the rest lies, turning leads there."""


class GoOn(Finding):
    """Nothing that is told is impossible so far: pieces that are not placed yet can make up for it."""


class NotYetPlaced(Finding):
    """This assumes that what is left open was only turned, never put together by hand: then the verdict is one for all of it."""


class WiderShare(Finding):
    """The share that can be reached with these turns, too, which this copy may not make."""

    turns: tuple[str, ...]
    share: Share


def judged_partly(puzzle: Puzzle, appearance: Appearance, judge: Judge, assumed: tuple[Finding, ...]) -> Diagnosis:
    """The verdict where some slots are not seen for certain; ``judge`` gives it for a complete appearance.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.describing.sights import every_look, own_look
    >>> from oddswap.reasoning.verdicts.diagnosis import judged
    >>> cube = load("cube:3")
    >>> sights = [own_look(cube, slot) if "U" not in name else every_look(cube, slot) for slot, name in enumerate(cube.slots)]
    >>> judged_partly(cube, Appearance(cube.name, tuple(sights)), judged, ()).verdict
    'cannot tell yet'
    """
    count = count_explanations(puzzle, appearance)
    if not count.total:
        return Diagnosis(NOT_BY_TURNING, assumed, findings=(NoAssembly(),))
    if count.appearances <= FEW:
        return _few(puzzle, completions(puzzle, appearance, FEW), judge, assumed)
    second = IfOnlyTurned(Share(count.total, count.possible), count.equal, count.reason if count.possible is None else None)
    readings = (_first_reading(puzzle, appearance, judge), second)
    if count.possible == 0:
        return _unreachable(puzzle, appearance, count, assumed, readings)
    if count.reachable == count.total:
        return Diagnosis(ORDINARY, assumed, findings=(*readings, RestIsFree()))
    go_on = (GoOn(),) if count.possible else ()
    return Diagnosis(CANNOT_TELL, assumed, asked=_unseen(puzzle, appearance), findings=(*go_on, *readings))


def amounts_broken(book: LawBook, appearance: Appearance, free: frozenset[int]) -> set[tuple[int, ...]]:
    """By how much the laws that relabelling ``free`` pieces leaves fixed are broken in all that turning leaves open.

    Slots that look right for certain have their own pieces. ``free`` are all that can be so: the more looks wrong, the more are
    free. Empty where that cannot be worked out.
    """
    puzzle = book.puzzle
    if not book.additive or puzzle.blank is not None or len(book.holdings) > 1 or book.hidden.order < lookalikes(puzzle).order:
        return set()
    own, seen = steady_laws(book, free), steady_laws(book, None)
    found: Classes = {(0,) * (len(own) + len(seen)): 1}
    right = {slot for slot, sight in enumerate(appearance.sights) if sight == own_look(puzzle, slot)}
    try:
        for sector in book.sectors:
            allowed = allowed_columns(puzzle, sector, appearance.sights)
            for i, piece in enumerate(sector.slots):
                for b, slot in enumerate(sector.slots):
                    if right.intersection((piece, slot)):
                        allowed[i][b] = allowed[i][b] & {0} if piece == slot else frozenset()
            found = joined(found, values_of(sector, count_assignments(allowed, sector.twist), (*own, *seen)), (*own, *seen))
    except TooManyToCount:
        return set()
    return {values[: len(own)] for values in found if not any(values[len(own) :])}


def _few(puzzle: Puzzle, wholes: list[Appearance], judge: Judge, assumed: tuple[Finding, ...]) -> Diagnosis:
    """Every completion judged one by one."""
    found = [judge(puzzle, whole) for whole in wholes]
    if len(found) == 1:
        return replace(found[0], findings=(OneWhole(), *found[0].findings))
    verdicts = Counter(one.verdict for one in found)
    wholes_left = FewWholes(tuple(verdicts.items()))
    if verdicts.keys() == {LOOKALIKE, NOT_BY_TURNING}:
        found = [one for one in found if one.verdict == LOOKALIKE]
        del verdicts[NOT_BY_TURNING]
        assumed = (*assumed, NotYetPlaced())
    broken = tuple(law for law in found[0].broken if all(law in one.broken for one in found))
    if len(verdicts) == 1:
        culprits = found[0].culprits if all(one.culprits == found[0].culprits for one in found) else ()
        return Diagnosis(found[0].verdict, assumed, broken, culprits=culprits, findings=(wholes_left,))
    asked = tuple(said.SlotAsked(name) for b, name in enumerate(puzzle.slots) if len({whole.sights[b] for whole in wholes}) > 1)
    return Diagnosis(CANNOT_TELL, assumed, broken, asked=asked, findings=(wholes_left,))


def _first_reading(puzzle: Puzzle, appearance: Appearance, judge: Judge) -> NotAllInPlace | IfInPlace:
    nearest = in_place(puzzle, appearance)
    if not nearest.complete:
        return NotAllInPlace()
    found, solved = judge(puzzle, nearest), puzzle.appearance(puzzle.solved)
    moved = any(nearest.sights[b] != solved.sights[b] for b in appearance.uncertain)
    return IfInPlace(found.verdict, moved, found.broken, found.culprits[0].changes if found.culprits else ())


def _unreachable(
    puzzle: Puzzle, appearance: Appearance, count: Count, assumed: tuple[Finding, ...], readings: tuple[Finding, ...]
) -> Diagnosis:
    wider = with_all_turns(puzzle)
    more = count_explanations(wider, appearance) if wider else None
    if more is None or more.possible == 0:
        return Diagnosis(NOT_BY_TURNING, assumed, count.broken, findings=readings)
    others = tuple(name for name in wider.turns if name not in puzzle.turns)
    findings = (*readings, WiderShare(others, Share(more.total, more.possible)))
    if more.possible == more.total:
        return Diagnosis(OTHER_TURNS, assumed, count.broken, findings=findings)
    return Diagnosis(CANNOT_TELL, assumed, count.broken, asked=_unseen(puzzle, appearance), findings=findings)


def _unseen(puzzle: Puzzle, appearance: Appearance) -> tuple[said.SlotAsked, ...]:
    return tuple(said.SlotAsked(puzzle.slots[b]) for b in appearance.uncertain)
