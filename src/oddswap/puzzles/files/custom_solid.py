"""A solid with cuts of its own, from a puzzle file; the format is told in `oddswap.puzzles.files.custom`."""

from dataclasses import replace
from functools import partial

import numpy as np

from oddswap.errors import BadOption, BadSolid
from oddswap.puzzles.base.mechanism import Mechanism, Slab
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.files.puzzle_file import PuzzleFile
from oddswap.puzzles.solids.cutting import cut_solid
from oddswap.puzzles.solids.polyhedra import by_facets_and_layers
from oddswap.puzzles.solids.shapes import Facet, Solid
from oddswap.values.alphabet import Alphabet
from oddswap.values.text_file import is_length

KEYS = ("title", "facet", "cut")
MOST = 24
"""So many facets, and so many cuts, at most."""


def solid_from(file: PuzzleFile, name: str) -> Puzzle:
    """The puzzle of a file that has tables ``[[cut]]``: what lies beyond each cut turns.

    Where no piece only turns in its place, nothing fixes the holding, and the rotations that the turns generate join the
    moves.
    """
    file.table("the file", file.data, KEYS)
    facets = [_facet(file, entry, i) for i, entry in enumerate(_list(file, "facet", 4))]
    cuts = [_cut(file, entry, i) for i, entry in enumerate(_list(file, "cut", 1))]
    for key, names in (("facet", [f.name for f in facets]), ("cut", [c[0] for c in cuts])):
        for i, one in enumerate(names):
            if one in names[:i]:
                raise file.error(f"two entries of {key} are called {one}: give each its own letter", key, i)
    letters = tuple(cut[0] for cut in cuts)
    mechanism = Mechanism(
        normals=np.array([normal for _, normal, _, _ in cuts]),
        offsets=np.array([offset for _, _, offset, _ in cuts]),
        slabs=tuple(Slab(letter, 1, turns, tuple(n), ((i, 1),)) for i, (letter, n, _, turns) in enumerate(cuts)),
        directions={facet.name: facet.normal for facet in facets},
        name_cell=lambda cell, body: by_facets_and_layers(cell, body, letters),
    )
    orders = {letter: turns for letter, _, _, turns in cuts}
    try:
        cut = partial(cut_solid, name, file.title(), Solid(tuple(facets)))
        puzzle = cut(mechanism, Alphabet(letters, orders))
        if all(len(kind.slots) > 1 for kind in puzzle.kinds):
            whole = tuple((f"whole{letter}", tuple(normal), turns) for letter, normal, _, turns in cuts)
            names = tuple(letter for letter, _, _ in whole)
            alphabet = Alphabet(letters, orders | {f"whole{c[0]}": c[3] for c in cuts}, names=names)
            puzzle = cut(replace(mechanism, whole=whole), alphabet)
    except (BadSolid, BadOption) as error:
        raise file.error(str(error), "cut") from None
    except ValueError as error:
        raise file.error(f"{error}: give turns whose axes belong to one regular solid", "cut") from None
    return puzzle


def _list(file: PuzzleFile, key: str, least: int) -> list:
    entries = file.data.get(key, [])
    if not isinstance(entries, list) or not least <= len(entries) <= MOST:
        raise file.error(f"give {least} to {MOST} tables [[{key}]]", key)
    return entries


def _facet(file: PuzzleFile, entry: object, i: int) -> Facet:
    table = file.table("a facet", entry, ("name", "normal", "offset", "paint"), "facet", i)
    name = _letter(file, table.get("name"), "facet", i)
    normal, offset = _plane(file, table, "facet", i)
    paint = _letter(file, table["paint"], "facet", i) if "paint" in table else name
    return Facet(name, normal, offset, paint)


def _cut(file: PuzzleFile, entry: object, i: int) -> tuple[str, np.ndarray, float, int]:
    table = file.table("a cut", entry, ("name", "normal", "offset", "turns"), "cut", i)
    turns = file.whole("turns to the circle", table.get("turns"), 2, 6, "cut", i, "turns")
    return _letter(file, table.get("name"), "cut", i), *_plane(file, table, "cut", i), turns


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
