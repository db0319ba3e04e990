"""Which moves a puzzle's notation knows."""

import re
from collections.abc import Mapping
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
        middles = [m for m, face in MIDDLES.items() if self.middles and self.odd_slabs(face)]
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

    def odd_slabs(self, face: str) -> bool:
        """Whether some holding has a middle slab on the axis of this face."""
        return any(n % 2 and n > 1 for n in self.possible_slabs(face))

    def possible_slabs(self, face: str) -> set[int]:
        return set(self.layers.values()) or {1} if self.rotations else {self.layers.get(face, 1)}


def cube_alphabet(nx: int, ny: int, nz: int) -> Alphabet:
    """The notation of a box with nx slabs from L to R, ny from D to U and nz from B to F."""
    layers = {"U": ny, "D": ny, "F": nz, "B": nz, "L": nx, "R": nx}
    return Alphabet(FACES, 4, layers, rotations=True, middles=True)
