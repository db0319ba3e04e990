"""The table of alarms of a puzzle: every anomaly of one or two pieces, with its verdict and the reason.

Anomalies are a piece turned in its place, two of a family turned, and two of a kind exchanged, one of each class under
the symmetries of the puzzle (rotations and reflections that take cuts to cuts, facets to facets and turns to turns).
Reasons are kept apart: a quantity that no law counts, lookalikes, a holding that is not fixed, a law that is broken.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

from oddswap.puzzles.changes import changed
from oddswap.puzzles.puzzle import Kind, Puzzle
from oddswap.puzzles.symmetry import turn_symmetries
from oddswap.puzzles.whole_turns import held_still
from oddswap.reasoning.diagnosis import LOOKALIKE, ORDINARY, OTHER_TURNS, Culprit, Diagnosis, judged
from oddswap.reasoning.law_kinds import AnyLaw
from oddswap.reasoning.laws import law_book
from oddswap.reasoning.repairs import turn_changes
from oddswap.reasoning.sectors import Coordinate, Sector, measure
from oddswap.reasoning.statements import listed, sector_name
from oddswap.values.arrangement import Arrangement


@dataclass(frozen=True)
class Alarm:
    """One anomaly: the ``changes`` that make it, what it is in ``words``, and what is true of it.

    ``alike`` counts the anomalies of its class under the symmetries of the puzzle.
    """

    words: str
    changes: tuple[str, ...]
    verdict: str
    broken: tuple[AnyLaw, ...]
    culprits: tuple[Culprit, ...]
    reason: str
    alike: int


@lru_cache(maxsize=8)
def alarms(puzzle: Puzzle) -> tuple[Alarm, ...]:
    """The table of alarms, in the order of the kinds.

    >>> from oddswap.puzzles.catalogue import load
    >>> [(a.words, a.verdict) for a in alarms(load("cube:2")) if len(a.changes) == 1][0]
    ('one corner twisted', 'not by turning')
    """
    table = []
    for words, forms in _classes(puzzle).items():
        for changes, alike in forms:
            state = changed(puzzle, changes)
            appearance = puzzle.appearance(state)
            if any(appearance.sights == puzzle.appearance(less).sights for less in _with_less(puzzle, changes)):
                continue
            found = judged(puzzle, appearance)
            reason = _reason(puzzle, found, state)
            table.append(Alarm(words, changes, found.verdict, found.broken, found.culprits, reason, alike))
    return tuple(table)


def _with_less(puzzle: Puzzle, changes: tuple[str, ...]) -> Iterator[Arrangement]:
    """What is there without one of the changes: if it looks the same, the change is hidden."""
    for i in range(len(changes)):
        yield changed(puzzle, changes[:i] + changes[i + 1 :])


def _classes(puzzle: Puzzle) -> dict[str, list[tuple[tuple[str, ...], int]]]:
    """For each sort of anomaly one member of every class, as changes, and the size of the class."""
    moves = turn_symmetries(puzzle)
    sorts: dict[str, dict[tuple, list[tuple[str, ...]]]] = {}
    for words, slots, twists, changes in _anomalies(puzzle):
        flips = tuple(sorted({twists, tuple(-t % puzzle.kind_of[slots[0]].twist for t in twists)}))
        key = (min(tuple(sorted(move[s] for s in slots)) for move in moves), flips[0] if words[:3] != "two" else flips)
        sorts.setdefault(words, {}).setdefault(key, []).append(changes)
    return {words: [(members[0], len(members)) for members in keys.values()] for words, keys in sorts.items()}


def _anomalies(puzzle: Puzzle) -> Iterator[tuple[str, tuple[int, ...], tuple[int, ...], tuple[str, ...]]]:
    """``(words, slots, twists, changes)`` of every anomaly of one or two pieces."""
    for families in _families(puzzle):
        singles = [(slot, e) for kind in families for slot in kind.places for e in range(1, kind.twist)]
        name, twist = families[0].family, families[0].twist
        one = name.removesuffix("s")
        for slot, e in singles:
            yield f"one {one} {_turned(twist, e)}", (slot,), (e,), tuple(turn_changes(puzzle, slot, e))
        for (a, e), (b, f) in combinations(singles, 2):
            if a != b:
                both = f"two {name} {_turned_both(twist, e, f)}"
                yield both, (a, b), (e, f), (*turn_changes(puzzle, a, e), *turn_changes(puzzle, b, f))
        for kind in families:
            for a, b in combinations([p for p in kind.places if p != puzzle.blank], 2):
                for e in range(kind.twist):
                    also = f", one of them {_turned(twist, e)}" if e else ""
                    swap = f"swap {puzzle.slots[a]} {puzzle.slots[b]}"
                    yield f"two {kind.name} exchanged{also}", (a, b), (e,), (swap, *turn_changes(puzzle, b, e))


def _families(puzzle: Puzzle) -> list[list[Kind]]:
    """Kinds whose pieces can be turned alike, gathered by family."""
    gathered: dict[tuple, list[Kind]] = {}
    for kind in puzzle.kinds:
        gathered.setdefault((kind.family, kind.twist), []).append(kind)
    return list(gathered.values())


def _turned(order: int, steps: int) -> str:
    if 2 * steps == order:
        return "flipped" if order == 2 else "turned half"
    return {3: "twisted", 4: "turned a quarter"}.get(order, f"turned {min(steps, order - steps)} of {order}")


def _turned_both(order: int, e: int, f: int) -> str:
    if _turned(order, e) != _turned(order, f):
        nearest_first = sorted((e, f), key=lambda steps: min(steps, order - steps))
        less, more = (_turned(order, steps).removeprefix("turned ") for steps in nearest_first)
        return f"turned, one {less}, one {more}"
    if 2 * e == order:
        return _turned(order, e)
    return f"{_turned(order, e)}, {'the same way' if e == f else 'opposite ways'}"


def _reason(puzzle: Puzzle, found: Diagnosis, state: Arrangement) -> str:
    """Why the verdict is what it is, the three ways of being harmless kept apart."""
    if found.verdict == LOOKALIKE and not found.culprits:
        return found.notes[-1]
    if found.verdict == LOOKALIKE:
        pieces = {puzzle.slot(name) for culprit in found.culprits for name in culprit.pieces}
        families = listed(dict.fromkeys(puzzle.kind_of[p].family for p in sorted(pieces)))
        twins = any(len(culprit.pieces) > 1 for culprit in found.culprits)
        if twins:
            return f"equal pieces: two of the {families} have changed places unseen"
        return f"a hidden turn: one of the {families} has turned unseen"
    if found.verdict != ORDINARY:
        if found.first is None:
            return "no way to put the pieces together looks like this"
        broken = " ".join(law.statement for law in found.broken)
        if found.verdict == OTHER_TURNS:
            return f"turns that this copy does not make lead to it; its own never change this. {broken}".removesuffix(". ")
        return broken or _unnamed(puzzle)
    if puzzle.rotations and (found.held or len(law_book(puzzle).holdings) == 1):
        fixed = law_book(held_still(puzzle)).broken(state)
        if fixed:
            names = listed(law.name for law in fixed)
            return f"a holding that is not fixed: turning the whole puzzle by {found.held or 'a quarter'} mends the {names}"
    odd = [s for s in law_book(puzzle).sectors if len(s.slots) > 1 and _is_odd(puzzle, s, state)]
    if odd:
        return f"a sign that is simply free: no law counts whether the {listed(sector_name(s) for s in odd)} move evenly"
    return "no law is broken: the quantities add up"


def _unnamed(puzzle: Puzzle) -> str:
    """What is said where no law is broken by all that looks like this."""
    book = law_book(puzzle)
    if book.complete:
        return "whichever of the pieces that look alike are exchanged, some law is broken, but not always the same one"
    return f"the laws leave a factor {book.unexplained} unexplained, and sifting shows that the turns do not do it"


def _is_odd(puzzle: Puzzle, sector: Sector, state: Arrangement) -> bool:
    return bool(measure([Coordinate(sector, "sign", 2)], puzzle.homed(puzzle.permutation(state)))[0])
