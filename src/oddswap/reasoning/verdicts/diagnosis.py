"""The verdict on an appearance: can it be, which piece is not what it seems, and if not, what then.

The order of the questions is fixed: the allowed turns; the allowed turns with lookalikes; wider turns; slips of the
description; hands. The first success gives the verdict. An explanation is reachable when it breaks no law; lookalikes can mend
exactly the laws that cannot be seen.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from math import inf

import numpy as np

from oddswap.forwards import fetched
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_by, turns_fit_every_holding
from oddswap.puzzles.catalogue import with_all_turns
from oddswap.reasoning.budget import Budget, Clock, Finding, Limit, started
from oddswap.reasoning.laws.as_seen import turned_along
from oddswap.reasoning.laws.law_book import LawBook, law_book
from oddswap.reasoning.laws.lookalikes import lookalikes, surplus
from oddswap.reasoning.verdicts import findings as said
from oddswap.reasoning.verdicts import first_looks
from oddswap.reasoning.verdicts.exchanges import Atom, hidden_changes
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS, Culprit, Diagnosis
from oddswap.reasoning.verdicts.first_looks import Look, broken_by_turns, broken_laws, is_ordinary, looks_at, wavering_laws
from oddswap.reasoning.verdicts.mending import TooMany, mended, smallest_mendings
from oddswap.values.orbits import gathered
from oddswap.values.position import Appearance

in_both_readings = fetched("reasoning.verdicts.readings:in_both_readings")

QUICK = Budget(1.0)
"""For what goes along with every stroke."""
FEW_SLIPS = 3
"""So many slips are looked for in what is half seen."""


def diagnose(puzzle: Puzzle, appearance: Appearance, budget: Limit = None) -> Diagnosis:
    """The verdict on an appearance; *cannot tell yet*, with the views to ask for, where what is not seen decides.

    >>> from oddswap import changed, load
    >>> prism = load("shape-mod:prism8")
    >>> flipped = prism.appearance(changed(prism, ["flip UF"]))
    >>> [culprit.pieces for culprit in diagnose(prism, flipped).culprits]
    [('FL',), ('FR',), ('BL',), ('BR',)]
    """
    clock = started(budget)
    found = judged(puzzle, appearance, clock)
    if found.verdict == CANNOT_TELL and appearance.uncertain and not puzzle.shape_first:
        from oddswap.reasoning.verdicts.views import best_views

        asked, sampled = best_views(puzzle, appearance, clock)
        reached = (*found.reached, *clock.reached("views", len(asked)))
        measured = tuple(one for one in found.asked if isinstance(one, said.ToMeasure))
        asked = (*measured, *asked) if asked else found.asked
        return replace(found, asked=asked, findings=(*found.findings, *sampled), reached=reached)
    if found.verdict == LOOKALIKE:
        return _with_surprise(puzzle, appearance, found, clock)
    if found.verdict == ORDINARY and appearance.complete:
        return replace(found, findings=(*found.findings, *_once_straight(puzzle, appearance)))
    if found.verdict != NOT_BY_TURNING:
        return found
    if appearance.uncertain and not appearance.foreign and found.first is None:
        from oddswap.reasoning.verdicts.partly import NoAssembly, broken_anyhow

        if not found.has(NoAssembly):
            found = replace(found, findings=(*found.findings, broken_anyhow(puzzle, appearance, found.broken)))
    from oddswap.reasoning.verdicts.repairs import smallest_repair
    from oddswap.reasoning.verdicts.slips import likely_slips

    half = clock.share(0.5)
    repair = found.first and smallest_repair(puzzle, found.first, half)
    reached = () if repair or found.first is None else half.reached("repair")
    slips = likely_slips(puzzle, appearance, *((is_open, clock, FEW_SLIPS) if appearance.uncertain else (is_ordinary, clock)))
    reached = (*found.reached, *reached, *clock.reached("slips", len(slips)))
    return replace(found, slips=slips, repair=repair, reached=reached)


def judged(puzzle: Puzzle, appearance: Appearance, budget: Limit = None) -> Diagnosis:
    """The same without the slips and the repair that come with *not by turning*, which take most of the time."""
    judge = partial(_judged_as_it_is, budget=started(budget))
    found = judge(puzzle, appearance)
    return in_both_readings(puzzle, appearance, found, judge) if puzzle.nearly else found


def _judged_as_it_is(puzzle: Puzzle, appearance: Appearance, budget: Limit = None) -> Diagnosis:
    """The verdict if all is told apart that measuring could tell apart."""
    assumed = _assumed(puzzle)
    if puzzle.shape_first and not appearance.foreign:
        from oddswap.reasoning.verdicts.by_shape import judged_by_shape

        appearance = replace(appearance, sights=puzzle.narrowed(appearance.sights))
        if (found := judged_by_shape(puzzle, appearance, assumed, started(budget))) is not None:
            return found
    book = law_book(puzzle)
    if appearance.uncertain and not appearance.foreign:
        from oddswap.reasoning.verdicts.partly import judged_partly

        return judged_partly(book, appearance, _judged_as_it_is, assumed, started(budget))
    options: list[tuple[Look, Diagnosis]] = []
    for look in () if appearance.foreign else looks_at(book, appearance):
        found = _judged_so(book, look, assumed)
        if look.nearest or found.verdict != NOT_BY_TURNING:
            options.append((look, found))
        if found.verdict == ORDINARY:
            break
    if not options:
        return Diagnosis(NOT_BY_TURNING, assumed, findings=_strange(puzzle, appearance))
    look, best = min(options, key=lambda option: _rank(option[1]))
    if not puzzle.steady and best.explanation is not None and not book.found(puzzle.permutation(best.explanation)):
        return Diagnosis(CANNOT_TELL, assumed, asked=(said.TurnsAsked(),), findings=(said.WallsApart(book.unexplained),))
    best = replace(best, culprits=tuple(_all_culprits(puzzle, look, best, options)))
    wider = with_all_turns(puzzle) if best.verdict == NOT_BY_TURNING else None
    found = _judged_as_it_is(wider, appearance, budget) if wider else None
    if found is None or found.explanation is None:
        if turns_fit_every_holding(puzzle):
            return said.turned_whole(puzzle, best, np.argsort(look.rotation))
        return replace(best, held=held_by(puzzle, look.rotation))
    others = tuple(name for name in wider.turns if name not in puzzle.turns)
    findings = (*best.findings, said.WiderTurns(others), *broken_by_turns(puzzle, wider, others), *found.findings)
    reached = {"first": found.first, "explanation": found.explanation, "culprits": found.culprits}
    return replace(best, verdict=OTHER_TURNS, **reached, findings=findings)


def at_face_value(puzzle: Puzzle, appearance: Appearance) -> Diagnosis:
    """The verdict of whoever has placed piece by piece what looks right, so that a turn of most of a layer frees none of it."""
    book = law_book(puzzle)
    look = next(looks_at(book, appearance))
    return _judged_so(book, replace(look, free=turned_along(puzzle, look.wrong)), ())


def _with_surprise(puzzle: Puzzle, appearance: Appearance, found: Diagnosis, clock: Clock) -> Diagnosis:
    from oddswap.reasoning.verdicts.partly import broken_anyhow
    from oddswap.reasoning.verdicts.surprise import HALF_SEEN, Surprise, surprise_of

    if appearance.uncertain:
        anyhow = broken_anyhow(puzzle, appearance, found.broken)
        return replace(found, surprise=Surprise(None, HALF_SEEN), findings=(*found.findings, anyhow))
    book = law_book(puzzle)
    look = next(one for one in looks_at(book, appearance) if broken_laws(book, one.permutation, one.free) == found.broken)
    surprise = surprise_of(book, look.permutation, look.wrong, found.broken, clock)
    assumed = (*found.assumed, *([] if surprise.share is None else [said.EquallyOften()]))
    return replace(found, surprise=surprise, assumed=assumed, reached=(*found.reached, *clock.reached("surprise")))


def _once_straight(puzzle: Puzzle, appearance: Appearance) -> Iterator[said.OnceStraight]:
    """That an ordinary position will be a lookalike when its layers are straight, if it will."""
    if lookalikes(puzzle).order == 1:
        return
    rotation, held = next(first_looks.nearest(puzzle, appearance))
    straight, turns = first_looks.straightened(puzzle, held)
    later = judged(puzzle, straight) if turns and not is_ordinary(puzzle, straight) else None
    if later and later.verdict == LOOKALIKE:
        yield said.OnceStraight(held_by(puzzle, rotation), turns, later.verdict, later.culprits)


def _judged_so(book: LawBook, look: Look, assumed: tuple[Finding, ...]) -> Diagnosis:
    """What the turns that this copy makes can do, by one look."""
    puzzle, permutation, free = book.puzzle, look.permutation, look.free
    first, by_some = puzzle.arrangement(permutation), wavering_laws(book, permutation, look.wrong)
    try:
        mendings = smallest_mendings(book, permutation, free)
    except TooMany as reason:
        found = (said.TooManyExchanged(reason.tries),)
        return Diagnosis(LOOKALIKE, assumed, broken_laws(book, permutation, free), by_some, first, findings=found)
    if mendings == ((),):
        explanation = puzzle.arrangement(mended(book, permutation, (), free))
        return Diagnosis(ORDINARY, assumed, (), by_some, first, explanation)
    broken, culprits = broken_laws(book, permutation, free), _culprits(book, permutation, free, mendings)
    if culprits:
        return Diagnosis(LOOKALIKE, assumed, broken, by_some, first, culprits[0].arrangement, culprits)
    return Diagnosis(NOT_BY_TURNING, assumed, broken, by_some, first)


def _rank(found: Diagnosis) -> tuple[int, float]:
    """The best verdict comes first: with the smallest culprits, or with the fewest laws broken."""
    if found.verdict == LOOKALIKE:
        return 1, min((len(culprit.pieces) for culprit in found.culprits), default=inf)
    return (0, 0) if found.verdict == ORDINARY else (2, len(found.broken))


def _all_culprits(puzzle: Puzzle, look: Look, best: Diagnosis, options: list[tuple[Look, Diagnosis]]) -> Iterator[Culprit]:
    """The smallest culprits of every holding, each with its arrangement as it is held for the ``best``."""
    known: set[tuple[str, ...]] = set()
    for other, found in options:
        for culprit in found.culprits if _rank(found) == _rank(best) else ():
            if culprit.pieces not in known:
                known.add(culprit.pieces)
                image = look.rotation[np.argsort(other.rotation)[puzzle.permutation(culprit.arrangement)]]
                yield replace(culprit, arrangement=puzzle.arrangement(image))


def is_open(puzzle: Puzzle, appearance: Appearance) -> bool:
    """Whether something half seen can be without a hand, as far as it is seen."""
    return not appearance.foreign and judged(puzzle, appearance).verdict != NOT_BY_TURNING


def _culprits(
    book: LawBook, permutation: np.ndarray, free: frozenset[int], mendings: tuple[tuple[Atom, ...], ...]
) -> tuple[Culprit, ...]:
    """The smallest hidden exchanges that make some first-sight explanation reachable; those of the same pieces are one."""
    puzzle = book.puzzle
    together: dict[tuple[int, ...], list[tuple[Atom, ...]]] = {}
    for chosen in mendings:
        ways = together.setdefault(tuple(sorted(p for atom in chosen for p in atom.pieces)), [chosen])
        if chosen is not ways[0] and [atom.pieces for atom in chosen] == [atom.pieces for atom in ways[0]]:
            ways.append(chosen)
    found = []
    for pieces, ways in together.items():
        arrangement = puzzle.arrangement(mended(book, permutation, ways[0], free))
        found.append(Culprit(tuple(puzzle.slots[p] for p in pieces), hidden_changes(puzzle, ways), arrangement))
    return tuple(found)


def _assumed(puzzle: Puzzle) -> tuple[Finding, ...]:
    if puzzle.leaves_outline:
        return said.PuzzleAsTold(puzzle.title, kinds=False), said.FacesTouch()
    turned = said.OnlyTurned(_outer_names(puzzle)) if puzzle.blank is None else said.OnlySlid()
    blocks = tuple(tuple(puzzle.slots[piece] for piece in joint) for joint in puzzle.joints)
    return said.PuzzleAsTold(puzzle.title, kinds=True), turned, *([said.PiecesJoined(blocks)] if blocks else ())


def _outer_names(puzzle: Puzzle) -> tuple[str, ...]:
    """The turns in short: a slab's name where it makes all its turns, else its turns one by one."""
    slabs = gathered(puzzle.turns.values(), lambda turn: turn.step.name)
    return tuple(
        name
        for slab, turns in slabs.items()
        for name in ([slab] if len(turns) == turns[0].step.order - 1 else [turn.name for turn in turns])
    )


def _strange(puzzle: Puzzle, appearance: Appearance) -> tuple[Finding, ...]:
    """Slots and pieces of which no assembly has this appearance."""
    found: list[Finding] = [said.StrangeSight(puzzle.slots[slot]) for slot in appearance.foreign]
    too_many, missing = (tuple(puzzle.slots[p] for p in pieces) for pieces in surplus(puzzle, appearance))
    if too_many:
        found.append(said.SeenTooOften(too_many))
    if missing and (too_many or appearance.foreign):
        found.append(said.NotSeen(missing))
    return tuple(found)
