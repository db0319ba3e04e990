"""Likely mistakes in a description that would make the position ordinary. Never an accusation: anyone's eye slips.

Each slip changes what was read in one way that people know: a sticker misread, two colours confused, mirrored
photographs, a face entered turned or mirrored, two faces exchanged, another colour scheme, a twist told the wrong way.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import chain, combinations, permutations, product
from types import MappingProxyType

import numpy as np

from oddswap.describing.stickers import Stickers, as_named, middles, seen_stickers, stickers
from oddswap.errors import BadTicket
from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.solids.cutting import TOP
from oddswap.reasoning.budget import Clock, Finding
from oddswap.reasoning.laws.lookalikes import first_sight
from oddswap.values.position import Appearance
from oddswap.values.sequence import FACES

AXES = "yyzzxx"
"""The axis of each face, as `FACES` has them."""
Colours = tuple[frozenset[str], ...]


@dataclass(frozen=True)
class Sticker:
    """A sticker, by its slot and face."""

    slot: str
    face: str


class PhotographsMirrored(Finding):
    """Every photograph is mirrored, left for right, so that the left side was taken for the right one, too."""

    code = "mirrored-photograph"


class EachFaceMirrored(Finding):
    """Each of these faces was read mirrored: along the first axis, those at its ends along the second (x, y or z)."""

    axes: tuple[str, str]
    faces: tuple[str, ...] = FACES


class FacesExchanged(Finding):
    """Two faces were told for each other."""

    faces: tuple[str, str]


class FaceTurned(Finding):
    """A face was read turned by so many quarters, clockwise."""

    face: str
    quarters: int


class FaceMirrored(Finding):
    """A face was read mirrored along an axis: from behind, or from the bottom row up."""

    face: str
    axis: str


class OtherScheme(Finding):
    """This copy has other colours: pairs of faces, the colour of the first where that of the second is expected."""

    code = "another-colour-scheme"
    faces: tuple[tuple[str, str], ...]


class StickerMisread(Finding):
    """A sticker has in fact the colour of ``face``."""

    sticker: Sticker
    face: str


class ColoursConfused(Finding):
    """The colours of two faces look alike in poor light: these two stickers were told for each other."""

    code = "two-colours-confused"
    faces: tuple[str, str]
    stickers: tuple[Sticker, Sticker]


class TwistMistold(Finding):
    """The piece at ``slot`` is turned the other way."""

    code = "twist-told-the-wrong-way"
    slot: str


FaceMistake = FacesExchanged | FaceTurned | FaceMirrored
Mistake = PhotographsMirrored | EachFaceMirrored | FaceMistake | OtherScheme | StickerMisread | ColoursConfused | TwistMistold


@forwarded
@dataclass(frozen=True)
class Slip:
    """A likely mistake in a description, and what was really there if it was made.

    ``held``: the whole-puzzle rotations that lead from the puzzle as it was read to how it is named, where the mistake hid
    them. ``middles``: the paint in the middle of each face by the name that it was read by; empty where none stays there.
    """

    mistake: Mistake
    appearance: Appearance
    held: str = ""
    middles: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}), hash=False)

    @property
    def sort(self) -> str:
        return self.mistake.code.replace("-", " ")


def likely_slips(
    puzzle: Puzzle, appearance: Appearance, fits: Callable[[Puzzle, Appearance], bool], clock: Clock, most: int = 12
) -> tuple[Slip, ...]:
    """Slips without which an appearance ``fits`` (a predicate), likeliest sort first, while there is time; at most ``most``."""
    found, told = [], {(None, appearance.sights)}
    for slip in _candidates(puzzle, appearance):
        alike = {(None, slip.appearance.sights), (slip.sort, slip.appearance.sights)}
        if not alike & told and fits(puzzle, slip.appearance):
            found.append(slip)
            told.add((slip.sort, slip.appearance.sights))
        if len(found) == most or clock.spent:
            break
    return tuple(found)


def _candidates(puzzle: Puzzle, appearance: Appearance) -> Iterator[Slip]:
    table = stickers(puzzle)
    if appearance.stickers and table is not None:
        colours, centres = appearance.stickers, [i for i, (slot, face) in enumerate(table.places) if puzzle.slots[slot] == face]
        sorts = (_photographs, _faces_misread, _schemes, _one_sticker, _two_colours)
        for mistake, changed in chain.from_iterable(sort(puzzle, table, colours) for sort in sorts):
            with suppress(BadTicket):  # the middles that were told leave open how it is held
                moved = any(changed[place] != colours[place] for place in centres)
                named, held = as_named(puzzle, changed) if moved else (changed, "")
                yield Slip(mistake, seen_stickers(puzzle, named), held, middles(puzzle, held))
    elif appearance.complete:
        yield from _twists_told_wrong(puzzle, appearance)


def _moved(colours: Colours, moves: Iterable[tuple[int, int]]) -> Colours:
    result = list(colours)
    for source, target in moves:
        result[target] = colours[source]
    return tuple(result)


def _grid(table: Stickers, face: str) -> np.ndarray:
    """The place numbers of a face as a rectangle; -1 in the middle, where there are no stickers without visible centres."""
    rows = table.grid[face]
    gaps = [max(map(len, rows)) - len(row) for row in rows]
    return np.array([[*r[: len(r) // 2], *[-1] * gap, *r[len(r) // 2 :]] for r, gap in zip(rows, gaps, strict=True)])


def _pairs(source: np.ndarray, target: np.ndarray) -> list[tuple[int, int]]:
    """From which place to which each sticker goes, cell by cell."""
    return [(s, t) for s, t in zip(source.ravel().tolist(), target.ravel().tolist(), strict=True) if t >= 0]


def _photographs(puzzle: Puzzle, table: Stickers, colours: Colours):
    taken_for = {face: {"L": "R", "R": "L"}.get(face, face) for face in table.grid}
    mirrored = (_pairs(np.fliplr(_grid(table, other)), _grid(table, face)) for face, other in taken_for.items())
    yield PhotographsMirrored(), _moved(colours, chain.from_iterable(mirrored))
    yield from _each_mirrored(table, colours, FACES)
    for one, other in sorted(combinations(FACES, 2), key=lambda pair: axis_of(pair[0]) != axis_of(pair[1])):
        if _grid(table, one).shape == _grid(table, other).shape:
            both = _pairs(_grid(table, one), _grid(table, other)) + _pairs(_grid(table, other), _grid(table, one))
            yield FacesExchanged((one, other)), _moved(colours, both)


def _faces_misread(puzzle: Puzzle, table: Stickers, colours: Colours):
    for face in table.grid:
        grid = _grid(table, face)
        for quarters in (1, 2, 3):
            turned = np.rot90(grid, quarters)
            if turned.shape == grid.shape:
                yield FaceTurned(face, quarters), _moved(colours, _pairs(turned, grid))
        for axis in sorted({*"xyz"} - {axis_of(face)}):
            yield FaceMirrored(face, axis), _moved(colours, _mirrored(table, face, axis))
    for corner in product("UD", "FB", "LR"):
        yield from _each_mirrored(table, colours, corner)


def _each_mirrored(table: Stickers, colours: Colours, faces: tuple[str, ...]):
    for axes in permutations("xyz", 2):
        pairs = [pair for face in faces for pair in _mirrored(table, face, axes[axis_of(face) == axes[0]])]
        yield EachFaceMirrored(axes, faces), _moved(colours, pairs)


def axis_of(face: str) -> str:
    """Return the axis at whose end a face lies: x, y or z."""
    return AXES[FACES.index(face)]


def _mirrored(table: Stickers, face: str, axis: str) -> list[tuple[int, int]]:
    """Where the stickers of a face go that is mirrored along an axis."""
    grid = _grid(table, face)
    return _pairs((np.flipud if axis_of(TOP[face]) == axis else np.fliplr)(grid), grid)


def _renamed(colours: Colours, names: dict[str, str]) -> Colours:
    return tuple(frozenset(names.get(c, c) for c in colour) for colour in colours)


def _schemes(puzzle: Puzzle, table: Stickers, colours: Colours):
    faces = sorted(set(puzzle.geometry.paints.values()))
    centres = {name: table.at.get((slot, name)) for slot, name in enumerate(puzzle.slots) if len(name) == 1}
    if centres:
        told = ((face, *colours[place]) for face, place in centres.items())
        names = {seen[0]: puzzle.geometry.paints[face] for face, *seen in told if len(seen) == 1}
        other = {a: b for a, b in names.items() if a != b}
        if len(names) == len(faces) and other:
            yield OtherScheme(tuple(other.items())), _renamed(colours, other)
        return
    for order in permutations(faces):
        names = {a: b for a, b in zip(faces, order, strict=True) if a != b}
        if 0 < len(names) <= 3:
            yield OtherScheme(tuple(names.items())), _renamed(colours, names)


def _one_sticker(puzzle: Puzzle, table: Stickers, colours: Colours):
    faces = sorted(set(puzzle.geometry.paints.values()))
    for place, colour in enumerate(colours):
        for face in faces:
            if len(colour) == 1 and face not in colour:
                changed = (*colours[:place], frozenset((face,)), *colours[place + 1 :])
                yield StickerMisread(_sticker(puzzle, table, place), face), changed


def _two_colours(puzzle: Puzzle, table: Stickers, colours: Colours):
    """One sticker of each of two colours was told for the other: what happens when two colours look alike in poor light."""
    for one, other in combinations(sorted(set(puzzle.geometry.paints.values())), 2):
        ones, others = ([i for i, colour in enumerate(colours) if colour == {name}] for name in (one, other))
        for a, b in product(ones, others):
            slots = [table.places[place][0] for place in (a, b)]
            if slots[0] != slots[1] and len({puzzle.kind_of[slot].family for slot in slots}) == 1:
                both = _sticker(puzzle, table, a), _sticker(puzzle, table, b)
                yield ColoursConfused((one, other), both), _moved(colours, ((a, b), (b, a)))


def _sticker(puzzle: Puzzle, table: Stickers, place: int) -> Sticker:
    slot, face = table.places[place]
    return Sticker(puzzle.slots[slot], face)


def _twists_told_wrong(puzzle: Puzzle, appearance: Appearance) -> Iterator[Slip]:
    if (sighted := first_sight(puzzle, appearance)) is None:
        return
    first = sighted[0]
    for slot in sorted(first.displaced()):
        kind, piece, twist = puzzle.kind_of[slot], first.pieces[slot], first.twists[slot]
        look = int(puzzle.looks[puzzle.base_label[piece] + (-twist) % kind.twist])
        sights = list(appearance.sights)
        sights[slot] = frozenset((look,))
        yield Slip(TwistMistold(puzzle.slots[slot]), Appearance(appearance.puzzle, tuple(sights)))
