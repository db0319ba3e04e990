"""How many explanations a half-seen puzzle has: exactly, and how many of them the turns can reach.

Sector by sector the explanations are counted by sign and sum of twists (`assignments`), and the sectors are put together
into classes of the laws. Where laws are no characters, small sectors are gone through one assembly at a time and what is put
together are cosets of the turns' image, on which assemblies act from the left.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import prod

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_otherwise, turns_fit_every_holding
from oddswap.reasoning.budget import Clock, Finding, Limit, started
from oddswap.reasoning.laws.image import SMALL, coset_names
from oddswap.reasoning.laws.law_book import LawBook, law_book
from oddswap.reasoning.laws.lookalikes import lookalikes, whole_kinds
from oddswap.reasoning.laws.sectors import Law, Sector
from oddswap.reasoning.verdicts.assignments import Allowed, NotCounted, TooManyToCount, count_assignments, keep_counting
from oddswap.reasoning.verdicts.explanations import allowed_columns, every_assembly, explanations, is_possible, moved_by
from oddswap.reasoning.verdicts.mending import is_reachable_as_held, reachable_classes, steady_laws
from oddswap.values.position import Appearance, Sight

MOST_CLASSES = 50_000
"""So many classes are told apart at most."""
MOST_ONE_BY_ONE = 20_000
"""So many explanations are tried one by one at most, where the laws do not say all."""

Classes = Counter[tuple]


class TooManyClasses(Finding):
    """Why nothing was counted: there are more classes than ``most``."""

    most: int


class TooManyToTry(Finding):
    """Why nothing was counted: no sums tell where the turns lead, and the explanations are too many to be tried one by one."""

    puzzle: str
    explanations: int


class HoldingsMixed(Finding):
    """Why nothing was counted: lookalikes may make one explanation reachable in several holdings, not told apart."""


class ClassesUnnamed(Finding):
    """Why classes are not counted: they are named only where signs, twists and pairs say all."""


Uncounted = NotCounted | TooManyClasses | TooManyToTry | ClassesUnnamed | HoldingsMixed


@dataclass(frozen=True)
class Count:
    """What agrees with an appearance: arrangements, labels and all, and looks, of which hidden turns and twins make no two.

    ``total`` arrangements could be put together by hands, ``reachable`` of them are reached by the turns. ``appearances`` are the
    looks of the whole, ``appearances_reached`` those that the turns reach. ``classes`` are the sizes of the classes of
    arrangements by law; they are all equal where what is seen says nothing. ``None`` where a figure could not be had, with its
    ``reason``.
    """

    puzzle: Puzzle
    total: int | None
    reachable: int | None
    appearances_reached: int | None
    classes: Mapping[tuple, int] | None
    reason: Uncounted | None = None

    @property
    def appearances(self) -> int | None:
        return None if self.total is None else self.total // lookalikes(self.puzzle).order

    @property
    def equal(self) -> bool:
        """Whether every class that hands could make comes out equally often, so that what is seen says nothing."""
        if not self.classes:
            return False
        return len(self.classes) == law_book(self.puzzle).index and len(set(self.classes.values())) == 1

    @property
    def broken(self) -> tuple[Law, ...]:
        """The laws that every explanation breaks; empty where they cannot be named."""
        laws = law_book(self.puzzle).laws
        if not self.classes or not all(len(values) == len(laws) for values in self.classes):
            return ()
        return tuple(law for i, law in enumerate(laws) if all(values[i] for values in self.classes))


def count_explanations(puzzle: Puzzle, appearance: Appearance, budget: Limit = None) -> Count:
    """Exact counts of the explanations of an appearance, parts of which may be unseen, or one of several.

    Whether there are any is known even if the budget ends.

    >>> from oddswap import load
    >>> cube = load("cube:3")
    >>> unseen = tuple(frozenset(range(24)) if len(kind.slots) > 1 else frozenset({0}) for kind in cube.kind_of)
    >>> count = count_explanations(cube, Appearance(cube.name, unseen))
    >>> count.total // count.reachable, count.equal
    (24, True)
    """
    held, kinds, clock = list(homed(puzzle, appearance)), whole_kinds(puzzle), started(budget)
    try:
        ways = ([count_assignments(allowed_columns(puzzle, one, sights), one.twist, clock) for one in kinds] for sights in held)
        total = sum(prod(int(counted.sum()) for counted in each) for each in ways)
    except TooManyToCount as error:
        if any(is_possible(puzzle, sights) for sights in held):
            return Count(puzzle, None, None, None, None, error.args[0])
        total = 0
    if not total:
        return Count(puzzle, 0, 0, 0, {})
    book = law_book(puzzle)
    if len(book.holdings) > 1:
        return _in_every_holding(book, appearance, total, clock)
    return _counted(book, held, total, clock)


def _counted(book: LawBook, held: list[tuple[Sight, ...]], total: int, clock: Clock) -> Count:
    count = _by_values if book.additive else _by_cosets if book.by_image else _one_by_one
    try:
        return count(book, held, total, clock)
    except TooManyToCount as error:
        return Count(book.puzzle, total, None, None, None, error.args[0])


def _in_every_holding(book: LawBook, appearance: Appearance, total: int, clock: Clock) -> Count:
    """The counts in each holding to which the turns do not lead, put together; classes of the laws belong to one holding.

    What can be reached in one holding as it seems to be cannot be so in another. With an exchange of lookalikes it may be: then
    the same explanation must not be counted twice.
    """
    backs, counts = [np.argsort(rotation) for rotation in book.holdings], []
    for back in backs:
        counts.append(one := _counted(book, [held_otherwise(book.puzzle, appearance, back).sights], total, clock))
        if one.reachable is None or one.appearances_reached is None:
            return replace(one, reachable=None, appearances_reached=None, classes=None)
    found = replace(counts[0], reachable=sum(one.reachable for one in counts), classes=None)
    kept = [i for i, one in enumerate(counts) if one.appearances_reached]
    exchanged = any(one.appearances_reached * lookalikes(book.puzzle).order > one.reachable for one in counts)
    if len(kept) > 1 and not book.held_visibly and exchanged:
        if not turns_fit_every_holding(book.puzzle):
            return replace(found, appearances_reached=None, reason=HoldingsMixed())
        kept = [i for i in kept if not any(is_reachable_as_held(book, backs[j][book.holdings[i]]) for j in kept if j < i)]
    return replace(found, appearances_reached=sum(counts[i].appearances_reached for i in kept))


def homed(puzzle: Puzzle, appearance: Appearance) -> Iterator[tuple[Sight, ...]]:
    """What is seen, with the shape taken home from each that it may be; as it is where the turns need no shape."""
    if puzzle.steady:
        yield appearance.sights
        return
    for image in puzzle.standing(appearance):
        if (back := puzzle.homeward(image)) is not None:
            yield held_otherwise(puzzle, appearance, back).sights


def _by_values(book: LawBook, held: list[tuple[Sight, ...]], total: int, clock: Clock) -> Count:
    """Where all laws are characters: what each sector adds to their values is put together."""
    laws = [law for law in book.laws if not law.alone]
    classes = Classes()
    for sights in held:
        allowed = (allowed_columns(book.puzzle, sector, sights) for sector in book.sectors)
        classes.update(by_values(book, allowed, (*laws, *steady_laws(book, None)), clock))
    reachable = sum(n for values, n in classes.items() if not any(values[: len(laws)]))
    seen = sum(n for values, n in classes.items() if not any(values[len(laws) :])) // book.hidden.order
    own, orbit = Classes(), (0,) * (len(book.laws) - len(laws))
    for values, n in classes.items():
        own[orbit + values[: len(laws)]] += n
    if outside := total - sum(own.values()):
        own[1, *(0,) * len(laws)] = outside
    return Count(book.puzzle, total, reachable, seen, own)


def by_values(book: LawBook, allowed: Iterable[Allowed], laws: Sequence[Law], clock: Clock) -> Classes:
    """How many assemblies that keep the sectors have which values of laws; each sector's pieces go where they are ``allowed``."""
    found = Classes([(0,) * len(laws)])
    for sector, columns in zip(book.sectors, allowed, strict=True):
        found = _joined(found, _values_of(sector, count_assignments(columns, sector.twist, clock), laws), laws)
    return found


def _values_of(sector: Sector, counted: np.ndarray, laws: Sequence[Law]) -> Classes:
    """How many assemblies of a sector, ``counted`` by sign and sum of twists, have which values."""
    found = Classes()
    for (odd, twists), number in np.ndenumerate(counted):
        if number:
            values = tuple(
                sum(weight * (odd if part.what == "sign" else twists) for weight, part in law.terms if part.sector is sector)
                % law.modulus
                for law in laws
            )
            found[values] += int(number)
    return found


def _joined(one: Classes, other: Classes, laws: Sequence[Law]) -> Classes:
    """The classes of two parts put together; `TooManyToCount` where there are too many."""
    found = Classes()
    moduli = [law.modulus for law in laws]
    for (a, n), (b, m) in product(one.items(), other.items()):
        values = tuple((x + y) % modulus for x, y, modulus in zip(a, b, moduli, strict=True))
        found[values] += n * m
    _check(found)
    return found


def _check(classes: Mapping) -> None:
    if len(classes) > MOST_CLASSES:
        raise TooManyToCount(TooManyClasses(MOST_CLASSES))


def _by_cosets(book: LawBook, held: list[tuple[Sight, ...]], total: int, clock: Clock) -> Count:
    """Where some laws are no characters: assemblies of each sector act on the cosets of the image."""
    levels, start = book.image.chain.levels, np.arange(book.image.degree)
    (home,) = coset_names(levels, start[None])
    classes = Classes()
    for sights in held:
        found = {home: (start, 1)}
        for sector in book.sectors:
            rows, counts = _sector_elements(book, sector, sights, clock)
            following: dict[bytes, tuple[np.ndarray, int]] = {}
            for model, number in found.values():
                keep_counting(clock)
                moved = model[rows]
                for name, row, many in zip(coset_names(levels, moved), moved, counts, strict=True):
                    following[name] = (row, following.get(name, (row, 0))[1] + number * many)
            found = following
            _check(found)
        for name, (_, number) in found.items():
            classes[name,] += number
    seen = sum(classes[name,] for name in reachable_classes(book)) // book.hidden.order
    if outside := total - classes.total():
        classes[b"other orbits",] = outside
    return Count(book.puzzle, total, classes[home,], seen, classes)


def _sector_elements(book: LawBook, sector: Sector, sights: tuple[Sight, ...], clock: Clock) -> tuple[np.ndarray, list[int]]:
    """Members of Q that assemblies of one sector make, and how many assemblies make each."""
    allowed, puzzle = allowed_columns(book.puzzle, sector, sights), book.puzzle
    rows, counts = [], []
    if len(sector.slots) <= SMALL:
        for columns in every_assembly(allowed):
            keep_counting(clock)
            rows.append(book.image.of(moved_by(puzzle, sector, columns)))
            counts.append(1)
    else:
        for (odd, twists), number in np.ndenumerate(count_assignments(allowed, sector.twist, clock)):
            if number:
                columns = [(i ^ odd if i < 2 else i, 0 if i else twists) for i in range(len(sector.slots))]
                rows.append(book.image.of(moved_by(puzzle, sector, columns)))
                counts.append(int(number))
    return np.array(rows, dtype=np.intp).reshape(-1, book.image.degree), counts


def _one_by_one(book: LawBook, held: list[tuple[Sight, ...]], total: int, clock: Clock) -> Count:
    """Where signs, twists and pairs do not say all: every explanation is tried."""
    puzzle = book.puzzle
    if total > MOST_ONE_BY_ONE:
        raise TooManyToCount(TooManyToTry(puzzle.name, total))
    reachable = seen = 0
    for sights in held:
        for image in explanations(puzzle, sights):
            keep_counting(clock)
            own = book.leads_to(image)
            reachable += own
            seen += own or is_reachable_as_held(book, image)
    return Count(puzzle, total, reachable, seen // lookalikes(puzzle).order, None, ClassesUnnamed())
