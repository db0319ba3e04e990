"""Which explanations of an appearance are reachable, and the smallest exchanges of lookalikes that make one so.

Explanations are K s. Where all laws are characters, their quantities add, and linear algebra decides. Otherwise the
cosets of the turns are walked by relabellings, or, where these are many, told apart by a stabiliser chain on the cosets of
K; that, too, decides, and the smallest exchanges are found by trying all of one piece, of two, and so on. Where the turns
split kinds, pieces are first matched to slots of their own orbit.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache, reduce
from itertools import islice
from typing import TYPE_CHECKING

import numpy as np

from oddswap.errors import OddswapError
from oddswap.forwards import fetched
from oddswap.reasoning.laws.characters import CharacterLaw, laws_of
from oddswap.reasoning.laws.law_book import COSETS, LawBook
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.laws.sectors import keeps
from oddswap.reasoning.verdicts.assignments import perfect_matching
from oddswap.reasoning.verdicts.exchanges import Atom, hidden_atoms, hidden_rings, relabelled, smallest_sets

if TYPE_CHECKING:
    from oddswap.reasoning.laws.double_cosets import CosetFactors

coset_factors = fetched("reasoning.laws.double_cosets:coset_factors")

FEW = 8
"""With so many generators relabellings are walked; with more the image is taken apart factor by factor, where it says all."""
TRIES = 20_000
"""So many sets of exchanges are tried at most in search of the smallest."""
AT_ONCE = 500
Pieces = frozenset[int]
"""Pieces by number."""


class Undecided(OddswapError):
    """The classes of a puzzle are too many to be walked, so the verdict could not be had."""


class TooMany(Undecided):
    """A position that lookalikes explain, but no smallest exchange of them was found in so many ``tries``."""

    def __init__(self, tries: int):
        super().__init__(f"no smallest exchange of lookalikes was found in {tries} tries: name fewer turns or fewer twins")
        self.tries = tries


@lru_cache(maxsize=256)
def reachable_classes(book: LawBook, pieces: Pieces | None = None) -> frozenset[bytes]:
    """The classes that relabellings of these pieces (all, when left out) make of the reachable one."""
    steps = book.hidden.generators(pieces)
    found = frozenset(name for name, _ in book.walk(np.arange(book.puzzle.degree), steps))
    if len(found) >= COSETS:
        raise Undecided(f"{book.puzzle.name} has more than {COSETS} classes of lookalikes: name fewer turns or fewer twins")
    return found


@lru_cache(maxsize=32)
def factors(book: LawBook, pieces: Pieces | None = None) -> CosetFactors | None:
    """The image with the share of relabellings of these pieces (all, when left out); ``None`` where it is easier to walk."""
    steps = book.hidden.generators(pieces)
    if not book.by_image or len(steps) <= FEW:
        return None
    try:
        return coset_factors(book.image, steps)
    except OddswapError:
        return None


@lru_cache(maxsize=256)
def steady_laws(book: LawBook, pieces: Pieces | None) -> tuple[CharacterLaw, ...]:
    """The laws that neither the turns nor relabellings of these pieces (all, for ``None``) can change."""
    return laws_of(book.sectors, [*book.image.generators, *book.hidden.generators(pieces)], book.hidden.generators())


def is_reachable(book: LawBook, permutation: np.ndarray, pieces: Pieces | None = None) -> bool:
    """Whether some relabelling of these pieces (any, when left out) makes a label permutation reachable, in any holding."""
    return any(is_reachable_as_held(book, held, pieces) for held in book.held(permutation))


def is_reachable_as_held(book: LawBook, permutation: np.ndarray, pieces: Pieces | None = None) -> bool:
    """The same without holding the puzzle otherwise."""
    if (sorted_in := into_orbits(book, permutation, pieces)) is None:
        return False
    home = book.puzzle.homed(sorted_in)
    if book.additive:
        return not any(law.value(home) for law in steady_laws(book, pieces))
    if (apart := factors(book, pieces)) is not None:
        return apart.contains(book.image.of(home))
    return book.class_of(home) in reachable_classes(book, pieces)


def smallest_mendings(
    book: LawBook, permutation: np.ndarray, free: Pieces = frozenset(), within: Pieces | None = None, limit: int = 500
) -> tuple[tuple[Atom, ...], ...]:
    """The smallest sets of hidden changes after which relabelling the ``free`` pieces makes ``permutation`` reachable, as held.

    ``within`` names the pieces that may be changed (all, when left out). Empty when there is no such set; one empty set
    when nothing need be changed. `Undecided` when the classes are too many to walk.
    """
    if is_reachable_as_held(book, permutation, free):
        return ((),)
    if not is_reachable_as_held(book, permutation, within):
        return ()
    home = book.puzzle.homed(permutation)
    if book.additive and keeps(book.sectors, home):
        laws = steady_laws(book, free)
        target = tuple(-law.value(home) % law.modulus for law in laws)
        atoms = list(_allowed(hidden_atoms(book.hidden, laws), within))
        return smallest_sets(target, tuple(law.modulus for law in laws), atoms, limit)
    return _by_trying(book, permutation, free, within, limit)


def _allowed(atoms: Iterable[Atom], within: Pieces | None) -> Iterator[Atom]:
    return (atom for atom in atoms if within is None or within.issuperset(atom.pieces))


def _by_trying(
    book: LawBook, permutation: np.ndarray, free: Pieces, within: Pieces | None, limit: int
) -> tuple[tuple[Atom, ...], ...]:
    alike, found = lookalikes(book.puzzle), []
    most = TRIES if factors(book, within) is None else TRIES // 10
    left = most
    atoms: list[Atom] = []
    for size in range(1, len(alike.family_of) + 1):
        atoms += islice(_allowed(hidden_rings(alike, size), within), TRIES)
        sets = islice(of_size(atoms, size), left)
        while len(found) < limit and (batch := list(islice(sets, AT_ONCE))):
            left -= len(batch)
            reached = _reached(book, permutation, free, batch)
            found += [chosen for chosen, good in zip(batch, reached, strict=True) if good]
        if found:
            return tuple(found[:limit])
        if not left:
            break
    raise TooMany(most)


def _reached(book: LawBook, permutation: np.ndarray, free: Pieces, batch: Sequence[tuple[Atom, ...]]) -> Iterable[bool]:
    """Whether each set of changes, and then relabelling the free pieces, makes a label permutation reachable."""
    alike = lookalikes(book.puzzle)
    home = book.puzzle.homed(permutation)
    if not book.by_image or book.hidden.order != alike.order or not keeps(book.sectors, home):
        return (is_reachable_as_held(book, permutation[relabelled(alike, chosen)], free) for chosen in batch)
    images = {atom: book.image.of(relabelled(alike, [atom])) for atom in {atom for chosen in batch for atom in chosen}}
    whole = book.image.of(home)
    rows = [reduce(lambda row, atom: row[images[atom]], chosen, whole) for chosen in batch]
    classes = reachable_classes(book, free)
    return (name in classes for name in book.names_of(np.array(rows)))


def of_size(atoms: Sequence[Atom], size: int) -> Iterator[tuple[Atom, ...]]:
    """Sets of atoms on different pieces, ``size`` pieces in all."""

    def extended(chosen: tuple[Atom, ...], start: int, left: int) -> Iterator[tuple[Atom, ...]]:
        if left == 0:
            yield chosen
        used = {piece for atom in chosen for piece in atom.pieces}
        for i in range(start, len(atoms) if left else start):
            if len(atoms[i].pieces) <= left and used.isdisjoint(atoms[i].pieces):
                yield from extended((*chosen, atoms[i]), i + 1, left - len(atoms[i].pieces))

    return extended((), 0, size)


def into_orbits(book: LawBook, permutation: np.ndarray, pieces: Pieces | None = None) -> np.ndarray | None:
    """The label permutation after a relabelling of these pieces that puts every label into its orbit, if there is one, and a way
    home.

    A matching of pieces to the places of their lookalikes, by augmenting paths, each piece left alone where it can be.
    """
    puzzle = book.puzzle
    if (home := puzzle.homed(permutation)) is None:
        return None
    if keeps(book.sectors, home):
        return permutation
    if pieces is not None and not pieces:
        return None
    alike = lookalikes(puzzle)
    place_of = {label: number for number, sector in enumerate(book.sectors) for label in sector.place}
    first = {slot: int(sector.labels[row, 0]) for sector in book.sectors for row, slot in enumerate(sector.slots)}
    images: dict[int, tuple[int, int]] = {}
    for family in alike.of_pieces:
        members = [p for p in family.pieces if pieces is None or p in pieces]
        fits: dict[int, dict[int, int]] = {p: {} for p in family.pieces}
        for p in family.pieces:
            for q in members if p in members else [p]:
                for way in range(family.hidden if p in members else 1):
                    extra, base = (alike.offset(p, q) + family.step * way) % family.kind.twist, puzzle.base_label[q]
                    moved = base + (first[p] - puzzle.base_label[p] + extra) % family.kind.twist
                    if place_of.get(int(home[moved])) == place_of[first[p]]:
                        fits[p].setdefault(q, extra)
        # each piece with a partner of its own; itself first, if it may
        partners = perfect_matching([sorted(fits[p], key=lambda q, p=p: (q != p, q)) for p in fits])
        if partners is None:
            return None
        images |= {p: (q, fits[p][q]) for p, q in zip(fits, partners, strict=True)}
    return permutation[alike.relabelling(images)]


def mended(book: LawBook, permutation: np.ndarray, chosen: tuple[Atom, ...], free: Pieces) -> np.ndarray:
    """The label permutation that hidden changes, and then the smallest ones of free pieces, make reachable as it is held.

    Where the smallest take too long to find: free pieces are named one by one, or, where classes are walked on the labels,
    whichever the walk finds.
    """
    alike = lookalikes(book.puzzle)
    changed = into_orbits(book, permutation[relabelled(alike, chosen)], free)
    try:
        (further, *_) = smallest_mendings(book, changed, limit=1, within=free)
    except TooMany:
        if book.by_image:
            return _named_one_by_one(book, changed, free)
        home, solved = book.puzzle.homed(changed), book.class_of(np.arange(book.puzzle.degree))
        reached = (model for name, model in book.walk(home, book.hidden.generators(free)) if name == solved)
        return changed[np.argsort(home)[next(reached)]]
    return changed[relabelled(alike, further)]


def _named_one_by_one(book: LawBook, permutation: np.ndarray, free: Pieces) -> np.ndarray:
    """Each free piece keeps its name, or takes the first one, with which relabelling those after it can do the rest."""
    alike = lookalikes(book.puzzle)
    atoms = hidden_atoms(alike, ())
    for piece in sorted(free):
        later = free - {piece}
        names = [(), *((atom,) for atom in _allowed(atoms, free) if piece in atom.pieces)]
        renamed = (permutation[relabelled(alike, chosen)] for chosen in names)
        permutation = next(each for each in renamed if is_reachable_as_held(book, each, later))
        free = later
    return permutation
