"""Stickers one by one, and faces as people read them, for solids whose facets are the faces of the cuts.

Each slot shows one colour a face there; a *place* is a slot and one of the faces that it touches. Faces are read row by row as
seen from outside: U with B at the top, D with F at the top, the others with U at the top. A sticker is a colour, a facet's own
letter, several with ``|`` between them, or ``?`` where it was not seen. The puzzle may be held in another way than it is named.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from types import MappingProxyType

import numpy as np

from oddswap.describing.sights import UNSEEN
from oddswap.errors import BadRows, BadTicket, UnknownColour, quoted
from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.solids.cutting import TOP
from oddswap.values.position import START, Appearance, Arrangement, Holding, Sight
from oddswap.values.sequence import Step


@dataclass(frozen=True, eq=False)
class Stickers:
    """``places`` in order of slots: ``(slot, face)``; ``at`` is the other way.

    ``shown[slot, label]``: the paints that the piece of home slot i with twist t (label = (i, t)) shows in that slot,
    face by face as the slot's name has them.

    ``grid[face]``: rows of place numbers as the face is seen.
    """

    places: tuple[tuple[int, str], ...]
    at: Mapping[tuple[int, str], int]
    shown: Mapping[tuple[int, int], tuple[str, ...]]
    grid: Mapping[str, tuple[tuple[int, ...], ...]]


@lru_cache(maxsize=32)
def stickers(puzzle: Puzzle) -> Stickers | None:
    """The sticker places of a puzzle; ``None`` where facets are not the six faces of the cuts (shape mods, other solids)."""
    geometry = puzzle.geometry
    directions = geometry.mechanism.directions if geometry else {}
    if not set(TOP) == set(directions) == set(geometry.facets):
        return None
    if any(not np.allclose(geometry.facets[name], directions[name]) for name in TOP):
        return None
    places = tuple((slot, face) for slot, name in enumerate(puzzle.slots) for face in name.partition(".")[0])
    at = {place: i for i, place in enumerate(places)}
    shown = {}
    for slot, kind in enumerate(puzzle.kind_of):
        for piece in kind.places:
            for twist in range(kind.twist):
                shown[slot, int(puzzle.base_label[piece] + twist)] = _paints(puzzle, piece, slot, twist)
    return Stickers(places, at, shown, _grid(puzzle, at))


def _paints(puzzle: Puzzle, piece: int, slot: int, twist: int) -> tuple[str, ...]:
    """The paints that ``piece`` shows in ``slot`` with ``twist``, one for each face that the slot touches."""
    rotation = puzzle.geometry.rotation_of(puzzle.base_label, puzzle.kind_of[slot].twist, piece, slot, twist)
    return tuple(puzzle.geometry.paints[facet_on(puzzle, rotation, face)] for face in puzzle.slots[slot].partition(".")[0])


@lru_cache(maxsize=4096)
def facet_on(puzzle: Puzzle, rotation: int, face: str) -> str:
    """The facet that shows on a face of the cuts once a rotation has taken it there."""
    geometry = puzzle.geometry
    home = geometry.mechanism.directions[face] @ geometry.mechanism.rotations.matrices[rotation]
    return max(geometry.facets, key=lambda name: float(geometry.facets[name] @ home))


def _grid(puzzle: Puzzle, at: Mapping[tuple[int, str], int]) -> dict[str, tuple[tuple[int, ...], ...]]:
    geometry = puzzle.geometry
    directions, grid = geometry.mechanism.directions, {}
    for face, outward in directions.items():
        up = directions[TOP[face]]
        right = np.cross(up, outward)
        cells: dict[float, list[tuple[float, int]]] = {}
        for (slot, named), number in at.items():
            if named == face:
                centre = next(f.centre for f in geometry.bodies[slot].faces if f.facet == face)
                cells.setdefault(round(float(-centre @ up), 6), []).append((float(centre @ right), number))
        grid[face] = tuple(tuple(number for _, number in sorted(row)) for _, row in sorted(cells.items()))
    return grid


def paints_of(puzzle: Puzzle, arrangement: Arrangement) -> tuple[str, ...]:
    """The paint at each sticker place of an arrangement; for puzzles that have sticker places."""
    shown = stickers(puzzle).shown
    labels = puzzle.base_label[list(arrangement.pieces)] + np.array(arrangement.twists)
    return tuple(paint for slot, label in enumerate(labels.tolist()) for paint in shown[slot, label])


def seen_stickers(puzzle: Puzzle, colours: tuple[frozenset[str], ...]) -> Appearance:
    """The appearance with these possible paints at each sticker place; an empty set means that it was not seen."""
    table = stickers(puzzle)
    sights, start = [], 0
    for slot, kind in enumerate(puzzle.kind_of):
        width = len(table.shown[slot, kind.first])
        sights.append(_sight(puzzle, slot, colours[start : start + width]))
        start += width
    return Appearance(puzzle.name, tuple(sights), colours)


@lru_cache(maxsize=20_000)
def _sight(puzzle: Puzzle, slot: int, wanted: tuple[frozenset[str], ...]) -> Sight:
    """The looks that show these possible paints in a slot."""
    shown = stickers(puzzle).shown
    return frozenset(
        int(puzzle.looks[label])
        for label in puzzle.kind_of[slot].labels
        if all(not w or paint in w for paint, w in zip(shown[slot, label], wanted, strict=True))
    )


SeenPaints = tuple[frozenset[str] | None, ...]
"""For each sticker place the paints that it may have, empty for *not seen*, ``None`` for *not told*."""


def read_faces(puzzle: Puzzle, colours: Mapping[str, str], faces: Mapping[str, list]) -> SeenPaints:
    """What faces tell: each a list of rows, a row a text or a list of its stickers. ``colours`` are words for facets.

    `BadTicket` for a puzzle without rows of stickers and for wrong types, `BadRows`, `UnknownColour`.
    """
    table = stickers(puzzle)
    if table is None:
        raise BadTicket(f"[seen]: {puzzle.name} is told by its pieces' shapes, not by rows of stickers: write [slots]")
    paints = dict(puzzle.geometry.paints)
    paints |= {word.casefold(): paints[facet] for facet, word in colours.items()}
    told: list[frozenset[str] | None] = [None] * len(table.places)
    for face, rows in faces.items():
        if face not in table.grid:
            raise BadTicket(f"[seen] {quoted(face)}: {puzzle.name} has no such face, only {', '.join(table.grid)}")
        if len(rows) != len(table.grid[face]):
            raise BadRows(f"[seen.{face}] has {len(rows)} rows: give {len(table.grid[face])} from top to bottom")
        for number, (row, places) in enumerate(zip(rows, table.grid[face], strict=True), 1):
            where = f"[seen.{face}] row {number}"
            words = row.split() if isinstance(row, str) else row
            if not isinstance(words, list) or not all(isinstance(word, str) for word in words):
                raise BadTicket(f"{where} is of the wrong type: give a text or a list of texts, one for each sticker")
            if len(words) != len(places):
                raise BadRows(f"{where} has {len(words)} stickers: give {len(places)} from left to right")
            for column, (word, place) in enumerate(zip(words, places, strict=True), 1):
                told[place] = _sticker(word, paints, f"{where}, sticker {column}")
    return tuple(told)


def _sticker(word: str, paints: Mapping[str, str], where: str) -> frozenset[str]:
    if word.strip() == UNSEEN:
        return frozenset()
    parts = [" ".join(part.split()) for part in word.split("|")]
    known = [paints.get(part, paints.get(part.casefold())) for part in parts]
    if None in known:
        wrong = quoted(parts[known.index(None)])
        raise UnknownColour(f"{where}: {wrong} is no colour of this ticket: write {', '.join(paints)}, or {UNSEEN}")
    return frozenset(known)


def write_faces(puzzle: Puzzle, colours: Mapping[str, str], told: SeenPaints) -> dict[str, list[str]]:
    """The rows of each face, in the words of ``colours`` where they are one word; `read_faces` reads the same."""
    paints = puzzle.geometry.paints
    words = {paints[facet]: word for facet, word in colours.items() if " " not in word}
    texts = ["|".join(sorted(words.get(p, p) for p in seen)) if seen else UNSEEN for seen in told]
    return {face: [" ".join(texts[place] for place in row) for row in grid] for face, grid in stickers(puzzle).grid.items()}


def as_named(puzzle: Puzzle, told: SeenPaints) -> tuple[SeenPaints, str]:
    """The stickers with the puzzle held as it is named, and how it was held when they were told ("" if as named).

    The centre stickers decide, where they stay in place. What fits no holding is left as it was told, to be judged
    as a slip or another colour scheme. `BadTicket` when they fit several and more faces are needed to tell.
    """
    fitting = [way for way in ways_held(puzzle) if all(not told[at] or paint in told[at] for at, paint in way.middles.items())]
    if not fitting or not fitting[0].words:
        return told, ""
    if len({tuple(way.middles.values()) for way in fitting}) > 1:
        raise BadTicket(
            "[seen]: by its centre stickers this puzzle is not held as it is named, and they do not tell how: "
            "add a face beside those"
        )
    return tuple(told[fitting[0].own.index(place)] for place in range(len(told))), fitting[0].words


@dataclass(frozen=True, eq=False)
class WayHeld:
    """A way to hold a puzzle: the whole-puzzle rotations to it in ``words``; the paint in the ``middles`` of the hands' faces, by
    the number of the sticker place; and for each sticker place of the hands which one it is of the puzzle's ``own``.
    """

    words: str
    middles: Mapping[int, str]
    own: tuple[int, ...]


@lru_cache(maxsize=32)
def ways_held(puzzle: Puzzle) -> tuple[WayHeld, ...]:
    """The ways to hold a puzzle with sticker places in which its faces have the same rows; none where nothing fixes it."""
    table, paints = stickers(puzzle), puzzle.geometry.paints
    found = []
    for holding, words in () if puzzle.rotations or not puzzle.alphabet.is_box else every_holding().items():
        seen = {face: _as_held(table, holding, face) for face in table.grid}
        if all(seen[face].shape == np.shape(grid) for face, grid in table.grid.items()):
            middles = {g[len(g) // 2][len(g[0]) // 2]: paints[holding.own(face)] for face, g in table.grid.items()}
            pairs = [pair for face, g in table.grid.items() for pair in zip(np.ravel(g), seen[face].ravel(), strict=True)]
            found.append(WayHeld(words, middles, tuple(int(own) for _, own in sorted(pairs))))
    return tuple(found)


def middles(puzzle: Puzzle, held: str) -> Mapping[str, str]:
    """The paint in the middle of each face of the hands that hold it so; none where no piece stays there."""
    holding, paints = puzzle.settled(held)[1], puzzle.geometry.paints
    faces = [] if puzzle.rotations else [face for face in stickers(puzzle).grid if face in puzzle.slots]
    return MappingProxyType({face: paints[holding.own(face)] for face in faces})


@lru_cache(maxsize=1024)
def _as_held(table: Stickers, holding: Holding, face: str) -> np.ndarray:
    """The sticker places, row by row, that the hands see on this face of theirs when it is looked at as faces are."""
    own, up = holding.own(face), holding.own(TOP[face])
    right = np.cross(DIRECTIONS[TOP[own]], DIRECTIONS[own])
    sides = [DIRECTIONS[TOP[own]], right, -DIRECTIONS[TOP[own]], -right]
    return np.rot90(table.grid[own], [(DIRECTIONS[up] == side).all() for side in sides].index(True))


@cache
def every_holding() -> Mapping[Holding, str]:
    """The 24 ways to hold a cube and the whole-puzzle rotations that lead to them: first tipped, then turned about U."""
    found = {}
    for axis, tipped in (("x", 0), ("x", 1), ("x", 2), ("x", -1), ("z", 1), ("z", -1)):
        for turned in (0, 1, 2, -1):
            words = [str(Step(a, 0, 0, n)) for a, n in ((axis, tipped), ("y", turned)) if n]
            found[START.turned(axis, tipped).turned("y", turned)] = " ".join(words)
    return MappingProxyType(found)
