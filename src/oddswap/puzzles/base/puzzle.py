"""A permutation puzzle as the reasoning sees it: kinds of pieces, labels, turns, and what looks alike.

A *label* is an invisible name for one (slot, twist). Labels of kind k with twist order m are numbered
``k.first + m * i + t`` for its i-th slot and twist t. A turn permutes labels and acts on the right: label j goes to
``turn.permutation[j]``; *first this, then that* is ``second[first]``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from itertools import permutations, product
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from oddswap.errors import UnknownMove, UnknownSlot, quoted
from oddswap.forwards import fetched, forwarded
from oddswap.puzzles.base.puzzle_names import nearest, refuse_other
from oddswap.values.position import START, Appearance, Arrangement, Holding, settle
from oddswap.values.sequence import OPPOSITE, ROTATIONS, Alphabet, Sequence, Step, as_text

if TYPE_CHECKING:
    from oddswap.puzzles.base.mechanism import Geometry
    from oddswap.puzzles.base.space import FlatLayout

parse = fetched("values.notation:parse")


@dataclass(frozen=True)
class Kind:
    """An orbit of slots under the widest set of turns: ``twist`` ways round each, labels from ``first`` on.

    ``start`` is the number of its first slot among all slots of the puzzle. ``family`` is the word for its sort of
    piece (corners, edges, centres …); several kinds may share one.
    """

    name: str
    family: str
    slots: tuple[str, ...]
    twist: int
    first: int
    start: int

    @property
    def labels(self) -> range:
        return range(self.first, self.first + len(self.slots) * self.twist)

    @property
    def places(self) -> range:
        """The numbers of its slots among all slots of the puzzle."""
        return range(self.start, self.start + len(self.slots))


@dataclass(frozen=True, eq=False)
class Turn:
    """One elementary turn: of one slab, or one whole-puzzle rotation. ``angle`` in radians, clockwise from outside."""

    name: str
    step: Step
    permutation: np.ndarray
    axis: tuple[float, float, float] = (0.0, 0.0, 0.0)
    angle: float = 0.0
    slots: frozenset[int] = frozenset()
    whole: bool = False


@forwarded
@dataclass(frozen=True, eq=False)
class Puzzle:
    """Everything that reasoning needs of a puzzle; for pictures there is ``geometry``, or ``flat`` without a solid.

    ``looks[j]`` numbers, within its kind, how a piece of home slot i with twist t looks (label j = (i, t)); equal numbers
    cannot be told apart. ``turns`` are what this copy makes, ``chosen`` whether some of the widest set were left out;
    ``rotations`` are the whole-puzzle rotations where nothing fixes the holding, else empty. ``nearly`` are pairs of labels whose
    looks only measuring tells apart.

    >>> import oddswap
    >>> oddswap.load("cube:3").diagnose("flip UF").verdict
    'not by turning'
    """

    name: str
    title: str
    kinds: tuple[Kind, ...]
    turns: Mapping[str, Turn]
    alphabet: Alphabet
    looks: np.ndarray
    rotations: Mapping[str, Turn] = field(default_factory=lambda: MappingProxyType({}))
    geometry: Geometry | None = None
    flat: FlatLayout | None = None
    nearly: tuple[tuple[int, int], ...] = ()
    chosen: bool = False

    blank = None
    """The home slot of the blank, where a move depends on it (see `graphs`)."""
    void = frozenset()
    """The home slots of what is no piece: of a blank, or of air."""
    bound = frozenset()
    """The home slots of pieces that the shape places: they are at home when it is, so no law speaks of them."""
    joints = ()
    """The home slots of pieces that are joined to one block, for each (see `shaped.joined`)."""
    inner = frozenset()
    """The home slots of pieces that nobody can see at home."""
    leaves_outline = False
    """Whether it is a box of which some turns may leave the outline."""
    steady = True
    """Whether every turn can be made from everywhere, so that a sequence always does the same (see `shapes`)."""
    shape_first = False
    """Whether its shape has to be seen before its laws can be asked; a blank's place need not."""

    def homed(self, permutation: np.ndarray) -> np.ndarray | None:
        """The label permutation after the shape, where there is one, was taken home."""
        return permutation

    def __repr__(self) -> str:
        return f"load({self.name!r})"

    def __str__(self) -> str:
        return self.title

    @cached_property
    def slots(self) -> tuple[str, ...]:
        return tuple(slot for kind in self.kinds for slot in kind.slots)

    @property
    def fixed(self) -> frozenset[int]:
        """The home slots of what no hand puts in alone: of what is no piece, and of pieces that the shape places."""
        return self.void | self.bound

    @cached_property
    def degree(self) -> int:
        """How many labels there are."""
        return sum(len(kind.labels) for kind in self.kinds)

    @cached_property
    def kind_of(self) -> tuple[Kind, ...]:
        """The kind of each slot."""
        return tuple(kind for kind in self.kinds for _ in kind.slots)

    @cached_property
    def base_label(self) -> np.ndarray:
        """The label (slot, twist 0) of each slot."""
        return np.array([kind.first + kind.twist * i for kind in self.kinds for i in range(len(kind.slots))])

    def slots_of(self, labels: np.ndarray) -> np.ndarray:
        """The slot that each label belongs to, in whatever shape."""
        return np.searchsorted(self.base_label, labels, side="right") - 1

    @cached_property
    def solved(self) -> Arrangement:
        n = len(self.slots)
        return Arrangement(self.name, tuple(range(n)), (0,) * n)

    @cached_property
    def _aliases(self) -> dict[str, int]:
        return {slot: number for number, slot in enumerate(self.slots)}

    def slot(self, name: str) -> int:
        """The number of a slot, by its canonical name or with its faces named in another order."""
        clean = str(name).strip()
        for spelled in self._spellings(clean):
            if spelled in self._aliases:
                return self._aliases[spelled]
        known = (other for other in self._otherwise(clean) if other in self._aliases)
        beyond = (slot for slot in self.slots if clean and slot.startswith(f"{clean.upper()}."))
        near = next(known, "") or next(beyond, "") or nearest(clean, self.slots)
        right = f": write {near}" if near else ""
        some = ", ".join(self.slots[:3])
        raise UnknownSlot(f"{self.name} has no slot called {quoted(name)}{right}; its slots are called {some} and so on")

    def _spellings(self, name: str) -> tuple[str, ...]:
        """What a slot's name may be meant for."""
        return name, _spelled(name)

    def _otherwise(self, name: str) -> Iterator[str]:
        """The name in the puzzle's own case, each of its layers counted from either side, in any order."""
        faces, dot, layers = name.partition(".")
        counted = [
            (f"{side}{n}", f"{OPPOSITE[side.upper()].lower()}{self.alphabet.layers.get(side.upper(), 1) + 1 - int(n)}")
            for side, n in re.findall(r"([udfblr])(\d{1,3})", layers.lower())[:3]
        ]
        for ways in product(*counted):
            for order in permutations(ways):
                yield _spelled(f"{faces.upper()}{dot}{''.join(order)}")

    def permutation(self, arrangement: Arrangement) -> np.ndarray:
        """The label permutation of an arrangement: home label to the label where it now is. Shape (degree,)."""
        if len(arrangement.pieces) != len(self.slots):
            refuse_other(self.name, len(self.slots), "arrangement", arrangement.puzzle, len(arrangement.pieces))
        image = np.empty(self.degree, dtype=np.intp)
        for b, (p, t) in enumerate(zip(arrangement.pieces, arrangement.twists, strict=True)):
            kind = self.kind_of[b]
            way = np.arange(kind.twist)
            image[self.base_label[p] + way] = self.base_label[b] + (way + t) % kind.twist
        return image

    def arrangement(self, permutation: np.ndarray) -> Arrangement:
        """The arrangement of a label permutation."""
        pieces, twists = [0] * len(self.slots), [0] * len(self.slots)
        for p, kind in enumerate(self.kind_of):
            where = int(permutation[self.base_label[p]]) - kind.first
            b = kind.start + where // kind.twist
            pieces[b], twists[b] = p, where % kind.twist
        return Arrangement(self.name, tuple(pieces), tuple(twists))

    def read(self, moves: str | Iterable[str] | Sequence) -> Sequence:
        """Moves as a `Sequence`, read with this puzzle's own letters: a text, or a list of moves."""
        return moves if isinstance(moves, Sequence) else parse(as_text(moves), self.alphabet)

    def settled(self, moves: str | Sequence, start: Arrangement | None = None) -> tuple[tuple[Turn, ...], Holding]:
        """The elementary turns that a sequence makes, seen from the core, and how the puzzle is held afterwards.

        They are the same from every ``start``, except where a blank decides what a move is.
        Where nothing fixes the holding, the whole-puzzle rotations that lead to the new holding are the last turns.
        """
        turns, holding = [], START
        for said in self.read(moves).steps:
            steps = (said,)
            if self.alphabet.rotations:
                steps, holding = settle(steps, self.alphabet.layers, start=holding)
            try:
                turns += [turn for step in steps for turn in self._elementary(step)]
            except UnknownMove as error:
                held = "" if str(said) in map(str, steps) else f"{said}, as it is held then: "
                raise UnknownMove(f"{held}{error}") from None
        if self.rotations:
            turns += [self.rotations[name] for name in rotations_to(holding, tuple(self.rotations))]
        return tuple(turns), holding

    def _elementary(self, step: Step) -> list[Turn]:
        """One turn for each slab of a step, each slab counted from the nearer face."""
        layers = self.alphabet.layers.get(step.stem, 1)
        parts = []
        for depth in range(step.first, step.last + 1):
            part = Step(step.stem, depth, depth, step.amount, step.order)
            if 2 * depth > layers and layers > 1:
                part = Step(OPPOSITE[step.stem], layers + 1 - depth, layers + 1 - depth, -step.amount, step.order)
            parts.append(self._named(part))
        return parts

    def _named(self, step: Step) -> Turn:
        name = str(step)
        if name not in self.turns:
            raise UnknownMove(f"{self.name} does not make the turn {name}; it makes {' '.join([*self.turns][:6])} and so on")
        return self.turns[name]

    def follow(self, moves: str | Sequence, start: Arrangement | None = None) -> Arrangement:
        """The arrangement after ``moves``, from ``start`` (solved when left out)."""
        return self.arrangement(carried(self.permutation(start or self.solved), self.settled(moves, start)[0]))

    def spelled(self, moves: str | Sequence, start: Arrangement | None = None) -> str:
        """The same moves as people read them."""
        return str(self.read(moves))

    def undone(self, moves: str | Sequence, start: Arrangement | None = None) -> str:
        """The moves that lead back to ``start``."""
        return str(self.read(moves).inverse())

    def appearance(self, arrangement: Arrangement) -> Appearance:
        """What an arrangement looks like. `OtherPuzzle` for one of another puzzle."""
        if len(arrangement.pieces) != len(self.slots):
            refuse_other(self.name, len(self.slots), "arrangement", arrangement.puzzle, len(arrangement.pieces))
        looks = (int(self.looks[self.base_label[p] + t]) for p, t in zip(arrangement.pieces, arrangement.twists, strict=True))
        return Appearance(self.name, tuple(frozenset((look,)) for look in looks))


def carried(labels: np.ndarray, turns: Iterable[Turn]) -> np.ndarray:
    """Where turns take labels, one turn after the other."""
    for turn in turns:
        labels = turn.permutation[labels]
    return labels


def _spelled(name: str) -> str:
    """A slot's name with its faces in the order of slots."""
    faces, dot, rest = name.partition(".")
    return "".join(sorted(faces, key=lambda c: ("UDFBLR".find(c), c))) + dot + rest


@lru_cache(maxsize=256)
def rotations_to(holding: Holding, names: tuple[str, ...]) -> tuple[str, ...]:
    """The fewest whole-puzzle rotations, of those named, that lead from the start to a holding.

    None at all for a holding in which the outline is another: then the puzzle is only looked at from there.
    """
    reached: dict[Holding, tuple[str, ...]] = {START: ()}
    queue = [START]
    for current in queue:
        for name in names:
            if name[0] in ROTATIONS:
                amount = {"": 1, "2": 2, "'": -1}[name[1:]]
                following = current.turned(name[0], amount)
                if following not in reached:
                    reached[following] = (*reached[current], name)
                    queue.append(following)
    return reached.get(holding, ())
