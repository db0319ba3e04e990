"""The surprise: how often an honest finish breaks the same laws at first sight.

Taken for granted: of the looks that agree with solved where this one does, every one that the turns reach comes equally often.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction

import numpy as np

from oddswap.forwards import fetched
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Clock, Finding
from oddswap.reasoning.laws.as_seen import free_pieces
from oddswap.reasoning.laws.characters import count_values
from oddswap.reasoning.laws.law_book import LawBook
from oddswap.reasoning.laws.lookalikes import first_sight, hand_generators, lookalikes
from oddswap.reasoning.laws.sectors import Law, keeps
from oddswap.reasoning.verdicts.mending import into_orbits, is_reachable, steady_laws
from oddswap.values.orbits import orbit_labels

covered = fetched("describing.sights:covered")
completions = fetched("reasoning.verdicts.explanations:completions")

MOST = 2000
"""So many looks, or classes of them, are gone through at most."""

NO_LOOKALIKE, HALF_SEEN, NO_LAW, TOO_MANY = "no lookalike", "half seen", "no law", "too many"
"""Why there is no share: it is no lookalike; not all was seen; no law is broken that free pieces leave fixed; too many cases."""


class Surprise(Finding):
    """The ``share`` of honest finishes that break the same laws by the same amount; ``None`` where it is ``uncounted``."""

    share: Fraction | None
    uncounted: str = ""


def surprise_of(book: LawBook, permutation: np.ndarray, wrong: frozenset[int], laws: Sequence[Law], clock: Clock) -> Surprise:
    """The surprise of a lookalike, a label permutation at first sight, that looks wrong in these slots.

    ``laws`` are those that every first-sight explanation of it breaks.
    """
    unseen = book.hidden.generators(free_pieces(book.puzzle, wrong))
    if not laws or any(law.touched_by(step) for law in laws for step in unseen):
        return Surprise(None, NO_LAW)
    puzzle, hands = book.puzzle, _hands(book, wrong)
    if len(book.holdings) > 1 or book.hidden.order < lookalikes(puzzle).order:
        looks = completions(puzzle, covered(puzzle, [puzzle.slots[slot] for slot in wrong]), MOST)
        if looks is None:
            return Surprise(None, TOO_MANY)
        firsts = (first_sight(puzzle, look) for look in looks)
        cases = [(_sorted(book, puzzle.permutation(first), displaced) for first, displaced in firsts)]
    elif book.additive and puzzle.blank not in wrong:
        return Surprise(Fraction(1, count_values(laws, steady_laws(book, None), hands)))
    else:
        cases = [_classes(book, start, hands) for start in _starts(puzzle, wrong)]
    own, alike, reached = _amounts(book, _sorted(book, permutation, wrong), laws), Fraction(0), Fraction(0)
    for every in cases:
        amounts, number = [], 0
        for number, case in enumerate(every, 1):
            if number > MOST or clock.spent:
                return Surprise(None, TOO_MANY)
            if is_reachable(book, case):
                amounts.append(_amounts(book, case, laws))
        alike, reached = alike + Fraction(amounts.count(own), number), reached + Fraction(len(amounts), number)
    return Surprise(alike / reached)


def _hands(book: LawBook, slots: frozenset[int]) -> list[np.ndarray]:
    """Label permutations that generate all that hands could do among the pieces of these slots, in their sectors."""
    parts = (sector.among(slots) for sector in book.sectors)
    return hand_generators(book.puzzle, tuple(part for part in parts if part.slots))


def _starts(puzzle: Puzzle, slots: frozenset[int]) -> Iterator[np.ndarray]:
    """Solved; or where the blank is among these slots, for each of them an assembly of their pieces with the blank there that
    keeps every piece in its orbit, where there is one."""
    if puzzle.blank not in slots:
        yield np.arange(puzzle.degree)
        return
    orbit = orbit_labels(puzzle.generators, puzzle.degree)
    pieces = sorted(slots - {puzzle.blank}, key=orbit.__getitem__)
    for slot in slots:
        start = np.arange(puzzle.degree)
        start[[slot, puzzle.blank]] = puzzle.blank, slot
        there = orbit[puzzle.homed(start)]
        start[pieces] = start[sorted(pieces, key=there.__getitem__)]
        if (orbit[puzzle.homed(start)] == orbit).all():
            yield start


def _classes(book: LawBook, start: np.ndarray, hands: Sequence[np.ndarray]) -> Iterator[np.ndarray]:
    """One of each coset of the turns that hands make of ``start``: as many assemblies of theirs lie in each."""
    found = [start]
    known = {book.class_of(book.puzzle.homed(start))}
    for one in found:
        yield one
        for step in hands:
            name = book.class_of(book.puzzle.homed(one[step]))
            if name not in known:
                known.add(name)
                found.append(one[step])


def _sorted(book: LawBook, permutation: np.ndarray, wrong: frozenset[int]) -> np.ndarray:
    """A label permutation with its labels in their orbits, if free pieces can be called by such names."""
    inside = into_orbits(book, permutation, free_pieces(book.puzzle, wrong))
    return permutation if inside is None else inside


def _amounts(book: LawBook, permutation: np.ndarray, laws: Sequence[Law]) -> tuple[int | None, ...]:
    """By how much each law is broken; ``None`` where it has no sense."""
    home = book.puzzle.homed(book.best_held(permutation))
    inside = keeps(book.sectors, home)
    return tuple(law.value(home) if inside or law.alone else None for law in laws)
