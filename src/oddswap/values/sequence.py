"""The moves that a puzzle knows, and sequences of them as trees: steps, repeated groups, commutators and conjugates.

`str` writes a sequence in the notation of `oddswap.values.notation`; `repr` can be pasted back.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from oddswap.errors import BadOption, quoted

FACES = ("U", "D", "F", "B", "L", "R")
OPPOSITE = {"U": "D", "D": "U", "F": "B", "B": "F", "L": "R", "R": "L"}
ROTATIONS = {"x": "R", "y": "U", "z": "F"}
MIDDLES = {"M": "L", "E": "D", "S": "F"}


@dataclass(frozen=True)
class Alphabet:
    """The moves that a puzzle's notation knows.

    `order` is the number of turns to the circle, for all or by face and name; `layers` the number of slabs on
    each face's axis, 1 where it is not given; `names` are plain named moves. With `rotations` any face may
    come to lie on any axis, so a slab number is good if some axis has it; only the holding can tell more.
    """

    faces: tuple[str, ...] = ()
    order: int | Mapping[str, int] = 4
    layers: Mapping[str, int] = field(default_factory=dict)
    rotations: bool = False
    middles: bool = False
    names: tuple[str, ...] = ()

    def __post_init__(self):
        whole = ROTATIONS if self.rotations else ()
        middles = MIDDLES if self.middles else ()
        every = [*self.faces, *self.names, *whole, *middles]
        for stem in every:
            if not re.fullmatch(r"[^\W\d]\w*", stem):
                raise BadOption(f"{quoted(stem)} cannot name a move: write a letter, then letters or digits")
            if sum(re.fullmatch(rf"{stem}w?\d*", other) is not None for other in every) > 1:
                raise BadOption(f"{quoted(stem)} could be read in two ways: give the moves other names")

    def __hash__(self) -> int:
        return hash((self.faces, self.names, self.rotations, self.middles))

    @cached_property
    def stems(self) -> tuple[str, ...]:
        """Everything that a move can start with, the longest first."""
        odd = {face for face in MIDDLES.values() if any(n % 2 and n > 1 for n in self.possible_slabs(face))}
        middles = [middle for middle, face in MIDDLES.items() if self.middles and face in odd]
        stems = [*self.faces, *self.names, *(ROTATIONS if self.rotations else ()), *middles]
        return tuple(sorted(stems, key=len, reverse=True))

    @property
    def is_box(self) -> bool:
        """Whether the faces are the six of a cube or cuboid."""
        return set(self.faces) == set(FACES)

    def turns_to_the_circle(self, stem: str) -> int:
        if stem in ROTATIONS and self.rotations or stem in MIDDLES and self.middles:
            return 4
        return self.order if isinstance(self.order, int) else self.order[stem]

    def slabs(self, face: str) -> int:
        """How many slabs the axis of a face can have, over all holdings."""
        return max(self.possible_slabs(face))

    def possible_slabs(self, face: str) -> set[int]:
        return set(self.layers.values()) or {1} if self.rotations else {self.layers.get(face, 1)}


def cube_alphabet(nx: int, ny: int, nz: int) -> Alphabet:
    """The notation of a box with nx slabs from L to R, ny from D to U and nz from B to F."""
    layers = {"U": ny, "D": ny, "F": nz, "B": nz, "L": nx, "R": nx}
    return Alphabet(FACES, 4, layers, rotations=True, middles=True)


FOLLOWED = 10_000
"""So many moves of a sequence that somebody wrote are followed."""


@dataclass(frozen=True, repr=False)
class Step:
    """One turn. `stem` names a face, a rotation (x y z), a middle slab (M E S) or another puzzle's move.

    The slabs `first` to `last` turn, counted from the face, 1 being the outer one; both are 0 where nothing
    is counted. `amount` turns clockwise as seen from outside, of which `order` make a full circle; it is kept
    between -order/2 (excluded) and order/2, so that a half turn has one value whichever way it goes.

    >>> str(Step("R", 1, 3, -1)), str(Step("R", 2, 2, 2)), Step("R", 1, 1, -2) == Step("R", 1, 1, 2)
    ("3Rw'", '2R2', True)
    """

    stem: str
    first: int
    last: int
    amount: int
    order: int = 4

    def __post_init__(self):
        first, last = self.first, self.last
        if not (0 <= first == last or 1 == first <= last):
            raise BadOption(f"slabs {first} to {last} are no single turn: start at 1 or take one slab")
        amount = self.amount % self.order
        if amount == 0:
            raise BadOption(f"{self.amount} turns of {self.stem} are no turn: give 1 to {self.order - 1}")
        object.__setattr__(self, "amount", amount if 2 * amount <= self.order else amount - self.order)

    @property
    def name(self) -> str:
        """What turns, without the amount."""
        if self.first > 1:
            return f"{self.first}{self.stem}"
        if self.last > 1:
            return f"{self.last if self.last > 2 else ''}{self.stem}w"
        return self.stem

    @property
    def key(self) -> str:
        """What one types for it on a keyboard: the letter comes last, as it turns when let go."""
        return f"{self.name.removesuffix(self.stem + 'w')}w{self.stem}" if self.first < self.last else self.name

    def turned(self, amount: int) -> Step:
        """The same slabs turned by another amount."""
        return type(self)(self.stem, self.first, self.last, amount, self.order)

    def inverse(self) -> Step:
        return self.turned(-self.amount)

    def __str__(self) -> str:
        return self.name + _suffix(self.amount)

    def __repr__(self) -> str:
        order = "" if self.order == 4 else f", {self.order}"
        return f"Step({self.stem!r}, {self.first}, {self.last}, {self.amount}{order})"


def _suffix(count: int) -> str:
    return ("" if abs(count) == 1 else str(abs(count))) + ("'" if count < 0 else "")


@dataclass(frozen=True)
class Sequence:
    """Moves one after the other; `len` counts the steps when everything is written out."""

    items: tuple[Step | Bracket, ...] = ()

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """Everything written out, with nothing cancelled."""
        return tuple(_written_out(self.items))

    def inverse(self) -> Sequence:
        return Sequence(tuple(item.inverse() for item in reversed(self.items)))

    def times(self, count: int) -> Sequence:
        """The sequence `count` times; a negative count undoes it."""
        if count == 0 or not self.items:
            return Sequence()
        return self if count == 1 else Sequence((Repetition(self, count),))

    def __add__(self, other: Sequence) -> Sequence:
        return Sequence(self.items + other.items) if isinstance(other, Sequence) else NotImplemented

    def __iter__(self) -> Iterator[Step]:
        return iter(self.steps)

    @cached_property
    def _length(self) -> int:
        return sum(len(item) if isinstance(item, Bracket) else 1 for item in self.items)

    def __len__(self) -> int:
        return self._length

    def __str__(self) -> str:
        return " ".join(map(str, self.items))


def as_text(moves: str | Iterable[str]) -> str:
    """Return moves as one text, from a text or from a list of them; `BadOption` for anything else.

    >>> as_text(["R", "U2"])
    'R U2'
    """
    words = [moves] if isinstance(moves, str) else list(moves) if isinstance(moves, Iterable) else [moves]
    if not all(isinstance(word, str) for word in words):
        raise BadOption(f"moves are a text such as R U2, or a list of such texts, not {quoted(moves)}")
    return " ".join(words)


def bounded(sequence: Sequence, most: int = FOLLOWED) -> Sequence:
    """Return the sequence itself. `BadOption` where it comes to more than ``most`` moves, however short it is written."""
    if len(sequence) > most:
        raise BadOption(f"the sequence comes to {len(sequence)} moves: write at most {most}")
    return sequence


def _written_out(items: Iterable[Step | Bracket]) -> Iterator[Step]:
    for item in items:
        if isinstance(item, Step):
            yield item
        else:
            for _ in range(abs(item.times)):
                yield from item.once.steps if item.times > 0 else item.once.inverse().steps


class Bracket:
    """What groups, commutators and conjugates share: their parts, and how many `times` they are done."""

    parts: tuple[Sequence, ...]
    once: Sequence
    times: int

    def __post_init__(self):
        if self.times == 0 or not all(part.items for part in self.parts):
            raise BadOption("a bracket holds at least one move on each side and is done at least once")

    def __len__(self) -> int:
        return abs(self.times) * len(self.once)


@dataclass(frozen=True)
class Repetition(Bracket):
    """``(A)``, ``(A)3`` and ``(A)'``."""

    body: Sequence
    times: int = 1

    @property
    def parts(self) -> tuple[Sequence, ...]:
        return (self.body,)

    @property
    def once(self) -> Sequence:
        return self.body

    def inverse(self) -> Repetition:
        return Repetition(self.body, -self.times)

    def __str__(self) -> str:
        return f"({self.body}){_suffix(self.times)}"


@dataclass(frozen=True)
class Pair(Bracket):
    """What stands in square brackets: A and B."""

    a: Sequence
    b: Sequence
    times: int = 1

    @property
    def parts(self) -> tuple[Sequence, ...]:
        return (self.a, self.b)


@dataclass(frozen=True)
class Commutator(Pair):
    """``[A, B]``: A B A' B'."""

    @cached_property
    def once(self) -> Sequence:
        return self.a + self.b + self.a.inverse() + self.b.inverse()

    def inverse(self) -> Commutator:
        return Commutator(self.b, self.a, self.times)

    def __str__(self) -> str:
        return f"[{self.a}, {self.b}]{_suffix(self.times)}"


@dataclass(frozen=True)
class Conjugate(Pair):
    """``[A: B]``: A B A'."""

    @cached_property
    def once(self) -> Sequence:
        return self.a + self.b + self.a.inverse()

    def inverse(self) -> Conjugate:
        return Conjugate(self.a, self.b.inverse(), self.times)

    def __str__(self) -> str:
        return f"[{self.a}: {self.b}]{_suffix(self.times)}"
