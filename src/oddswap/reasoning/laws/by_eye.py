"""What can be told apart by looking, counted: classes of assemblies, and appearances that the turns reach."""

from dataclasses import dataclass
from functools import lru_cache
from itertools import islice, takewhile
from math import prod

import numpy as np

from oddswap.puzzles.base.whole_turns import holdings
from oddswap.reasoning.budget import Clock, Reached, cached, started
from oddswap.reasoning.laws.characters import count_characters
from oddswap.reasoning.laws.double_cosets import CosetFactors, TooTangled, coset_factors
from oddswap.reasoning.laws.image import walk
from oddswap.reasoning.laws.law_book import COSETS, LawBook
from oddswap.reasoning.laws.lookalikes import hand_generators

WALKED = 10**9
"""For a figure so many at most, times the relabellings that lead on and the square of the number of labels."""


@dataclass(frozen=True)
class ByEye:
    """What a law book leaves to the eye; ``None`` for what could not be counted, with ``reached`` if the time ended.

    ``seen_index`` is how many classes of assemblies can be told apart: double cosets K\\A/G. ``appearances`` are those that
    the turns reach, |G| / |G ∩ K|; ``appearances_up_to_rotation`` leaves out those that differ only by how the puzzle is held.
    """

    seen_index: int | None
    appearances: int | None
    appearances_up_to_rotation: int | None
    reached: tuple[Reached, ...] = ()


@cached(32)
def by_eye(book: LawBook, clock: Clock) -> ByEye:
    """Count what can be told apart before the ``clock`` is spent."""
    classes = _classes(book, clock)
    looks = _looks(book, classes, clock)
    cut = clock.reached("appearances") if None in (classes, looks) else ()
    if looks is None or not book.held_visibly:
        return ByEye(classes, looks if book.times == 1 else None, None, cut)
    return ByEye(classes, looks * book.times, looks * len(book.holdings) // len(holdings(book.puzzle)), cut)


def seen_index(book: LawBook) -> int | None:
    """Return how many classes of assemblies can be told apart by looking; ``None`` if too many to walk."""
    return by_eye(book, started(None)).seen_index


def appearances(book: LawBook) -> int | None:
    """Return how many appearances the turns reach; ``None`` if that could not be had."""
    return by_eye(book, started(None)).appearances


def appearances_up_to_rotation(book: LawBook) -> int | None:
    """Return how many appearances there are however the puzzle is held; ``None`` if that could not be had."""
    return by_eye(book, started(None)).appearances_up_to_rotation


def _classes(book: LawBook, clock: Clock) -> int | None:
    if book.additive:
        return count_characters(book.sectors, [*book.image.generators, *book.hidden.generators()])
    if not book.hidden.generators():
        return book.index
    if not book.by_image:
        return _double_cosets(book, clock)
    try:
        return _factors(book).count(clock)
    except TooTangled:
        return None


def _looks(book: LawBook, classes: int | None, clock: Clock) -> int | None:
    """How many appearances the group reaches."""
    if book.additive:
        assemblies = book.places * prod(s.assembly_order for s in book.sectors)
        return assemblies // (classes * book.hidden.order)
    order = book.places * book.proof.order
    if book.by_image:
        factors = _factors(book)
        return order * factors.hidden_order // (factors.common_order * book.hidden.order)
    limit, walked = _patience(book), book.walk(np.arange(book.puzzle.degree), book.hidden.generators())
    reached = sum(1 for _ in takewhile(lambda _: not clock.spent, islice(walked, limit)))
    if reached >= limit or clock.spent:
        return None
    return order * reached // book.hidden.order


@lru_cache(maxsize=1)
def _factors(book: LawBook) -> CosetFactors:
    return coset_factors(book.image, book.hidden.generators())


def _patience(book: LawBook) -> int:
    return min(COSETS, WALKED // (book.puzzle.degree**2 * max(1, len(book.hidden.generators()))))


def _double_cosets(book: LawBook, clock: Clock) -> int | None:
    if book.index > _patience(book):
        return None
    model = dict(book.walk(np.arange(book.puzzle.degree), hand_generators(book.puzzle, book.sectors)))
    count, rest, unseen = 0, set(model), book.steps(book.hidden.generators())
    while rest:
        if clock.spent:
            return None
        count += 1
        rest -= {name for name, _ in walk(book.levels, model[next(iter(rest))], unseen, COSETS)}
    return count
