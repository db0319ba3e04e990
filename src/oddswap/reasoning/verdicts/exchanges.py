"""Atoms of change: relabellings of lookalikes that nobody sees, and repairs that only a hand can make."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, permutations, product

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.finding import Finding
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.laws.lookalikes import Lookalikes, TwinFamily, lookalikes
from oddswap.reasoning.verdicts.smallest import Atom

Images = tuple[tuple[int, int, int], ...]


class HiddenTurn(Finding):
    """A piece of a family, by its home slot, is turned in its place, by any one of ``steps`` of ``order``; none of them shows."""

    piece: str
    family: str
    steps: tuple[int, ...]
    order: int


class HiddenSwap(Finding):
    """Pieces of a family, by their home slots, have changed places, and they look the same."""

    pieces: tuple[str, ...]
    family: str


def hidden_atoms(alike: Lookalikes, laws: tuple[Law, ...]) -> list[Atom]:
    """Hidden turns of one piece and exchanges of two twins, with what they add to ``laws``: these generate K."""
    return [_atom(alike, laws, images) for family in alike.families for size in (1, 2) for images in _rings(alike, family, size)]


def hidden_rings(alike: Lookalikes, size: int) -> Iterator[Atom]:
    """Every hidden change in which so many twins go round and may turn; every hidden change is made of rings apart."""
    return (_atom(alike, (), images) for family in alike.families for images in _rings(alike, family, size))


def _rings(alike: Lookalikes, family: TwinFamily, size: int) -> Iterator[Images]:
    hidden = range(0, family.kind.twist, family.step)
    for first, *others in combinations(family.pieces, size):
        for rest, extras in product(permutations(others), product(hidden, repeat=size)):
            if rest or any(extras):
                yield _cycle(alike, (first, *rest), extras)


def _cycle(alike: Lookalikes, ring: tuple[int, ...], extras: tuple[int, ...]) -> Images:
    following = (*ring[1:], ring[0])
    twist = alike.family_of[ring[0]].kind.twist
    return tuple((p, q, (alike.offset(p, q) + e) % twist) for p, q, e in zip(ring, following, extras, strict=True))


def hand_atoms(puzzle: Puzzle, laws: tuple[Law, ...], first: Iterable[int] = ()) -> list[Atom]:
    """Turning one piece in its place and exchanging two of a kind by hand; those of pieces ``first`` come first.

    An exchange keeps the first-named faces where they are; other ways round are an exchange and a twist. Laws that are
    characters of whole kinds cannot tell changes of one kind, size and twist apart, so each is measured once.
    """
    wanted, measured = set(first), {}
    found: list[Images] = []
    atoms: list[Atom] = []
    for kind in puzzle.kinds:
        places = sorted((p for p in kind.places if p != puzzle.blank), key=lambda p: (p not in wanted, p))
        found += [((p, p, e),) for p in places for e in range(1, kind.twist)]
        found += [((p, q, e), (q, p, 0)) for i, p in enumerate(places) for q in places[i + 1 :] for e in range(kind.twist)]
    found.sort(key=lambda images: (len(images), sum(p not in wanted for p, _, _ in images)))
    for images in found:
        sort = (puzzle.kind_of[images[0][0]].first, len(images), images[0][2])
        if sort not in measured:
            measured[sort] = _atom(lookalikes(puzzle), laws, images).values
        atoms.append(Atom(tuple(p for p, _, _ in images), measured[sort], images))
    return atoms


def _atom(alike: Lookalikes, laws: tuple[Law, ...], images: Images) -> Atom:
    permutation = alike.relabelling({p: (q, e) for p, q, e in images})
    return Atom(tuple(p for p, _, _ in images), tuple(law.value(permutation) for law in laws), images)


def relabelled(alike: Lookalikes, atoms: Iterable[Atom]):
    """The label permutation of several atoms on different pieces together."""
    return alike.relabelling({p: (q, e) for atom in atoms for p, q, e in atom.images})


def hidden_changes(puzzle: Puzzle, ways: Sequence[tuple[Atom, ...]]) -> tuple[HiddenTurn | HiddenSwap, ...]:
    """What hidden changes of the same pieces are; several ways are alternatives."""
    return tuple(_hidden(puzzle, atoms) for atoms in zip(*ways, strict=True))


def _hidden(puzzle: Puzzle, atoms: Sequence[Atom]) -> HiddenTurn | HiddenSwap:
    names, kind = tuple(puzzle.slots[p] for p in atoms[0].pieces), puzzle.kind_of[atoms[0].pieces[0]]
    if len(names) > 1:
        return HiddenSwap(names, kind.family)
    return HiddenTurn(names[0], kind.family, tuple(dict.fromkeys(atom.images[0][2] for atom in atoms)), kind.twist)
