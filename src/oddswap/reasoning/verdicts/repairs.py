"""The smallest repair by hand, when no turning can help."""

from collections.abc import Iterator
from itertools import combinations, islice, product, takewhile

from oddswap.describing.changes import changed
from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Clock, Finding, Limit, started
from oddswap.reasoning.laws.law_book import LawBook, law_book
from oddswap.reasoning.verdicts.exchanges import Atom, hand_atoms, hand_rings, smallest_sets
from oddswap.reasoning.verdicts.mending import TRIES, is_reachable, of_size, steady_laws
from oddswap.values.position import Arrangement


class HandTurn(Finding):
    """The piece of a family that is at ``slot`` is taken out and put back turned by ``steps`` of ``order``."""

    slot: str
    family: str
    steps: int
    order: int


class HandSwap(Finding):
    """The pieces of a family at these slots, two or more, go round: each comes to the next slot, the last to the first.

    The one that comes to the second is turned by ``steps`` of ``order``.
    """

    slots: tuple[str, ...]
    family: str
    steps: int
    order: int


@forwarded
class Repair(Finding):
    """The smallest repair: ``changes`` as `changed` reads them, ``by_hand`` what they are, at the slots where the pieces now are.

    None of fewer pieces would do. As well would do any so many pieces, one or two, of each of the families in ``as_well``.
    ``result`` is the arrangement after the changes; the turns do the rest.
    """

    changes: tuple[str, ...]
    by_hand: tuple[HandTurn | HandSwap, ...]
    as_well: tuple[tuple[int, str], ...]
    result: Arrangement


def smallest_repair(puzzle: Puzzle, first: Arrangement, budget: Limit = None) -> Repair | None:
    """The changes by hand of the fewest pieces after which the turns can solve the puzzle by sight.

    Among equals, the one that leaves the fewest pieces out of place. ``None`` when no law that can be seen is broken, and where
    the budget ended before one was found.
    """
    book, slot_of = law_book(puzzle), {piece: slot for slot, piece in enumerate(first.pieces)}
    if is_reachable(book, puzzle.permutation(first)):
        return None
    changes = {s: _changes(puzzle, s, slot_of) for s in _sets(book, first, slot_of, started(budget))}
    after = {s: changed(puzzle, written, first) for s, written in changes.items()}
    if not after:
        return None
    best = min(after, key=lambda s: len(after[s].displaced()))
    by_hand = tuple(change for atom in best for change in _hand(puzzle, atom, slot_of))
    as_well = tuple(_as_well(book, {frozenset(s[0].pieces) for s in after if len(s) == 1}))
    return Repair(changes[best], by_hand, as_well, after[best])


def _as_well(book: LawBook, useful: set[frozenset[int]]) -> Iterator[tuple[int, str]]:
    """The families of which any one piece, or any two of a kind, are ``useful``, by that number."""
    enough = any if _sums_say_all(book) else all
    for number, family in product((1, 2), sorted({kind.family for kind in book.puzzle.kinds})):
        places = [set(kind.places) - book.puzzle.fixed for kind in book.puzzle.kinds if kind.family == family]
        every = [frozenset(pieces) in useful for own in places for pieces in combinations(own, number)]
        if every and enough(every):
            yield number, family


def _sums_say_all(book: LawBook) -> bool:
    """Whether it makes no difference which pieces of a kind are changed, and how twists are shared out among them."""
    return book.additive and all(sector.whole for sector in book.sectors) and len(book.holdings) == 1


def _sets(book: LawBook, first: Arrangement, slot_of: dict[int, int], clock: Clock) -> tuple[tuple[Atom, ...], ...]:
    """The sets of changes by hand, of the fewest pieces, after which turning and lookalikes do the rest."""
    puzzle, displaced = book.puzzle, {first.pieces[slot] for slot in first.displaced()}
    if _sums_say_all(book):
        laws = steady_laws(book, None)
        home = puzzle.homed(puzzle.permutation(first))
        target = tuple(-law.value(home) % law.modulus for law in laws)
        return smallest_sets(target, tuple(law.modulus for law in laws), hand_atoms(puzzle, laws, displaced))
    atoms: list[Atom] = []
    for size in range(1, len(puzzle.slots) + 1):
        atoms += hand_rings(puzzle, size, displaced)
        sets = of_size(atoms, size)
        tried = takewhile(lambda _: not clock.spent, islice(sets, TRIES))
        after = ((s, changed(puzzle, _changes(puzzle, s, slot_of), first)) for s in tried)
        found = [s for s, state in after if is_reachable(book, puzzle.permutation(state))]
        if found or clock.spent or next(sets, None):
            return tuple(found[:500])
    return ()


def _changes(puzzle: Puzzle, atoms: tuple[Atom, ...], slot_of: dict[int, int]) -> tuple[str, ...]:
    """Atoms as changes that `changed` reads."""
    found = []
    for atom in atoms:
        if len(atom.pieces) > 1:
            word = "swap" if len(atom.pieces) == 2 else "cycle"
            found.append(" ".join((word, *(puzzle.slots[slot_of[piece]] for piece in atom.pieces))))
        for _, goal, steps in atom.images:
            found += turn_changes(puzzle, slot_of[goal], steps)
    return tuple(found)


def turn_changes(puzzle: Puzzle, slot: int, steps: int) -> list[str]:
    """Turning the piece in a slot by so many steps, from 0 to less than once round, as changes that `changed` reads."""
    kind = puzzle.kind_of[slot]
    if kind.twist == 2:
        return [f"flip {puzzle.slots[slot]}"] * steps
    if 2 * steps == kind.twist:
        return [f"turn {puzzle.slots[slot]} half"]
    verb = "twist" if len(kind.slots) > 1 else "turn"
    way = "cw" if 2 * steps < kind.twist else "ccw"
    return [f"{verb} {puzzle.slots[slot]} {way}"] * min(steps, kind.twist - steps)


def _hand(puzzle: Puzzle, atom: Atom, slot_of: dict[int, int]) -> Iterator[HandTurn | HandSwap]:
    kind, slots = puzzle.kind_of[atom.pieces[0]], tuple(puzzle.slots[slot_of[piece]] for piece in atom.pieces)
    steps, *others = (steps for _, _, steps in atom.images)
    if others:
        yield HandSwap(slots, kind.family, steps, kind.twist)
    for slot, turned in zip((*slots[2:], slots[0]), others or [steps], strict=True):
        if turned:
            yield HandTurn(slot, kind.family, turned, kind.twist)
