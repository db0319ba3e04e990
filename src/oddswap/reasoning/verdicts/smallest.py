"""The smallest sets of small changes whose law quantities add up to a given value."""

from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

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

    At most ``limit`` are listed; none when the target cannot be reached. Cost is the number of pieces.

    >>> one, two = Atom((0,), (1,), ()), Atom((1,), (1,), ())
    >>> [len(s) for s in smallest_sets((1,), (2,), [one, two])]
    [1, 1]
    """
    useful = [atom for atom in atoms if any(atom.values)]
    cheapest = _cheapest({(len(a.pieces), a.values) for a in useful}, moduli)
    if target not in cheapest:
        return ()
    found: list[tuple[Atom, ...]] = []

    def extend(chosen: tuple[Atom, ...], start: int, rest: Values, budget: int, used: frozenset[int]) -> None:
        if not any(rest):
            if budget == 0:
                found.append(chosen)
            return
        for i in range(start, len(useful)):
            if len(found) >= limit:
                return
            atom = useful[i]
            left = _minus(rest, atom.values, moduli)
            cost = len(atom.pieces)
            if cheapest.get(left, budget + 1) + cost <= budget and used.isdisjoint(atom.pieces):
                extend((*chosen, atom), i + 1, left, budget - cost, used | set(atom.pieces))

    pieces = {piece for atom in useful for piece in atom.pieces}
    for budget in range(cheapest[target], len(pieces) + 1):
        extend((), 0, target, budget, frozenset())
        if found:
            break
    return tuple(found)


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
