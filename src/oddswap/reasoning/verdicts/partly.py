"""The verdict on a puzzle of which only a part is seen: exact counts, and always two readings, both said.

*Everything unseen is in place* and *everything unseen has only been turned*. The second one gives the verdict: where every
completion would have it, or where every completion that turning leaves open would be a lookalike (or take other turns).
"""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from random import Random

import numpy as np

from oddswap.describing.sights import own_look
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_otherwise
from oddswap.puzzles.catalogue import with_all_turns
from oddswap.reasoning.budget import Clock, Finding
from oddswap.reasoning.laws.as_seen import free_pieces
from oddswap.reasoning.laws.law_book import LawBook
from oddswap.reasoning.laws.lookalikes import first_sight, lookalikes
from oddswap.reasoning.laws.sectors import Law
from oddswap.reasoning.verdicts import findings as said
from oddswap.reasoning.verdicts.assignments import TooManyToCount
from oddswap.reasoning.verdicts.counting import Count, Uncounted, by_values, count_explanations
from oddswap.reasoning.verdicts.exchanges import HiddenSwap, HiddenTurn
from oddswap.reasoning.verdicts.explanations import allowed_columns, completions, drawn, in_place
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS, Diagnosis
from oddswap.reasoning.verdicts.first_looks import is_ordinary, nearest
from oddswap.reasoning.verdicts.mending import is_reachable, steady_laws
from oddswap.values.position import Appearance, Arrangement

FEW = 12
"""So many completions are judged with all that belongs to a verdict, and told, at most."""
MOST = 100_000
"""So many are gone through for the verdict alone at most."""
DRAWN = 40
"""So many are drawn at random before that."""

Judge = Callable[[Puzzle, Appearance], Diagnosis]


@dataclass(frozen=True)
class Share:
    """How many of the ``ways`` in which the whole may look are ``reached`` by turning; ``None`` where that was not counted."""

    ways: int | None
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


class BrokenAnyhow(Finding):
    """However the rest lies, no turning leads there at first sight.

    ``first`` is an explanation, where all that the first broken law counts is seen; else ``None``.
    """

    first: Arrangement | None


class GoOn(Finding):
    """Nothing that is told is impossible so far: pieces that are not placed yet can make up for it."""


class NotYetPlaced(Finding):
    """This assumes that what is left open was only turned, never put together by hand: then the verdict is one for all of it."""


class WiderShare(Finding):
    """The share that can be reached with these turns, too, which this copy may not make."""

    turns: tuple[str, ...]
    share: Share


def judged_partly(book: LawBook, appearance: Appearance, judge: Judge, assumed: tuple[Finding, ...], clock: Clock) -> Diagnosis:
    """The verdict where some slots are not seen for certain; ``judge`` gives it for a complete appearance.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.describing.sights import every_look, own_look
    >>> from oddswap.reasoning.verdicts.diagnosis import judged
    >>> cube = load("cube:3")
    >>> sights = [own_look(cube, slot) if "U" not in name else every_look(cube, slot) for slot, name in enumerate(cube.slots)]
    >>> judged(cube, Appearance(cube.name, tuple(sights))).verdict
    'cannot tell yet'
    """
    puzzle, count = book.puzzle, count_explanations(book.puzzle, appearance, clock)
    if count.total == 0:
        return Diagnosis(NOT_BY_TURNING, assumed, findings=(NoAssembly(),))
    if (count.appearances or 0) <= FEW and (wholes := completions(puzzle, appearance, FEW, clock)):
        return _few(puzzle, wholes, judge, assumed)
    share = Share(count.appearances, count.appearances_reached)
    second = IfOnlyTurned(share, count.equal, count.reason if share.reached is None else None)
    first, found = _first_reading(puzzle, appearance, judge)
    verdict, alike = _of_all(book, appearance, count, clock)
    if verdict == NOT_BY_TURNING:
        return _unreachable(appearance, count, assumed, (first, second), clock)
    if verdict == ORDINARY:
        return Diagnosis(ORDINARY, assumed, findings=(first, second, RestIsFree()))
    if verdict == LOOKALIKE:
        told = {"broken": found.broken, "culprits": found.culprits} if alike and found.verdict == LOOKALIKE else {}
        assumed = assumed if share.reached == share.ways else (*assumed, NotYetPlaced())
        return Diagnosis(LOOKALIKE, assumed, findings=(first, second), **told)
    go_on = (RestIsFree() if share.reached == share.ways else GoOn(),) if share.reached else ()
    told = {"asked": _unseen(puzzle, appearance), "findings": (*go_on, first, second)}
    return Diagnosis(CANNOT_TELL, assumed, **told, reached=() if verdict else clock.reached("verdict"))


def _of_all(book: LawBook, appearance: Appearance, count: Count, clock: Clock) -> tuple[str | None, bool]:
    """The verdict on all completions, as `left_open` has it, ``None`` where the time ended first.

    And whether all break the same laws by the same amount.
    """
    puzzle, reached = book.puzzle, count.appearances_reached
    if reached == 0 or (count.reachable is not None and count.reachable == count.total):
        return ORDINARY if reached else NOT_BY_TURNING, True
    told = [(held, *_free_in_all_and_in_some(puzzle, held)) for _, held in nearest(puzzle, appearance)]
    marked = [_amounts_broken(book, held, most, clock) for held, _, most in told]
    if all(amounts and all(map(any, amounts)) for amounts in marked):
        alike = all(steady_laws(book, least) == steady_laws(book, most) for _, least, most in told)
        return LOOKALIKE, alike and sum(map(len, marked)) == 1
    amounts = _amounts_broken(book, *told[0][:2], clock) if reached and reached == count.appearances and len(told) == 1 else ()
    if amounts and not any(map(any, amounts)):
        return ORDINARY, True
    known = {NOT_BY_TURNING} if reached and reached < count.appearances else set()
    if known and lookalikes(puzzle).order == 1:
        return CANNOT_TELL, False
    return _one_by_one(book, appearance, known, clock), False


def _free_in_all_and_in_some(puzzle: Puzzle, appearance: Appearance) -> Iterator[frozenset[int]]:
    """The pieces that are free whatever the rest is, and those that may be: the more looks wrong, the more are free."""
    sights = [(b, own_look(puzzle, b), sight) for b, sight in enumerate(appearance.sights)]
    yield free_pieces(puzzle, frozenset(b for b, own, sight in sights if not own <= sight))
    yield free_pieces(puzzle, frozenset(b for b, own, sight in sights if own != sight))


def _amounts_broken(book: LawBook, appearance: Appearance, free: frozenset[int], clock: Clock) -> set[tuple[int, ...]]:
    """By how much the laws that relabelling ``free`` pieces leaves fixed are broken in all that turning leaves open.

    Slots that look right for certain have their own pieces. Empty where that cannot be worked out.
    """
    puzzle = book.puzzle
    if not book.additive or not puzzle.steady or len(book.holdings) > 1 or book.hidden.order < lookalikes(puzzle).order:
        return set()
    own, seen = steady_laws(book, free), steady_laws(book, None)
    right = {slot for slot, sight in enumerate(appearance.sights) if sight == own_look(puzzle, slot)}
    table = []
    for sector in book.sectors:
        table.append(allowed := allowed_columns(puzzle, sector, appearance.sights))
        for i, piece in enumerate(sector.slots):
            for b, slot in enumerate(sector.slots):
                if right.intersection((piece, slot)):
                    allowed[i][b] = allowed[i][b] & {0} if piece == slot else frozenset()
    try:
        found = by_values(book, table, (*own, *seen), clock)
    except TooManyToCount:
        return set()
    return {values[: len(own)] for values in found if not any(values[len(own) :])}


def _one_by_one(book: LawBook, appearance: Appearance, found: set[str], clock: Clock) -> str | None:
    """The verdict on all completions, of which some are known to have those ``found``; ``None`` where the time ended first."""
    puzzle = book.puzzle
    for whole in _some_then_all(puzzle, appearance, clock):
        if clock.spent:
            return None
        if whole is None:
            return CANNOT_TELL
        reached = is_reachable(book, puzzle.permutation(first_sight(puzzle, whole)[0]))
        found.add(NOT_BY_TURNING if not reached else ORDINARY if is_ordinary(puzzle, whole) else LOOKALIKE)
        if left_open(found) == CANNOT_TELL:
            return CANNOT_TELL
    return left_open(found)


def _some_then_all(puzzle: Puzzle, appearance: Appearance, clock: Clock) -> Iterator[Appearance | None]:
    """Some completions drawn at random, as these mostly differ, and then all; ``None`` where they are too many."""
    rng = Random(0)
    for _ in range(DRAWN):
        yield drawn(puzzle, appearance, rng)
    yield from completions(puzzle, appearance, MOST, clock) or [None]


def left_open(verdicts: set[str]) -> str:
    """The verdict on all completions, which have these ``verdicts``.

    That it is not broken must hold for all; that it need not be, for those that turning leaves open.

    >>> left_open({"lookalike", "not by turning"}), left_open({"ordinary", "not by turning"})
    ('lookalike', 'cannot tell yet')
    """
    if ORDINARY in verdicts:
        return ORDINARY if len(verdicts) == 1 else CANNOT_TELL
    return next(verdict for verdict in (LOOKALIKE, OTHER_TURNS, NOT_BY_TURNING, CANNOT_TELL) if verdict in verdicts)


def _few(puzzle: Puzzle, wholes: list[Appearance], judge: Judge, assumed: tuple[Finding, ...]) -> Diagnosis:
    """Every completion judged one by one."""
    found = [judge(puzzle, whole) for whole in wholes]
    if len(found) == 1:
        return replace(found[0], findings=(OneWhole(), *found[0].findings))
    verdicts = Counter(one.verdict for one in found)
    wholes_left = FewWholes(tuple(verdicts.items()))
    verdict = left_open(set(verdicts))
    if verdict in (LOOKALIKE, OTHER_TURNS) and len(verdicts) > 1:
        found = [one for one in found if one.verdict == verdict]
        assumed = (*assumed, NotYetPlaced())
    broken = tuple(law for law in found[0].broken if all(law in one.broken for one in found))
    if verdict != CANNOT_TELL:
        culprits = found[0].culprits if all(one.culprits == found[0].culprits for one in found) else ()
        return Diagnosis(verdict, assumed, broken, culprits=culprits, findings=(wholes_left,))
    asked = tuple(said.SlotAsked(name) for b, name in enumerate(puzzle.slots) if len({whole.sights[b] for whole in wholes}) > 1)
    reached = verdicts[ORDINARY] + verdicts[LOOKALIKE]
    turned = RestIsFree() if reached == len(found) else IfOnlyTurned(Share(len(found), reached), False, None)
    return Diagnosis(CANNOT_TELL, assumed, broken, asked=asked, findings=(wholes_left, turned))


def _first_reading(puzzle: Puzzle, appearance: Appearance, judge: Judge) -> tuple[NotAllInPlace | IfInPlace, Diagnosis]:
    """Everything unseen in place, and the diagnosis of that."""
    rotation, held = next(nearest(puzzle, appearance))
    whole = in_place(puzzle, held)
    if not whole.complete:
        return NotAllInPlace(), Diagnosis(CANNOT_TELL, ())
    found = judge(puzzle, held_otherwise(puzzle, whole, np.argsort(rotation)))
    moved = any(whole.sights[b] != own_look(puzzle, b) for b in held.uncertain)
    return IfInPlace(found.verdict, moved, found.broken, found.culprits[0].changes if found.culprits else ()), found


def _unreachable(
    appearance: Appearance, count: Count, assumed: tuple[Finding, ...], readings: tuple[Finding, ...], clock: Clock
) -> Diagnosis:
    puzzle, wider = count.puzzle, with_all_turns(count.puzzle)
    more = count_explanations(wider, appearance, clock) if wider else None
    if more is None or more.appearances_reached == 0:
        return Diagnosis(NOT_BY_TURNING, assumed, count.broken, findings=readings)
    if more.appearances_reached is None:
        return Diagnosis(CANNOT_TELL, assumed, count.broken, asked=_unseen(puzzle, appearance), findings=readings)
    others = tuple(name for name in wider.turns if name not in puzzle.turns)
    share = Share(more.appearances, more.appearances_reached)
    assumed = assumed if share.reached == share.ways else (*assumed, NotYetPlaced())
    return Diagnosis(OTHER_TURNS, assumed, count.broken, findings=(*readings, WiderShare(others, share)))


def broken_anyhow(puzzle: Puzzle, appearance: Appearance, broken: tuple[Law, ...]) -> BrokenAnyhow:
    """What half seen breaks these laws; any completion shows what comes of a law that counts nothing hidden."""
    asked = {slot for law in broken[:1] for part in getattr(law, "parts", ()) for slot in part.sector.slots}
    if puzzle.rotations or not asked or asked.intersection(appearance.uncertain):
        return BrokenAnyhow(None)
    return BrokenAnyhow(first_sight(puzzle, drawn(puzzle, appearance, Random(0)))[0])


def _unseen(puzzle: Puzzle, appearance: Appearance) -> tuple[said.SlotAsked, ...]:
    return tuple(said.SlotAsked(puzzle.slots[b]) for b in appearance.uncertain)
