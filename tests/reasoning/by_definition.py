"""Verdicts on small puzzles by their definition alone: every assembly is listed, every turn is walked, and looks are compared.

Nothing here knows of laws, chains, relabellings or sectors. A state has for each slot a piece and how far it is twisted.

A sight is *ordinary* when the turns lead to an explanation of it that differs from a first-sight one on free pieces only;
else a *lookalike* when they lead to any explanation; else *not by turning*.
"""

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import permutations, product

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.position import Arrangement

State = tuple[tuple[int, int], ...]
Looks = tuple[int, ...]


@dataclass(frozen=True, eq=False)
class ByDefinition:
    """A puzzle on which nothing depends on a blank or on how it is held, small enough to list all its assemblies."""

    puzzle: Puzzle

    @cached_property
    def solved(self) -> State:
        return tuple((slot, 0) for slot in range(len(self.puzzle.slots)))

    @cached_property
    def moves(self) -> list[list[tuple[int, int]]]:
        """For each turn and slot where its piece goes, and how much further it is twisted then."""
        found = []
        for turn in self.puzzle.turns.values():
            rows = []
            for slot, kind in enumerate(self.puzzle.kind_of):
                target, twist = divmod(int(turn.permutation[self.puzzle.base_label[slot]]) - kind.first, kind.twist)
                rows.append((kind.start + target, twist))
            found.append(rows)
        return found

    def turned(self, state: State, move: list[tuple[int, int]]) -> State:
        after = list(state)
        for (piece, twist), (target, more), kind in zip(state, move, self.puzzle.kind_of, strict=True):
            after[target] = piece, (twist + more) % kind.twist
        return tuple(after)

    @cached_property
    def reached(self) -> set[State]:
        """Where the turns lead."""
        found, edge = {self.solved}, {self.solved}
        while edge:
            edge = {self.turned(state, move) for state in edge for move in self.moves} - found
            found |= edge
        return found

    def looks(self, state: State) -> Looks:
        return tuple(int(self.puzzle.looks[self.puzzle.base_label[piece] + twist]) for piece, twist in state)

    @cached_property
    def explanations(self) -> dict[Looks, list[State]]:
        """Every look with every assembly that has it."""
        found: dict[Looks, list[State]] = {}
        for parts in product(*(self._assemblies(kind) for kind in self.puzzle.kinds)):
            state = tuple(piece for part in parts for piece in part)
            found.setdefault(self.looks(state), []).append(state)
        return found

    @staticmethod
    def _assemblies(kind) -> list[State]:
        ways = list(product(range(kind.twist), repeat=len(kind.slots)))
        return [tuple(zip(order, twists, strict=True)) for order in permutations(kind.places) for twists in ways]

    def wrong(self, looks: Looks) -> frozenset[int]:
        """The slots that do not look as when solved."""
        return frozenset(slot for slot, pair in enumerate(zip(looks, self.looks(self.solved), strict=True)) if len(set(pair)) > 1)

    def first_sights(self, looks: Looks) -> list[State]:
        """The explanations that displace the fewest pieces."""
        away = {state: sum(a != b for a, b in zip(state, self.solved, strict=True)) for state in self.explanations[looks]}
        return [state for state, count in away.items() if count == min(away.values())]

    def free(self, wrong: frozenset[int]) -> frozenset[int]:
        """The pieces that look wrong; that a turn touching these turns unseen in their slots; that look as before after a turn
        of which at least three, and at least half, of the slots in which it shows look wrong."""
        found = set(wrong)
        for move in self.moves:
            after = self.turned(self.solved, move)
            touched = {slot for slot, (target, twist) in enumerate(move) if (target, twist) != (slot, 0)}
            showing = self.wrong(self.looks(after))
            if touched & wrong:
                found |= {slot for slot in touched - showing if after[slot][0] == slot}
            if len(showing & wrong) >= 3 and 2 * len(showing & wrong) >= len(showing):
                found |= touched - showing
        return frozenset(found)

    def like(self, first: State, free: frozenset[int]) -> list[State]:
        """The explanations that differ from this one on free pieces only."""
        return [
            state
            for state in self.explanations[self.looks(first)]
            if all(a == b or free.issuperset((a[0], b[0])) for a, b in zip(first, state, strict=True))
        ]

    def is_ordinary(self, looks: Looks) -> bool:
        free = self.free(self.wrong(looks))
        return any(state in self.reached for first in self.first_sights(looks) for state in self.like(first, free))

    def verdict(self, looks: Looks) -> str:
        if self.is_ordinary(looks):
            return "ordinary"
        return "lookalike" if any(state in self.reached for state in self.explanations[looks]) else "not by turning"

    def surprise(self, looks: Looks, laws: list) -> Fraction:
        """Of the reachable looks that are solved where this one is, the share that break these laws alike at first sight.

        A law is asked for its value at every first-sight explanation; these must agree.
        """
        wrong, alike, every = self.wrong(looks), 0, 0
        own = self._values(looks, laws)
        for other, states in self.explanations.items():
            if self.wrong(other) <= wrong and not self.reached.isdisjoint(states):
                every += 1
                alike += self._values(other, laws) == own
        return Fraction(alike, every)

    def _values(self, looks: Looks, laws: list) -> tuple:
        """The laws' values at what free pieces make of a first sight, and where turns can take every piece, if that is so."""
        free = self.free(self.wrong(looks))
        states = [state for first in self.first_sights(looks) for state in self.like(first, free)]
        inside = [state for state in states if self._orbits.issuperset((*pair, slot) for slot, pair in enumerate(state))]
        if not inside:
            return tuple(law.type == "orbit" for law in laws)
        found = set()
        for state in inside:
            pieces, twists = zip(*state, strict=True)
            permutation = self.puzzle.permutation(Arrangement(self.puzzle.name, pieces, twists))
            found.add(tuple(law.value(permutation) for law in laws))
        (values,) = found
        return values

    @cached_property
    def _orbits(self) -> set[tuple[int, int, int]]:
        """Every ``(piece, twist, slot)`` that some turns lead to."""
        return {(*pair, slot) for state in self.reached for slot, pair in enumerate(state)}
