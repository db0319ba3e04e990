"""The table of alarms of a puzzle: every anomaly of one or two pieces, with its verdict and the reason.

Anomalies are a piece turned in its place, two of a family turned, and two of a kind exchanged, one of each class under
the symmetries of the puzzle (rotations and reflections that take cuts to cuts, facets to facets and turns to turns).
Reasons are kept apart: a quantity that no law counts, lookalikes, a holding that is not fixed, a law that is broken.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain, combinations

from oddswap.describing.changes import changed
from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.puzzles.base.symmetry import turn_symmetries
from oddswap.puzzles.base.whole_turns import held_still
from oddswap.reasoning.budget import Clock, Finding, Limit, cached, started
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.sectors import Law, Measure, Sector, keeps
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS, Culprit, Diagnosis
from oddswap.reasoning.verdicts.repairs import turn_changes
from oddswap.values import orbits
from oddswap.values.position import Arrangement

VERDICTS = (ORDINARY, LOOKALIKE, CANNOT_TELL, OTHER_TURNS, NOT_BY_TURNING)
"""Those that an alarm can have, in the order in which they are read; as all is seen, only measuring is left to tell more."""


@dataclass(frozen=True)
class Turned:
    """A sort of anomaly: one or two pieces of a family turned in their places, by ``steps`` of ``order``.

    The steps are counted the short way round, except for the second of two that are turned equally far, opposite ways.
    """

    family: str
    order: int
    steps: tuple[int, ...]


@dataclass(frozen=True)
class Swapped:
    """A sort of anomaly: two pieces of a kind, by its name, have changed places, one of them turned by ``steps`` of ``order``."""

    kind: str
    order: int
    steps: int


@dataclass(frozen=True)
class Cycled:
    """The next smallest change, which is in no table: three pieces of a sector have changed places in a cycle."""

    sector: Sector


Sort = Turned | Swapped | Cycled
Parts = tuple[list[str], ...]
"""The changes that make an anomaly: those of each piece that is turned, and the swap."""


@dataclass(frozen=True)
class Reason:
    """Why an alarm has its verdict: a ``code``, with the ``laws``, ``sectors`` or ``families`` of pieces that it speaks of.

    twins, hidden turn: two of the families, or one; to measure: only that tells pieces of these families apart; undecided: the
    ``note`` says why; no such look; own turns, broken: the laws that are broken; some law: one or another; holding: the laws that
    would be broken if it were fixed, ``held`` the rotations of the whole puzzle that mend them; free sign: that of the sectors;
    kept.
    """

    code: str
    laws: tuple[Law, ...] = ()
    sectors: tuple[Sector, ...] = ()
    families: tuple[str, ...] = ()
    held: str = ""
    note: Finding | None = None


@dataclass(frozen=True)
class Alarm:
    """One ``sort`` of anomaly: the ``changes`` that make one, and what is true of it.

    ``alike`` counts the anomalies of its class under the symmetries of the puzzle.
    """

    sort: Sort
    changes: tuple[str, ...]
    verdict: str
    broken: tuple[Law, ...]
    culprits: tuple[Culprit, ...]
    reason: Reason
    alike: int


def alarms(puzzle: Puzzle, budget: Limit = None) -> tuple[Alarm, ...]:
    """The table of alarms, in the order of the kinds; the first of them where the budget ends before all are judged.

    >>> from oddswap.puzzles.catalogue import load
    >>> [(a.sort, a.verdict) for a in alarms(load("cube:2")) if len(a.changes) == 1][0]
    (Turned(family='corners', order=3, steps=(1,)), 'not by turning')
    """
    return alarms_until(puzzle, started(budget))


@cached(8)
def alarms_until(puzzle: Puzzle, clock: Clock) -> tuple[Alarm, ...]:
    """The alarms that are judged before the ``clock`` is spent."""
    table = []
    for sort, forms in _classes(puzzle).items():
        for parts, alike in forms:
            if clock.spent:
                return tuple(table)
            state = changed(puzzle, changes := tuple(chain(*parts)))
            appearance = puzzle.appearance(state)
            less = (changed(puzzle, tuple(chain(*parts[:i], *parts[i + 1 :]))) for i in range(len(parts)))
            if any(appearance.sights == puzzle.appearance(one).sights for one in less):  # one of the parts is hidden
                continue
            found = judged(puzzle, appearance)
            reason = _reason(puzzle, found, state)
            table.append(Alarm(sort, changes, found.verdict, found.broken, found.culprits, reason, alike))
    return tuple(table)


def gathered(table: Iterable[Alarm]) -> dict[tuple[str, Reason], list[Alarm]]:
    """The alarms of a table by verdict and reason, in the order of ``VERDICTS``."""
    ordered = sorted(table, key=lambda alarm: VERDICTS.index(alarm.verdict))
    return orbits.gathered(ordered, lambda alarm: (alarm.verdict, alarm.reason))


def _classes(puzzle: Puzzle) -> dict[Sort, list[tuple[Parts, int]]]:
    """For each sort of anomaly a member of every class, in parts, and the size of the class; only a solid has a mirror image."""
    moves = turn_symmetries(puzzle)
    sorts: dict[Sort, dict[tuple, list[Parts]]] = {}
    for sort, slots, twists, parts in _anomalies(puzzle):
        flips = min(twists, tuple(-t % puzzle.kind_of[slots[0]].twist for t in twists)) if puzzle.geometry else twists
        key = min(tuple(sorted(move[s] for s in slots)) for move in moves), flips
        sorts.setdefault(sort, {}).setdefault(key, []).append(parts)
    return {sort: [(members[0], len(members)) for members in keys.values()] for sort, keys in sorts.items()}


def _anomalies(puzzle: Puzzle) -> Iterator[tuple[Sort, tuple[int, ...], tuple[int, ...], Parts]]:
    """``(sort, slots, twists, parts)`` of every anomaly of one or two pieces."""
    for families in _families(puzzle):
        singles = [(p, e) for kind in families for p in kind.places if p not in puzzle.fixed for e in range(1, kind.twist)]
        name, twist = families[0].family, families[0].twist
        for slot, e in singles:
            yield _turned(name, twist, e), (slot,), (e,), (turn_changes(puzzle, slot, e),)
        for (a, e), (b, f) in combinations(singles, 2):
            if a != b:
                yield _turned(name, twist, e, f), (a, b), (e, f), (turn_changes(puzzle, a, e), turn_changes(puzzle, b, f))
        for kind in families:
            for a, b in combinations([p for p in kind.places if p not in puzzle.fixed], 2):
                for e in range(kind.twist):
                    sort = Swapped(kind.name, twist, min(e, twist - e))
                    parts = [f"swap {puzzle.slots[a]} {puzzle.slots[b]}"], turn_changes(puzzle, b, e)
                    yield sort, (a, b), (e,), parts if e else parts[:1]


def _turned(family: str, order: int, *steps: int) -> Turned:
    near = sorted(min(e, order - e) for e in steps)
    if len(set(near)) < len(set(steps)):
        near[1] = order - near[1]
    return Turned(family, order, tuple(near))


def _families(puzzle: Puzzle) -> list[list[Kind]]:
    """Kinds whose pieces can be turned alike, gathered by family."""
    return list(orbits.gathered(puzzle.kinds, lambda kind: (kind.family, kind.twist)).values())


def _reason(puzzle: Puzzle, found: Diagnosis, state: Arrangement) -> Reason:
    """Why the verdict is what it is, the three ways of being harmless kept apart."""
    if found.verdict == LOOKALIKE and not found.culprits:
        return Reason("undecided", note=found.findings[-1])
    if found.verdict == LOOKALIKE:
        pieces = {puzzle.slot(name) for culprit in found.culprits for name in culprit.pieces}
        families = tuple(dict.fromkeys(puzzle.kind_of[p].family for p in sorted(pieces)))
        twins = any(len(culprit.pieces) > 1 for culprit in found.culprits)
        return Reason("twins" if twins else "hidden turn", families=families)
    if found.verdict == CANNOT_TELL:
        pieces = sorted({puzzle.slot(name) for pair in found.asked for name in (pair.one, pair.other)})
        return Reason("to measure", families=tuple(dict.fromkeys(puzzle.kind_of[p].family for p in pieces)))
    if found.verdict != ORDINARY:
        if found.first is None:
            return Reason("no such look")
        if found.verdict == OTHER_TURNS:
            return Reason("own turns", found.broken)
        return Reason("broken" if found.broken else "some law", found.broken)
    if puzzle.rotations and (found.held or len(law_book(puzzle).holdings) == 1):
        if fixed := law_book(held_still(puzzle)).broken(state):
            return Reason("holding", fixed, held=found.held)
    home = puzzle.homed(law_book(puzzle).best_held(puzzle.permutation(state)))
    signed = (s for s in law_book(puzzle).sectors if s.signed and keeps([s], home))
    odd = tuple(s for s in signed if Measure(s, "sign", 2).value(home))
    return Reason("free sign", sectors=odd) if odd else Reason("kept")
