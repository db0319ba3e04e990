"""The smallest repair by hand, when no turning can help."""

from itertools import islice, takewhile

import numpy as np

from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Clock, Finding, Limit, started
from oddswap.reasoning.laws.law_book import LawBook, law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.exchanges import Atom, hand_atoms, relabelled, smallest_sets
from oddswap.reasoning.verdicts.mending import TRIES, is_reachable, of_size, steady_laws
from oddswap.values.position import Arrangement


class HandTurn(Finding):
    """The piece of a family that is at ``slot`` is taken out and put back turned by ``steps`` of ``order``."""

    slot: str
    family: str
    steps: int
    order: int


class HandSwap(Finding):
    """The pieces of a family at two slots change places; the one that comes to the second is turned by ``steps`` of ``order``."""

    slots: tuple[str, str]
    family: str
    steps: int
    order: int


@forwarded
class Repair(Finding):
    """The smallest repair: ``changes`` as `changed` reads them, ``by_hand`` what they are, at the slots where the pieces now are.

    As well would do any so many pieces, one or two, of each of the families in ``as_well``. ``result`` is the arrangement after
    the changes; the turns do the rest.
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
    book, permutation = law_book(puzzle), puzzle.permutation(first)
    if is_reachable(book, permutation):
        return None
    displaced = {first.pieces[slot] for slot in first.displaced()}
    if not (sets := _sets(book, permutation, displaced, started(budget))):
        return None
    slot_of = {piece: slot for slot, piece in enumerate(first.pieces)}
    after = {s: _by_hand(puzzle, first, s, slot_of) for s in sets}
    best = min(sets, key=lambda s: len(after[s].displaced()))
    changes = tuple(change for atom in best for change in _changes(puzzle, atom, slot_of))
    as_well = {(len(s[0].pieces), puzzle.kind_of[s[0].pieces[0]].family) for s in sets if len(s) == 1}
    return Repair(changes, tuple(_hand(puzzle, atom, slot_of) for atom in best), tuple(sorted(as_well)), after[best])


def _sets(book: LawBook, permutation: np.ndarray, first: set[int], clock: Clock) -> tuple[tuple[Atom, ...], ...]:
    """The sets of changes by hand, of the fewest pieces, after which turning and lookalikes do the rest."""
    puzzle = book.puzzle
    if book.additive and all(sector.whole for sector in book.sectors) and len(book.holdings) == 1:
        laws = steady_laws(book, None)
        home = puzzle.homed(permutation)
        target = tuple(-law.value(home) % law.modulus for law in laws)
        return smallest_sets(target, tuple(law.modulus for law in laws), hand_atoms(puzzle, laws, first))
    atoms, alike = hand_atoms(puzzle, (), first), lookalikes(puzzle)
    for size in range(1, 5):
        tried = takewhile(lambda _: not clock.spent, islice(of_size(atoms, size), TRIES))
        found = [s for s in tried if is_reachable(book, permutation[relabelled(alike, s)])]
        if found:
            return tuple(found[:500])
    return ()


def _by_hand(puzzle: Puzzle, first: Arrangement, atoms: tuple[Atom, ...], slot_of: dict[int, int]) -> Arrangement:
    """What `changed` makes of the changes: pieces that change places keep their twists, and then turn as the atom says."""
    pieces, twists = list(first.pieces), list(first.twists)
    for atom in atoms:
        here, there = slot_of[atom.pieces[0]], slot_of[atom.pieces[-1]]
        for state in (pieces, twists):
            state[here], state[there] = state[there], state[here]
        twists[there] = (twists[there] + atom.images[0][2]) % puzzle.kind_of[there].twist
    return Arrangement(first.puzzle, tuple(pieces), tuple(twists))


def _changes(puzzle: Puzzle, atom: Atom, slot_of: dict[int, int]) -> list[str]:
    """An atom as changes that `changed` reads."""
    if len(atom.pieces) == 1:
        return turn_changes(puzzle, slot_of[atom.pieces[0]], atom.images[0][2])
    p, q = atom.pieces
    there, here = puzzle.slots[slot_of[q]], puzzle.slots[slot_of[p]]
    return [f"swap {here} {there}", *turn_changes(puzzle, slot_of[q], atom.images[0][2])]


def turn_changes(puzzle: Puzzle, slot: int, steps: int) -> list[str]:
    """Turning the piece in a slot by so many steps, as changes that `changed` reads."""
    kind = puzzle.kind_of[slot]
    if not steps % kind.twist:
        return []
    if kind.twist == 2:
        return [f"flip {puzzle.slots[slot]}"]
    if 2 * steps == kind.twist:
        return [f"turn {puzzle.slots[slot]} half"]
    verb = "twist" if len(kind.slots) > 1 else "turn"
    way = "cw" if 2 * steps < kind.twist else "ccw"
    return [f"{verb} {puzzle.slots[slot]} {way}"] * min(steps, kind.twist - steps)


def _hand(puzzle: Puzzle, atom: Atom, slot_of: dict[int, int]) -> HandTurn | HandSwap:
    kind, steps = puzzle.kind_of[atom.pieces[0]], atom.images[0][2]
    slots = tuple(puzzle.slots[slot_of[piece]] for piece in atom.pieces)
    told = kind.family, steps, kind.twist
    return HandTurn(*slots, *told) if len(slots) == 1 else HandSwap(slots, *told)
