"""From a puzzle's name to the puzzle: ``family:size,option=value``.

========================================  =======================================================================
``cube:2`` ``cube:3``                     the cube cut into two or three slabs each way
``cube:3,centres=marked``                 with marks that show the centres' turns
``cube:3,centres=none``                   without visible centres
``shape-mod:cube,axis=U,degrees=45``      the three-slab mechanism inside a cube turned against its cuts
``shape-mod:prism8``                      the three-slab mechanism inside a regular prism (3 to 12 sides)
``shape-mod:solid.toml``                  the three-slab mechanism inside half-spaces read from a file
========================================  =======================================================================

Options of a shape mod: ``axis`` (U, UR, URF …) with ``degrees``; ``cut`` (where the outer planes lie, a fraction of
the half-edge or inradius); ``shift=x/y/z`` (half-edges; then the solid has one colour and every piece its own shape);
``paint=FR+FL/U+D`` (facets joined by + share a colour).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

import numpy as np

from oddswap.errors import BadOption, UnknownPuzzle, quoted
from oddswap.puzzles.mechanism import grid_mechanism
from oddswap.puzzles.puzzle import Puzzle
from oddswap.puzzles.shapes import Solid, corner_axis, cuboid_solid, prism_solid, solid_from_file
from oddswap.puzzles.solids import cut_solid
from oddswap.values.alphabet import cube_alphabet


@lru_cache(maxsize=64)
def load(name: str) -> Puzzle:
    """The puzzle of that name.

    >>> load("cube:3").kinds[0].slots[:3]
    ('UFL', 'UFR', 'UBL')
    """
    family, size, options = parse_name(name)
    if family not in FAMILIES:
        raise UnknownPuzzle(f"there is no puzzle family {quoted(family)}: choose from {', '.join(FAMILIES)}")
    puzzle = FAMILIES[family](name, size, options)
    if options:
        known = ", ".join(KNOWN_OPTIONS[family])
        raise BadOption(f"{family} has no option {quoted(next(iter(options)))}: it knows {known}")
    return puzzle


def parse_name(name: str) -> tuple[str, str, dict[str, str]]:
    """Split ``family:size,option=value,…``; the options are a fresh dictionary that the family empties."""
    head, *pairs = name.strip().split(",")
    family, _, size = head.partition(":")
    options: dict[str, str] = {}
    for pair in pairs:
        key, equals, value = pair.partition("=")
        if not equals or not key or not value:
            raise BadOption(f"{quoted(pair)} in the puzzle's name is not of the form option=value")
        if key.strip() in options:
            raise BadOption(f"the option {quoted(key.strip())} stands twice in the puzzle's name")
        options[key.strip()] = value.strip()
    return family.strip(), size.strip(), options


def cube(name: str, size: str, options: dict[str, str]) -> Puzzle:
    if size not in ("2", "3"):
        raise UnknownPuzzle(f"{quoted(f'cube:{size}')} is not offered: choose cube:2 or cube:3")
    n = int(size)
    centres = options.pop("centres", "plain")
    if centres not in ("plain", "marked", "none"):
        raise BadOption(f"{quoted(f'centres={centres}')} is not offered: write plain, marked or none")
    if n == 2 and centres != "plain":
        raise BadOption("cube:2 has no centres, so it takes no option centres")
    mechanism = grid_mechanism((n, n, n), cut=1 / 3, centres=centres != "none")
    return cut_solid(
        name,
        {"plain": f"cube of {n} slabs", "marked": f"cube of {n} slabs with marked centres"}.get(
            centres, f"cube of {n} slabs without visible centres"
        ),
        cuboid_solid((1.0, 1.0, 1.0)),
        mechanism,
        cube_alphabet(n, n, n),
        marked=frozenset({"centres"} if centres == "marked" else ()),
        hidden=frozenset({"centres"} if centres == "none" else ()),
    )


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
    return cut_solid(name, title, solid, grid_mechanism((3, 3, 3), cut=cut), cube_alphabet(3, 3, 3))


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


FAMILIES: dict[str, Callable[[str, str, dict[str, str]], Puzzle]] = {"cube": cube, "shape-mod": shape_mod}
KNOWN_OPTIONS = {"cube": ("centres",), "shape-mod": ("axis", "degrees", "cut", "shift", "paint")}
