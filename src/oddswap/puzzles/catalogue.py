"""From a puzzle's name to the puzzle: ``family:size,option=value``.

========================================  =======================================================================
``cube:2`` … ``cube:25``                  the cube cut into so many slabs each way
``cube:3,centres=marked``                 with marks that tell every centre piece and its turn
``cube:3,centres=none``                   without visible centres
``cuboid:3x4x5``                          the box of width L–R, height D–U, depth B–F, each side 1 to 7
``shape-mod:cube,axis=U,degrees=45``      the three-slab mechanism inside a cube turned against its cuts
``shape-mod:prism8``                      the three-slab mechanism inside a regular prism (3 to 12 sides)
``shape-mod:solid.toml``                  the three-slab mechanism inside half-spaces read from a file
``tetrahedron`` ``tetrahedron,tips=no``   the face-turning tetrahedron
``octahedron`` ``dodecahedron``           face-turning
``corner-cube``                           the cube of which half turns about a corner
``loop:20,window=4``                      beads on a loop, and a window that turns those in it end over end
``rings:7+7,cross=2`` ``rings:8+8+8``     two or three rings of beads that cross; ``beads=6+6``: equally coloured ones
``tiles:4x4`` ``tiles:3x3,letters=…``     sliding tiles; equal letters are twins; ``blank=r1c1``: its home
``graph:2+1+2``                           a blank on two junctions joined by paths with so many nodes between
``custom:FILE.toml``                      moves in cycle notation, or a graph, from a file: see `oddswap.puzzles.files.custom`
========================================  =======================================================================

Options of a shape mod: ``axis`` (U, UR, URF …) with ``degrees``; ``cut`` (where the outer planes lie, a fraction of
the half-edge or inradius); ``shift=x/y/z`` (half-edges; then the solid has one colour and every piece its own shape);
``paint=FR+FL/U+D`` (facets joined by + share a colour). Boxes and shape mods take ``turns=half``, ``turns=box`` (all turns
that keep the outline, the default) or a list such as ``turns=R2+U+F`` of what this copy makes. A cuboid with two different
sides of one parity also takes ``turns=all``, and its list may name turns that leave the outline: see `oddswap.puzzles.boxes.box`.
"""

from __future__ import annotations

import copyreg
import re
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

import numpy as np

from oddswap.errors import BadOption, UnknownPuzzle, quoted
from oddswap.puzzles.base.mechanism import CENTRES, grid_mechanism
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.puzzle_names import checked_name
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.puzzles.boxes.closing import leaves_the_outline
from oddswap.puzzles.boxes.grid import box_puzzle
from oddswap.puzzles.files.custom import custom
from oddswap.puzzles.files.puzzle_file import contents_of
from oddswap.puzzles.flat.junctions import graph
from oddswap.puzzles.flat.loops import loop
from oddswap.puzzles.flat.rings import rings
from oddswap.puzzles.flat.tiles import tiles
from oddswap.puzzles.solids.cutting import cut_solid
from oddswap.puzzles.solids.polyhedra import corner_cube, dodecahedron, octahedron, tetrahedron
from oddswap.puzzles.solids.shapes import Solid, corner_axis, cuboid_solid, prism_solid, solid_from_file
from oddswap.puzzles.turns import with_turns
from oddswap.values.alphabet import cube_alphabet
from oddswap.values.text import unseen, unseen_reason

_KEPT: dict[str, tuple[Puzzle, Callable[[str, dict], Puzzle], dict]] = {}
"""The puzzles that come from no name, by their own, each with what made it of what was told."""


def load(name: str) -> Puzzle:
    """The puzzle of that name: the same each time, until the file that describes it says something else.

    >>> load("cube:3").kinds[0].slots[:3]
    ('UFL', 'UFR', 'UBL')
    """
    if not isinstance(name, str):
        raise UnknownPuzzle(f"a puzzle is called by a text such as cube:3, not {quoted(name)}")
    if name in _KEPT:
        return _KEPT[name][0]
    if character := unseen(name):
        raise UnknownPuzzle(unseen_reason(name, character))
    path = name.partition(",")[0].partition(":")[2].strip()
    return _load(name, contents_of(Path(path)) if path.endswith(".toml") else None)


@lru_cache(maxsize=1024)
def _load(name: str, contents: bytes | None) -> Puzzle:
    family, size, options = checked_name(name)
    puzzle = FAMILIES[family](name, size, options)
    copyreg.pickle(type(puzzle), _by_name)
    return puzzle


def keep(name: str, make: Callable[[str, dict], Puzzle], told: dict) -> Puzzle:
    """The puzzle that ``make`` makes of what is told, for `load` to find by its name; the same one while that is equal."""
    if name not in _KEPT or _KEPT[name][2] != told:
        _KEPT[name] = make(name, told), make, told
        copyreg.pickle(type(_KEPT[name][0]), _by_name)
    return _KEPT[name][0]


def _by_name(puzzle: Puzzle) -> tuple[Callable[..., Puzzle], tuple]:
    """How a puzzle is pickled: by its name, or what it is made of. `TypeError` for one that was changed since."""
    kept, *made_of = _KEPT.get(puzzle.name, (None,))
    if kept is puzzle:
        return keep, (puzzle.name, *made_of)
    if load(puzzle.name) is not puzzle:
        raise TypeError(f"{puzzle.name} was changed by hand and cannot be pickled: pickle what it was made from")
    return load, (puzzle.name,)


def with_all_turns(puzzle: Puzzle) -> Puzzle | None:
    """The same puzzle with every turn that keeps its outline; ``None`` where it has them already.

    >>> with_all_turns(load("cube:3,turns=half"))
    load('cube:3')
    """
    name = _without_turns(puzzle)
    return None if isinstance(puzzle, BoxPuzzle) or name == puzzle.name else load(name)


def with_turns_out_of_the_box(puzzle: Puzzle) -> BoxPuzzle | None:
    """The same cuboid with every turn that closes; ``None`` where these keep the outline, or are too many cells to follow.

    >>> with_turns_out_of_the_box(load("cuboid:2x2x4"))
    load('cuboid:2x2x4,turns=all')
    """
    if not puzzle.name.strip().startswith("cuboid:"):
        return None
    try:
        wide = load(f"{_without_turns(puzzle)},turns=all")
    except UnknownPuzzle:
        return None
    return wide if isinstance(wide, BoxPuzzle) else None


def kept_in_the_box(box: BoxPuzzle) -> Puzzle | None:
    """The same cuboid with those of its turns that keep the outline; ``None`` where it has none of these.

    >>> kept_in_the_box(load("cuboid:2x3x4,turns=U+U2+2F2+RR2"))
    load('cuboid:2x3x4,turns=U2+2F2')
    """
    whole = load(_without_turns(box))
    names = [name for name in whole.turns if name in box.turns]
    if len(names) == len(whole.turns):
        return whole
    return load(f"{whole.name},turns={'+'.join(names)}") if names else None


def _without_turns(puzzle: Puzzle) -> str:
    head, *pairs = puzzle.name.split(",")
    return ",".join([head, *(pair for pair in pairs if not pair.strip().startswith("turns="))])


def restricted(puzzle: Puzzle, turns: str) -> Puzzle:
    """The same puzzle with other turns: half, box, all, or a list joined by +."""
    if set(turns) & set(",="):
        raise BadOption(f"{quoted(turns)} names no turns: write half, box, all or a list such as R2+U")
    return load(f"{_without_turns(puzzle)},turns={turns}")


def cube(name: str, size: str, options: dict[str, str]) -> Puzzle:
    n = _count("cube", size, 2, 25)
    centres = options.pop("centres", "plain")
    if centres not in ("plain", "marked", "none"):
        raise BadOption(f"{quoted(f'centres={centres}')} is not offered: write plain, marked or none")
    if n == 2 and centres != "plain":
        raise BadOption("cube:2 has no centres, so it takes no option centres")
    title = f"cube of {n} slabs"
    title += {"plain": "", "marked": " with marked centres", "none": " without visible centres"}[centres]
    puzzle = cut_solid(
        name,
        title,
        cuboid_solid((1.0, 1.0, 1.0)),
        grid_mechanism((n, n, n), cut=max(1, n - 2) / n, centres=centres != "none"),
        cube_alphabet(n, n, n),
        marked=CENTRES if centres == "marked" else frozenset(),
        hidden=CENTRES if centres == "none" else frozenset(),
    )
    return with_turns(puzzle, options.pop("turns", "box"))


def cuboid(name: str, size: str, options: dict[str, str]) -> Puzzle:
    sides = size.split("x")
    if len(sides) != 3:
        raise UnknownPuzzle(f"{quoted(f'cuboid:{size}')} needs three sides: width L–R, height D–U, depth B–F, such as 3x4x5")
    x, y, z = (_count("a side of cuboid", side, 1, 7) for side in sides)
    longest = max(x, y, z)
    if longest == 1:
        raise UnknownPuzzle("cuboid:1x1x1 has nothing to turn: make one side 2 or more")
    turns = options.pop("turns", "box")
    if leaves_the_outline(turns, (x, y, z)):
        wide = box_puzzle(name, (x, y, z))
        return wide if turns == "all" else with_turns(wide, turns)
    puzzle = cut_solid(
        name,
        f"box of {x} by {y} by {z}",
        cuboid_solid((x / longest, y / longest, z / longest)),
        grid_mechanism((x, y, z), cut=max(1, longest - 2) / longest),
        cube_alphabet(x, y, z),
    )
    return with_turns(puzzle, turns)


def _count(what: str, text: str, least: int, most: int) -> int:
    if not re.fullmatch(r"[0-9]{1,3}", text) or not least <= int(text) <= most:
        raise UnknownPuzzle(f"{what} is a whole number from {least} to {most}, not {quoted(text)}")
    return int(text)


def face_turning(name: str, size: str, options: dict[str, str]) -> Puzzle:
    family = name.partition(",")[0].partition(":")[0].strip()
    if size:
        raise UnknownPuzzle(f"{family} takes no size: leave out {quoted(':' + size)}")
    if family == "tetrahedron":
        tips = options.pop("tips", "yes")
        if tips not in ("yes", "no"):
            raise BadOption(f"{quoted(f'tips={tips}')} is not offered: write yes or no")
        return tetrahedron(name, tips == "yes")
    return {"octahedron": octahedron, "dodecahedron": dodecahedron, "corner-cube": corner_cube}[family](name)


def shape_mod(name: str, size: str, options: dict[str, str]) -> Puzzle:
    solid, cut, title = _solid_named(size)
    if "cut" in options:
        cut = _number("cut", options.pop("cut"))
        if not 0 < cut < 1:
            raise BadOption(f"cut={cut:g} is outside the solid: give a fraction between 0 and 1")
    axis, degrees = options.pop("axis", None), options.pop("degrees", None)
    if (axis is None) != (degrees is None):
        raise BadOption("axis and degrees go together: write such as axis=U,degrees=45")
    if axis is not None and degrees is not None:
        turn = _number("degrees", degrees)
        solid = solid.turned(corner_axis(axis), turn)
        title += f", turned {turn:g} degrees about {axis} against its cuts"
    if "shift" in options:
        solid = _one_colour(solid.shifted(_vector("shift", options.pop("shift"))))
        title += ", off centre and in one colour"
    if "paint" in options:
        groups = [group.split("+") for group in options.pop("paint").split("/")]
        solid = solid.painted(groups)
        title += ", with facets that share a colour"
    puzzle = cut_solid(name, title, solid, grid_mechanism((3, 3, 3), cut=cut), cube_alphabet(3, 3, 3))
    return with_turns(puzzle, options.pop("turns", "box"))


def _solid_named(size: str) -> tuple[Solid, float, str]:
    if size == "cube":
        return cuboid_solid((1.0, 1.0, 1.0)), 1 / 3, "cube on the three-slab mechanism"
    if re.fullmatch(r"prism[0-9]{1,3}", size):
        sides = int(size[5:])
        cut = float(np.tan(np.pi / sides)) if sides > 5 else 1 / 3
        return prism_solid(sides), cut, f"prism on {sides} sides on the three-slab mechanism"
    if size.endswith(".toml"):
        return solid_from_file(Path(size)), 1 / 3, f"solid of {Path(size).stem} on the three-slab mechanism"
    raise UnknownPuzzle(f"{quoted(f'shape-mod:{size}')} is not offered: write cube, prism3 to prism12, or a .toml file")


def _one_colour(solid: Solid) -> Solid:
    return solid.painted([[f.name for f in solid.facets]])


def _number(option: str, text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = float("nan")
    if not np.isfinite(value):
        raise BadOption(f"{quoted(f'{option}={text}')} is not a number")
    return value


def _vector(option: str, text: str) -> np.ndarray:
    parts = text.split("/")
    if len(parts) != 3:
        raise BadOption(f"{quoted(f'{option}={text}')} needs three numbers, written {option}=x/y/z")
    return np.array([_number(option, part) for part in parts])


FAMILIES: dict[str, Callable[[str, str, dict[str, str]], Puzzle]] = {
    "cube": cube,
    "cuboid": cuboid,
    "shape-mod": shape_mod,
    "tetrahedron": face_turning,
    "octahedron": face_turning,
    "dodecahedron": face_turning,
    "corner-cube": face_turning,
    "loop": loop,
    "rings": rings,
    "tiles": tiles,
    "graph": graph,
    "custom": custom,
}
