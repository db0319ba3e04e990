"""How a puzzle stands: arrangements, which are labelled, appearances, which are only seen, and how it is held.

An arrangement says which piece sits in which slot, which way round. An appearance is what can be seen, and nothing else: it has
no labels, and is another type. Both are immutable and hashable.

On an axis with an odd number of slabs the core sits in the middle one. To turn a block with that slab is, for
the core, to turn the rest the other way and then to hold the whole puzzle differently. So ``Rw`` on three
slabs is ``L`` and then the holding turned by ``x``; ``M`` is ``R L'`` and then ``x'``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from oddswap.errors import UnknownMove
from oddswap.forwards import forwarded
from oddswap.values.sequence import FACES, MIDDLES, OPPOSITE, ROTATIONS, Step


@forwarded
@dataclass(frozen=True, slots=True)
class Arrangement:
    """``pieces[b]`` is the home slot of the piece that sits in slot b (a number), ``twists[b]`` its twist there.

    A twist counts from the reference that the puzzle gives each slot: 0 when the first-named face of the piece's home
    shows on the first-named face of its slot, and +1 for each clockwise step, seen from outside.

    >>> Arrangement("ring of three", (1, 0, 2), (0, 0, 0))
    Arrangement(puzzle='ring of three', pieces=(1, 0, 2), twists=(0, 0, 0))
    """

    puzzle: str
    pieces: tuple[int, ...]
    twists: tuple[int, ...]

    def __post_init__(self) -> None:
        if sorted(self.pieces) != list(range(len(self.twists))):
            raise ValueError("pieces must name every slot exactly once, with one twist for each slot")

    def displaced(self) -> frozenset[int]:
        """The slots whose piece is not at home or not the right way round."""
        return frozenset(b for b, (p, t) in enumerate(zip(self.pieces, self.twists, strict=True)) if p != b or t)


Sight = frozenset[int]


@forwarded
@dataclass(frozen=True, slots=True)
class Appearance:
    """``sights[b]``: the looks that slot b may show, as the puzzle numbers them within the slot's kind.

    One look: seen for certain. Several: *this or that*. All looks of the kind: not seen. None at all: something that no
    piece of the puzzle can show there, which is a finding and not an input error. ``stickers`` holds what was read
    colour by colour, if it was: for each sticker place the facets whose colour it may have, empty for *not seen*.

    >>> Appearance("ring of two", (frozenset({0}), frozenset({0, 1}))).complete
    False
    """

    puzzle: str
    sights: tuple[Sight, ...]
    stickers: tuple[frozenset[str], ...] = ()

    @property
    def complete(self) -> bool:
        """Whether every slot shows one look for certain."""
        return all(len(sight) == 1 for sight in self.sights)

    @property
    def uncertain(self) -> tuple[int, ...]:
        """The slots that may show several looks: not seen, or one of several."""
        return tuple(b for b, sight in enumerate(self.sights) if len(sight) > 1)

    @property
    def foreign(self) -> tuple[int, ...]:
        """The slots that show what no piece of the puzzle can show."""
        return tuple(b for b, sight in enumerate(self.sights) if not sight)

    @property
    def looks(self) -> tuple[int, ...]:
        """The one look of each slot; ``ValueError`` unless the appearance is complete."""
        if not self.complete:
            raise ValueError("this appearance has parts that are not seen for certain")
        return tuple(next(iter(sight)) for sight in self.sights)


RINGS = {"x": "FUBD", "y": "FLBR", "z": "URDL"}
"""One turn of the whole puzzle takes what is at each of these faces to the next one."""
AXES = {face: axis for axis, face in ROTATIONS.items()}


@dataclass(frozen=True)
class Holding:
    """Which face of the puzzle's own is where the hands say U, D, F, B, L, R. Start from `START` and turn it.

    >>> START.turned("x", 1).own("U")
    'F'
    """

    faces: tuple[str, ...] = FACES

    def own(self, face: str) -> str:
        """The puzzle's own face that is now at this face of the hands."""
        return self.faces[FACES.index(face)]

    def hand(self, face: str) -> str:
        """Where the hands have a face of the puzzle's own; another name is left as it is.

        >>> START.turned("x").hand("F"), START.turned("x").hand("side7")
        ('U', 'side7')
        """
        return FACES[self.faces.index(face)] if face in self.faces else face

    @property
    def inverse(self) -> Holding:
        """The holding that leads back to the start."""
        return Holding(tuple(map(self.hand, FACES)))

    def after(self, first: Holding) -> Holding:
        """This holding of a puzzle that is held as in ``first``.

        >>> START.turned("x").after(START.turned("y")) == START.turned("y").turned("x")
        True
        """
        return Holding(tuple(map(first.own, self.faces)))

    def turned(self, axis: str, amount: int = 1) -> Holding:
        """The holding after `amount` quarter turns of the whole puzzle, as x, y or z in the hands' frame."""
        ring = RINGS[axis]
        came_from = {face: ring[(i - amount) % 4] for i, face in enumerate(ring)}
        return Holding(tuple(self.own(came_from.get(face, face)) for face in FACES))

    def moves_by_hand(self, steps: Iterable[Step]) -> tuple[Step, ...]:
        """The same turns as hands say them that hold it so throughout, from `steps` that name the puzzle's own faces.

        >>> from oddswap.values.sequence import Step
        >>> str(START.turned("y").moves_by_hand([Step("R", 1, 1, -1)])[0])
        "F'"
        """
        return tuple(steps if self == START else map(self._by_hand, steps))

    def _by_hand(self, step: Step) -> Step:
        face = MIDDLES.get(step.stem) or ROTATIONS.get(step.stem) or step.stem[0]
        hand = self.hand(face)
        if step.stem[0] in FACES:
            return replace(step, stem=hand * len(step.stem))
        named = {face: stem for stem, face in (MIDDLES if step.stem in MIDDLES else ROTATIONS).items()}
        along = 1 if hand in named else -1
        return replace(step, stem=named.get(hand) or named[OPPOSITE[hand]], amount=along * step.amount)


START = Holding()


def settle(steps: Iterable[Step], layers: Mapping[str, int], start: Holding = START) -> tuple[tuple[Step, ...], Holding]:
    """The same turns in the frame of the core, and the holding that they lead to.

    `steps` are said in the hands' frame, from the holding `start` on; `layers` gives the number of slabs on
    the axis of each of the puzzle's own faces. Rotations change the holding alone. A block that contains the
    middle slab of an odd axis becomes the outer blocks beside it, turned the other way, and a new holding; any
    other stays a block. `UnknownMove` if the puzzle, as it is held at that moment, has no such slab.
    """
    settled: list[Step] = []
    holding = start
    for step in steps:
        if step.stem in ROTATIONS:
            holding = holding.turned(step.stem, step.amount)
            continue
        face, first, last = _block(step, holding, layers)
        n = layers[holding.own(face)]
        if n % 2 and first <= (n + 1) // 2 <= last:
            settled += _beside(step, holding.own(face), first, last, n)
            along = 1 if face in AXES else -1
            holding = holding.turned(AXES.get(face) or AXES[OPPOSITE[face]], along * step.amount)
        else:
            settled.append(Step(holding.own(face), first, last, step.amount))
    return tuple(settled), holding


def _block(step: Step, holding: Holding, layers: Mapping[str, int]) -> tuple[str, int, int]:
    """The hands' face from which the step's slabs are counted, and the first and last of them."""
    face = MIDDLES.get(step.stem, step.stem)
    if face not in FACES:
        raise UnknownMove(f"{step} has no place in a holding: turn U, D, F, B, L, R and their slabs")
    n = layers[holding.own(face)]
    if step.stem in MIDDLES:
        if n % 2 == 0:
            raise UnknownMove(f"{step} has no middle slab to turn: its axis has {n} slabs as it is held")
        return face, (n + 1) // 2, (n + 1) // 2
    if step.last > 1 and step.last >= n:
        raise UnknownMove(f"{step} counts too far: its axis has {n} slabs as the puzzle is held then")
    return face, step.first, step.last


def _beside(step: Step, own: str, first: int, last: int, n: int) -> list[Step]:
    """What is left of n slabs without `first` to `last`, counted from `own`, turned the other way."""
    near = [Step(own, 1, first - 1, -step.amount)] if first > 1 else []
    far = [Step(OPPOSITE[own], 1, n - last, step.amount)] if last < n else []
    return near + far
