"""Assemblies by hand of the 3×3×3 mechanism and the cube of two, judged by the formulas of the books alone.

The books: sgn(corners) = sgn(edges), Σ twist ≡ 0 (mod 3), Σ flip ≡ 0 (mod 2) (Bandelow 1982; Joyner 2008, Theorem 11.2.1;
second-hand, computed), and with the centres' turns Σ quarter turns ≡ sgn(corners) (mod 2) (OEIS A080661, read, computed).
Lookalikes are those of `reference/shapes.json`. Nothing here uses the package's laws, looks or lookalikes.
"""

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations, product

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.position import Arrangement
from tests.common.published import published

Quantities = tuple[int, int, int, int, int]
"""Sign of the corners and of the edges (0 even), sums of twists mod 3, flips mod 2, quarter turns of centres mod 2."""
MODULI = (2, 2, 3, 2, 2)


@dataclass(frozen=True)
class Sight:
    """A first-sight explanation, the pieces that it displaces, and with them the ``free`` ones.

    Common practice: when something in a layer is out of line, nobody minds a plain centre that has turned with it; and when
    most of a layer is, nobody minds twins in it.
    """

    first: Arrangement
    displaced: frozenset[int]
    free: frozenset[int]


@dataclass(frozen=True)
class Judge:
    """A puzzle with the pieces that have hidden turns (slot number: how many ways round look alike) and sets of twins.

    Twins of these puzzles look alike with the first-named face of their slot showing the same.
    """

    puzzle: Puzzle
    hidden: dict[int, int]
    twins: tuple[tuple[int, ...], ...]

    @staticmethod
    def of(puzzle: Puzzle) -> "Judge":
        (entry,) = (e for e in published("shapes") if e["puzzle"] == puzzle.name)
        return Judge(
            puzzle,
            {puzzle.slot(slot): ways for slot, ways in entry["hidden"].items()},
            tuple(tuple(map(puzzle.slot, twins)) for twins in entry["twins"]),
        )

    @cached_property
    def _twins_of(self) -> dict[int, tuple[int, ...]]:
        return {p: twins for twins in self.twins for p in twins}

    def __hash__(self) -> int:
        return hash(self.puzzle)

    def quantities(self, state: Arrangement) -> Quantities:
        odd, sums = {"corners": 0, "edges": 0, "centres": 0}, {"corners": 0, "edges": 0, "centres": 0}
        for start, kind in enumerate(self.puzzle.kind_of):
            sums[kind.family] += state.twists[start]
            at, length = state.pieces[start], 1
            while at != start and at > start:
                at, length = state.pieces[at], length + 1
            if at == start:
                odd[kind.family] += length - 1
        return odd["corners"] % 2, odd["edges"] % 2, sums["corners"] % 3, sums["edges"] % 2, sums["centres"] % 2

    def kept(self, q: Quantities) -> bool:
        """Whether turns alone lead there, labels and all."""
        if self.puzzle.name == "cube:2":
            return q[2] == 0
        return q[0] == q[1] and q[2:4] == (0, 0) and q[4] == q[0]

    def unseen(self, pieces: frozenset[int]) -> set[Quantities]:
        """What relabellings of these pieces can add to the quantities: every sum, element by element."""
        family = [kind.family for kind in self.puzzle.kind_of]
        steps = []
        for p in pieces & self.hidden.keys():
            if family[p] == "edges":
                steps.append((0, 0, 0, 1, 0))
            if family[p] == "centres" and self.hidden[p] == 4:
                steps.append((0, 0, 0, 0, 1))
        for twins in self.twins:
            if len(pieces.intersection(twins)) > 1:
                steps.append((1, 0, 0, 0, 0) if family[twins[0]] == "corners" else (0, 1, 0, 0, 0))
        found = {(0, 0, 0, 0, 0)}
        for step in set(steps):
            found |= {added(q, step) for q in found}
        return found

    def reachable(self, state: Arrangement) -> bool:
        """Whether turns lead to something that looks like this: whether the assembly is in K G."""
        q = self.quantities(state)
        return any(self.kept(added(q, k)) for k in self.unseen(frozenset(range(len(state.pieces)))))

    def looks_home(self, state: Arrangement) -> list[bool]:
        """For each slot whether it looks as it does when solved."""
        return [
            p in self._twins_of.get(b, (b,)) and t % (self.puzzle.kind_of[b].twist // self.hidden.get(b, 1)) == 0
            for b, (p, t) in enumerate(zip(state.pieces, state.twists, strict=True))
        ]

    @cached_property
    def _turned(self) -> list[tuple[frozenset[int], frozenset[int]]]:
        """For each turn the slots of its layer that look otherwise after it, and those that do not."""
        found = []
        for name, turn in self.puzzle.turns.items():
            home = self.looks_home(self.puzzle.arrangement(turn.permutation))
            layer = [b for b, slot in enumerate(self.puzzle.slots) if name[0] in slot]
            found.append((frozenset(b for b in layer if not home[b]), frozenset(b for b in layer if home[b])))
        return found

    def first_sight(self, state: Arrangement) -> Sight:
        """What an assembly is taken for."""
        pieces, twists = list(state.pieces), list(state.twists)
        for b, home in enumerate(self.looks_home(state)):
            if home:
                other = pieces.index(b)
                pieces[b], pieces[other], twists[b] = b, pieces[b], 0
        first = replace(state, pieces=tuple(pieces), twists=tuple(twists))
        slots, out = self.puzzle.slots, first.displaced()
        displaced = frozenset(first.pieces[b] for b in out)
        free = displaced | {b for b in self.hidden if len(slots[b]) == 1 and any(slots[b] in slots[d] for d in out)}
        for showing, quiet in self._turned:
            if len(showing & out) >= max(3, len(showing) / 2):
                free |= quiet
        return Sight(first, displaced, free)

    def verdict(self, state: Arrangement) -> str:
        sight = self.first_sight(state)
        q = self.quantities(sight.first)
        if any(self.kept(added(q, k)) for k in self.unseen(sight.free)):
            return "ordinary"
        return "lookalike" if self.reachable(state) else "not by turning"

    def small_relabellings(self, pieces: frozenset[int], most: int) -> list[dict[int, tuple[int, int]]]:
        """All relabellings that move at most ``most`` (1 or 2) of these pieces: ``{p: (q, e)}`` calls p by the name of q."""
        ways = {p: range(0, self.puzzle.kind_of[p].twist, self.puzzle.kind_of[p].twist // n) for p, n in self.hidden.items()}
        single = [{p: (p, e)} for p in sorted(pieces) for e in ways.get(p, ()) if e]
        found = [{}, *single]
        if most == 2:
            found += [a | b for a, b in combinations(single, 2) if not a.keys() & b.keys()]
            for p, q in (pair for twins in self.twins for pair in combinations(sorted(pieces.intersection(twins)), 2)):
                found += [{p: (q, e), q: (p, f)} for e, f in product(ways.get(p, (0,)), ways.get(q, (0,)))]
        return found

    def first_sights(self, sight: Sight, pieces: frozenset[int], most: int) -> set[Arrangement] | None:
        """What relabellings of these pieces make of a first-sight explanation; ``None`` if too many.

        Of the centres only one is turned: to turn one by a half, or two by opposite quarters, makes nothing reachable or
        unreachable (OEIS A080661, read, computed).
        """
        centres = sorted(p for p in pieces if self.hidden.get(p) == 4)
        steps = self.small_relabellings(pieces - set(centres[1:]), 2)
        steps = [images for images in steps if len(images) == 1 or _exchanges(images)]
        found, queue = {sight.first}, [sight.first]
        for current in queue:
            new = {relabelled(self.puzzle, current, images) for images in steps} - found
            found |= new
            queue += new
            if len(found) > most:
                return None
        return found


def _exchanges(images: dict[int, tuple[int, int]]) -> bool:
    return any(p != q for p, (q, _) in images.items())


def added(one: Quantities, other: Quantities) -> Quantities:
    return tuple((a + b) % m for a, b, m in zip(one, other, MODULI, strict=True))


def relabelled(puzzle: Puzzle, state: Arrangement, images: dict[int, tuple[int, int]]) -> Arrangement:
    """The same pieces in the same places under other names."""
    new = [images.get(p, (p, 0)) for p in state.pieces]
    twists = ((t + e) % kind.twist for t, (_, e), kind in zip(state.twists, new, puzzle.kind_of, strict=True))
    return replace(state, pieces=tuple(q for q, _ in new), twists=tuple(twists))


def anyhow(puzzle: Puzzle, rng: np.random.Generator) -> Arrangement:
    """Every piece put in at random."""
    pieces = [int(p) for kind in puzzle.kinds for p in rng.permutation(list(kind.places))]
    return Arrangement(puzzle.name, tuple(pieces), tuple(int(rng.integers(kind.twist)) for kind in puzzle.kind_of))


def tampered(puzzle: Puzzle, rng: np.random.Generator, moves: int, changes: int) -> Arrangement:
    """A few pieces turned or exchanged by hand after random turns."""
    state = puzzle.follow(" ".join(rng.choice(list("UDFBLR"), size=moves)))
    pieces, twists = list(state.pieces), list(state.twists)
    for _ in range(changes):
        a = int(rng.integers(len(pieces)))
        b = int(rng.choice(list(puzzle.kind_of[a].places)))
        pieces[a], pieces[b] = pieces[b], pieces[a]
        twists[a], twists[b] = twists[b], twists[a]
        if rng.random() < 0.5 or a == b:
            twists[a] = int(rng.integers(puzzle.kind_of[a].twist))
    return replace(state, pieces=tuple(pieces), twists=tuple(twists))
