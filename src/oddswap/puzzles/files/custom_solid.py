"""A solid with cuts of its own, from a puzzle file; the format is told in `oddswap.puzzles.files.custom`."""

from collections.abc import Callable
from functools import partial
from typing import TypeVar

import numpy as np

from oddswap.errors import BadOption, BadSolid
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.files.puzzle_file import PuzzleFile
from oddswap.puzzles.solids.polyhedra import turned_beyond_cuts
from oddswap.puzzles.solids.shapes import Facet, Solid
from oddswap.values.text_file import is_length

KEYS = ("title", "facet", "cut")
MOST = 24
"""So many facets, and so many cuts, at most."""
T = TypeVar("T")


def solid_from(file: PuzzleFile, name: str) -> Puzzle:
    """The puzzle of a file that has tables ``[[cut]]``: what lies beyond each cut turns.

    Where no piece only turns in its place, nothing fixes the holding, and the rotations that the turns generate join the
    moves.
    """
    file.table("the file", file.data, KEYS)
    facets = _by_letter(file, "facet", 4, _facet)
    cuts = _by_letter(file, "cut", 1, _cut)
    make = partial(turned_beyond_cuts, name, file.title(), Solid(tuple(facets.values())), cuts)
    try:
        puzzle = make()
        if idle := next((turn for turn in puzzle.turns.values() if not 0 < len(turn.slots) < len(puzzle.slots)), None):
            raise BadSolid(f"the cut {idle.step.stem} does not part the solid: give an offset at which it passes through it")
        if all(len(kind.slots) > 1 for kind in puzzle.kinds):
            puzzle = make(whole=cuts)
    except (BadSolid, BadOption) as error:
        raise file.error(str(error), "cut") from None
    except ValueError as error:
        raise file.error(f"{error}: give turns whose axes belong to one regular solid", "cut") from None
    return puzzle


def _by_letter(file: PuzzleFile, key: str, least: int, read: Callable[..., tuple[str, T]]) -> dict[str, T]:
    """What is read of each table [[key]], by the letter that is its name."""
    entries = file.data.get(key, [])
    if not isinstance(entries, list) or not least <= len(entries) <= MOST:
        raise file.error(f"give {least} to {MOST} tables [[{key}]]", key)
    pairs = [read(file, entry, i) for i, entry in enumerate(entries)]
    for i, (name, _) in enumerate(pairs):
        if name in dict(pairs[:i]):
            raise file.error(f"two entries of {key} are called {name}: give each its own letter", key, i)
    return dict(pairs)


def _facet(file: PuzzleFile, entry: object, i: int) -> tuple[str, Facet]:
    table = file.table("a facet", entry, ("name", "normal", "offset", "paint"), "facet", i)
    name = _letter(file, table.get("name"), "facet", i)
    normal, offset = _plane(file, table, "facet", i)
    return name, Facet(name, normal, offset, _letter(file, table["paint"], "facet", i) if "paint" in table else name)


def _cut(file: PuzzleFile, entry: object, i: int) -> tuple[str, tuple[np.ndarray, float, int]]:
    table = file.table("a cut", entry, ("name", "normal", "offset", "turns"), "cut", i)
    turns = file.whole("turns to the circle", table.get("turns"), 2, 6, "cut", i, "turns")
    return _letter(file, table.get("name"), "cut", i), (*_plane(file, table, "cut", i), turns)


def _letter(file: PuzzleFile, value: object, key: str, i: int) -> str:
    word = file.words("the name", value, key, i, "name")
    if len(word) != 1 or not ("A" <= word <= "Z"):
        raise file.error(f"the name {word!r} is not one capital letter from A to Z", key, i, "name")
    return word


def _plane(file: PuzzleFile, table: dict, key: str, i: int) -> tuple[np.ndarray, float]:
    normal, offset = table.get("normal"), table.get("offset")
    numbers = isinstance(normal, list) and len(normal) == 3 and all(map(is_length, normal))
    if not numbers or not is_length(offset) or not 1e-6 < np.linalg.norm(normal) < 1e6:
        raise file.error("a plane needs normal = [x, y, z], not all zero, and offset, a number", key, i)
    length = float(np.linalg.norm(normal))
    return np.array(normal, dtype=float) / length, float(offset) / length
