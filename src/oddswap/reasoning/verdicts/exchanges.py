"""Atoms of change: relabellings of lookalikes that nobody sees, and repairs that only a hand can make.

And the smallest sets of them whose law quantities add up to a given value (`smallest_sets`).
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import combinations, permutations, product

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Finding
from oddswap.reasoning.laws.lookalikes import Lookalikes, TwinFamily, lookalikes
from oddswap.reasoning.laws.sectors import Law
from oddswap.reasoning.verdicts.assignments import components

Values = tuple[int, ...]


@dataclass(frozen=True)
class Atom:
    """A change of one or two pieces: which ones (home slots), and what it adds to each law's quantity.

    ``images`` says it exactly: ``(p, q, e)`` puts p where q was, twisted on by e.
    """

    pieces: tuple[int, ...]
    values: Values
    images: tuple[tuple[int, int, int], ...]


def smallest_sets(target: Values, moduli: Values, atoms: Sequence[Atom], limit: int = 500) -> tuple[tuple[Atom, ...], ...]:
    """All sets of atoms on different pieces, of the fewest pieces in all, whose values add up to ``target``.

    At most ``limit`` are listed; none when the target cannot be reached. Cost is the number of pieces. Atoms that no chain
    of shared laws and pieces joins never meet, so each part that hangs together is gone through alone.

    >>> one, two = Atom((0,), (1,), ()), Atom((1,), (1,), ())
    >>> [len(s) for s in smallest_sets((1,), (2,), [one, two])]
    [1, 1]
    """
    useful = [atom for atom in atoms if any(atom.values)]
    laws_of = [{("law", number) for number, amount in enumerate(atom.values) if amount} for atom in useful]
    found: list[tuple[int, ...]] = [()]
    rest = target
    for part in components([laws | set(atom.pieces) for laws, atom in zip(laws_of, useful, strict=True)]):
        laws = set().union(*(laws_of[i] for i in part))
        own = tuple(amount if ("law", number) in laws else 0 for number, amount in enumerate(target))
        if any(own):
            rest, part = _minus(rest, own, moduli), sorted(part)
            sets = _smallest([useful[i] for i in part], own, moduli, limit)
            # both lists are in order, so (i + 1) (j + 1) - 1 pairs come before the pair of their i-th and their j-th
            pairs = [(*one, *(part[j] for j in other)) for i, one in enumerate(found) for other in sets[: limit // (i + 1)]]
            found = sorted(tuple(sorted(pair)) for pair in pairs)[:limit]
    return () if any(rest) else tuple(tuple(useful[i] for i in chosen) for chosen in found)


def _smallest(atoms: Sequence[Atom], target: Values, moduli: Values, limit: int) -> list[tuple[int, ...]]:
    """The same for atoms that hang together, by their numbers, in order."""
    cheapest = _cheapest({(len(atom.pieces), atom.values) for atom in atoms}, moduli)
    if target not in cheapest:
        return []
    found: list[tuple[int, ...]] = []

    def extend(chosen: tuple[int, ...], start: int, rest: Values, budget: int, used: frozenset[int]) -> None:
        if not any(rest):
            if budget == 0:
                found.append(chosen)
            return
        for i in range(start, len(atoms)):
            if len(found) >= limit:
                return
            atom = atoms[i]
            left = _minus(rest, atom.values, moduli)
            cost = len(atom.pieces)
            if cheapest.get(left, budget + 1) + cost <= budget and used.isdisjoint(atom.pieces):
                extend((*chosen, i), i + 1, left, budget - cost, used | set(atom.pieces))

    pieces = {piece for atom in atoms for piece in atom.pieces}
    for budget in range(cheapest[target], len(pieces) + 1):
        extend((), 0, target, budget, frozenset())
        if found:
            break
    return found


def _cheapest(steps: set[tuple[int, Values]], moduli: Values) -> dict[Values, int]:
    """The least cost of each value when pieces may repeat: a lower bound for disjoint sets."""
    zero = (0,) * len(moduli)
    settled: dict[Values, int] = {}
    queue = [(0, zero)]
    while queue:
        cost, value = heappop(queue)
        if value in settled:
            continue
        settled[value] = cost
        for price, step in steps:
            following = tuple((a + b) % m for a, b, m in zip(value, step, moduli, strict=True))
            if following not in settled:
                heappush(queue, (cost + price, following))
    return settled


def _minus(value: Values, other: Values, moduli: Values) -> Values:
    return tuple((a - b) % m for a, b, m in zip(value, other, moduli, strict=True))


Images = tuple[tuple[int, int, int], ...]


class HiddenTurn(Finding):
    """A piece of a family, by its home slot, is turned in its place, by any one of ``steps`` of ``order``; none of them shows."""

    piece: str
    family: str
    steps: tuple[int, ...]
    order: int

    @property
    def touched(self) -> tuple[str, ...]:
        """The pieces that are not what they seem, by home slot."""
        return (self.piece,)


class HiddenSwap(Finding):
    """Pieces of a family, by their home slots, have changed places, and they look the same."""

    pieces: tuple[str, ...]
    family: str

    @property
    def touched(self) -> tuple[str, ...]:
        """The pieces that are not what they seem, by home slot."""
        return self.pieces


def hidden_atoms(alike: Lookalikes, laws: tuple[Law, ...]) -> list[Atom]:
    """Hidden turns of one piece and exchanges of two twins, with what they add to ``laws``: these generate K."""
    return [_atom(alike, laws, images) for family in alike.of_pieces for size in (1, 2) for images in _rings(alike, family, size)]


def hidden_rings(alike: Lookalikes, size: int) -> Iterator[Atom]:
    """Every hidden change in which so many twins go round and may turn; every hidden change is made of rings apart."""
    return (_atom(alike, (), images) for family in alike.of_pieces for images in _rings(alike, family, size))


def _rings(alike: Lookalikes, family: TwinFamily, size: int) -> Iterator[Images]:
    twist = family.kind.twist
    for images in _rounds(family.pieces, range(0, twist, family.step), size):
        yield tuple((p, q, (alike.offset(p, q) + e) % twist) for p, q, e in images)


def _rounds(pieces: Iterable[int], turns: Iterable[int], size: int) -> Iterator[Images]:
    """So many of the pieces in turn, each where the next one was and turned, in every way that changes anything."""
    for first, *others in combinations(pieces, size):
        for rest, extras in product(permutations(others), product(turns, repeat=size)):
            if rest or any(extras):
                yield tuple(zip((first, *rest), (*rest, first), extras, strict=True))


def hand_rings(puzzle: Puzzle, size: int, first: Iterable[int]) -> list[Atom]:
    """Every change by hand in which so many pieces of a kind go round, or one turns; those with most of ``first`` come first."""
    rounds, wanted = [], set(first)
    for kind in puzzle.kinds:
        places = sorted(set(kind.places) - puzzle.fixed, key=lambda p: (p not in wanted, p))
        rounds += _rounds(places, range(kind.twist), size)
    rounds.sort(key=lambda images: sum(p not in wanted for p, _, _ in images))
    return [Atom(tuple(p for p, _, _ in images), (), images) for images in rounds]


def hand_atoms(puzzle: Puzzle, laws: tuple[Law, ...], first: Iterable[int] = ()) -> list[Atom]:
    """Turning one piece in its place and exchanging two of a kind by hand; those of pieces ``first`` come first.

    An exchange keeps the first-named faces where they are; other ways round are an exchange and a twist. Laws that are
    characters of whole kinds cannot tell changes of one kind, size and twist apart, so each is measured once.
    """
    measured, atoms = {}, []
    for atom in (*hand_rings(puzzle, 1, first), *hand_rings(puzzle, 2, first)):
        steps, *back = [steps for _, _, steps in atom.images]
        if not any(back):
            sort = (puzzle.kind_of[atom.pieces[0]].first, len(back), steps)
            if sort not in measured:
                measured[sort] = _atom(lookalikes(puzzle), laws, atom.images).values
            atoms.append(Atom(atom.pieces, measured[sort], atom.images))
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
