"""Likely mistakes in a description that would make the position ordinary. Never an accusation: anyone's eye slips.

Each slip changes what was read in one way that people know: a sticker misread, two colours confused, a mirrored
photograph, a face entered turned, left for right, another colour scheme, a twist told the wrong way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations, permutations

import numpy as np

from oddswap.describing.stickers import Stickers, seen_stickers, stickers
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.lookalikes import first_sight
from oddswap.values.appearance import Appearance

Colours = tuple[frozenset[str], ...]


@dataclass(frozen=True)
class Slip:
    """A likely slip in words, what was really there if it was made, and of which sort it is."""

    sort: str
    words: str
    appearance: Appearance


def likely_slips(
    puzzle: Puzzle, appearance: Appearance, ordinary: Callable[[Puzzle, Appearance], bool], most: int = 12
) -> tuple[Slip, ...]:
    """The slips that would make an appearance ``ordinary`` (a predicate), likeliest sort first, at most ``most``."""
    found = []
    for slip in _candidates(puzzle, appearance):
        if slip.appearance.sights != appearance.sights and ordinary(puzzle, slip.appearance):
            found.append(slip)
            if len(found) == most:
                break
    return tuple(found)


def _candidates(puzzle: Puzzle, appearance: Appearance) -> Iterator[Slip]:
    table = stickers(puzzle)
    if appearance.stickers and table is not None:
        colours = appearance.stickers
        for sort, words, changed in (
            *_photographs(table, colours),
            *_faces_turned(table, colours),
            *_schemes(puzzle, table, colours),
            *_one_sticker(puzzle, table, colours),
            *_two_colours(puzzle, table, colours),
        ):
            yield Slip(sort, words, seen_stickers(puzzle, changed))
    elif appearance.complete:
        yield from _twists_told_wrong(puzzle, appearance)


def _sticker_word(puzzle: Puzzle, table: Stickers, place: int) -> str:
    slot, face = table.places[place]
    name = puzzle.slots[slot]
    return f"the sticker of {name} on {face}" if len(name) > 1 else f"the middle sticker of {face}"


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


def _photographs(table: Stickers, colours: Colours):
    mirrored = []
    for face in table.grid:
        other = {"L": "R", "R": "L"}.get(face, face)
        mirrored += _pairs(np.fliplr(_grid(table, other)), _grid(table, face))
    yield "mirrored photograph", "every photograph is mirrored, left for right", _moved(colours, mirrored)
    for one, other in (("L", "R"), ("F", "B"), ("U", "D")):
        both = _pairs(_grid(table, one), _grid(table, other)) + _pairs(_grid(table, other), _grid(table, one))
        yield "left for right", f"the faces {one} and {other} are told for each other", _moved(colours, both)


def _faces_turned(table: Stickers, colours: Colours):
    for face in table.grid:
        grid = _grid(table, face)
        for quarter, way in ((1, "a quarter turn clockwise"), (2, "a half turn"), (3, "a quarter turn anticlockwise")):
            turned = np.rot90(grid, quarter)
            if turned.shape == grid.shape:
                yield "face turned", f"the face {face} was read turned by {way}", _moved(colours, _pairs(turned, grid))
        words = f"the face {face} was read from right to left"
        yield "face mirrored", words, _moved(colours, _pairs(np.fliplr(grid), grid))


def _renamed(colours: Colours, names: dict[str, str]) -> Colours:
    return tuple(frozenset(names.get(c, c) for c in colour) for colour in colours)


def _schemes(puzzle: Puzzle, table: Stickers, colours: Colours):
    faces = sorted(set(puzzle.geometry.paints.values()))
    centres = {name: table.at.get((slot, name)) for slot, name in enumerate(puzzle.slots) if len(name) == 1}
    if centres:
        names = {}
        for face, place in centres.items():
            if len(colours[place]) == 1:
                names[next(iter(colours[place]))] = puzzle.geometry.paints[face]
        if len(names) == len(faces) and any(a != b for a, b in names.items()):
            yield (
                "another colour scheme",
                "this copy has another colour scheme: " + _scheme_words(names),
                _renamed(colours, names),
            )
        return
    for order in permutations(faces):
        names = {a: b for a, b in zip(faces, order, strict=True) if a != b}
        if 0 < len(names) <= 3:
            yield (
                "another colour scheme",
                "this copy has another colour scheme: " + _scheme_words(names),
                _renamed(colours, names),
            )


def _scheme_words(names: dict[str, str]) -> str:
    return ", ".join(f"{a}'s colour where {b}'s is expected" for a, b in names.items() if a != b)


def _one_sticker(puzzle: Puzzle, table: Stickers, colours: Colours):
    faces = sorted(set(puzzle.geometry.paints.values()))
    for place, colour in enumerate(colours):
        for face in faces:
            if len(colour) == 1 and face not in colour:
                changed = (*colours[:place], frozenset((face,)), *colours[place + 1 :])
                words = f"{_sticker_word(puzzle, table, place)} was misread: it has {face}'s colour"
                yield "sticker misread", words, changed


def _two_colours(puzzle: Puzzle, table: Stickers, colours: Colours):
    """One sticker of each of two colours was told for the other: what happens when two colours look alike in poor light."""
    for one, other in combinations(sorted(set(puzzle.geometry.paints.values())), 2):
        ones = [i for i, colour in enumerate(colours) if colour == frozenset((one,))]
        others = [i for i, colour in enumerate(colours) if colour == frozenset((other,))]
        for a in ones:
            for b in others:
                if _shape(puzzle, table, a) == _shape(puzzle, table, b) and table.places[a][0] != table.places[b][0]:
                    words = (
                        f"{one}'s colour and {other}'s were confused: {_sticker_word(puzzle, table, a)} "
                        f"and {_sticker_word(puzzle, table, b)}"
                    )
                    yield "two colours confused", words, _moved(colours, ((a, b), (b, a)))


def _shape(puzzle: Puzzle, table: Stickers, place: int) -> str:
    return puzzle.kind_of[table.places[place][0]].family


def _twists_told_wrong(puzzle: Puzzle, appearance: Appearance) -> Iterator[Slip]:
    sighted = first_sight(puzzle, appearance)
    if sighted is None:
        return
    first = sighted[0]
    for slot in sorted(first.displaced()):
        kind, piece, twist = puzzle.kind_of[slot], first.pieces[slot], first.twists[slot]
        if kind.twist > 2 and twist and 2 * twist != kind.twist:
            look = int(puzzle.looks[puzzle.base_label[piece] + (-twist) % kind.twist])
            sights = list(appearance.sights)
            sights[slot] = frozenset((look,))
            words = f"the piece at {puzzle.slots[slot]} is turned the other way than was told"
            yield Slip("twist told the wrong way", words, Appearance(appearance.puzzle, tuple(sights)))
