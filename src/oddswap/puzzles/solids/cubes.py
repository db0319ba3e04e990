"""The cube, cut into so many slabs each way, and its mechanism inside another solid.

That is a cube turned against its cuts, a prism, a box, or half-spaces from a file.
"""

import re
from contextlib import suppress
from pathlib import Path

import numpy as np

from oddswap.errors import BadOption, BadSolid, UnknownPuzzle, quoted
from oddswap.forwards import fetched
from oddswap.puzzles.base.mechanism import CENTRES, Mechanism, even_planes, grid_mechanism
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.puzzle_names import count
from oddswap.puzzles.solids.cutting import cut_solid
from oddswap.puzzles.solids.shapes import Solid, corner_axis, cuboid_solid, prism_solid, solid_from_file
from oddswap.values.sequence import Alphabet, cube_alphabet


def cube(name: str, size: str, options: dict[str, str]) -> Puzzle:
    """Return the cube of ``size`` slabs each way; its option is ``centres``."""
    n = count("cube", size, 2, 25)
    centres = options.pop("centres", "plain")
    if centres not in ("plain", "marked", "none"):
        raise BadOption(f"{quoted(f'centres={centres}')} is not offered: write plain, marked or none")
    if n == 2 and centres != "plain":
        raise BadOption("cube:2 has no centres, so it takes no option centres")
    title = f"cube of {n} layers"
    title += {"plain": "", "marked": " with marked centres", "none": " without visible centres"}[centres]
    mechanism = grid_mechanism(even_planes((n, n, n), max(1, n - 2) / n), centres=centres != "none")
    looks = {"marked": {"marked": CENTRES}, "none": {"hidden": CENTRES}}.get(centres, {})
    return cut_solid(name, title, cuboid_solid((1.0, 1.0, 1.0)), mechanism, cube_alphabet(n, n, n), **looks)


corner_mechanism = fetched("puzzles.solids.polyhedra:corner_mechanism")
FACTORS = 0.95, 1.05, 0.9, 1.1, 0.8, 1.2, 0.7, 0.6, 0.5, 0.4, 0.3
"""By so much cuts are moved in turn to find some that a solid allows."""
LAYERS = {2: "two", 3: "three", 4: "four", 5: "five"}
LONGEST = 3
"""So many times the shortest side of a box is its longest at most."""


def shape_mod(name: str, size: str, options: dict[str, str]) -> Puzzle:
    """Return the mechanism of a cube inside the solid ``size``; the docstring of the catalogue lists its options."""
    solid, title, sides = _solid_named(size)
    cuts, slabs = _cuts(options, sides)
    title += f" in {LAYERS[slabs]} layers" if slabs else " turning at its corners"
    axis, degrees = options.pop("axis", None), options.pop("degrees", None)
    if (axis is None) != (degrees is None):
        raise BadOption("axis and degrees go together: write such as axis=U,degrees=45")
    if axis is not None and degrees is not None:
        turn = _number("degrees", degrees)
        solid = solid.turned(corner_axis(axis), turn)
        title += f", turned {turn:g} degrees against its cuts"
    if "shift" in options:
        solid = solid.shifted(_vector("shift", options.pop("shift"))).painted([[facet.name for facet in solid.facets]])
        title += ", off centre and in one colour"
    if "paint" in options:
        groups = [group.split("+") for group in options.pop("paint").split("/")]
        solid = solid.painted(groups)
        title += ", with facets that share a colour"
    try:
        return cut_solid(name, title, solid, *_mechanism(cuts, slabs))
    except BadSolid as error:
        raise BadSolid(f"{error}{_nearest(name, solid, cuts, slabs)}") from None


def _nearest(name: str, solid: Solid, cuts: list[float], slabs: int) -> str:
    """The cuts most like these that the solid allows, to be said behind the error; empty where none was found."""
    for factor in FACTORS if cuts else ():
        near = [round(cut * factor, 3) for cut in cuts]
        with suppress(BadSolid):
            cut_solid(name, "", solid, *_mechanism(near, slabs))
            return f"; cut={'/'.join(f'{cut:g}' for cut in near)} does"
    return ""


def _solid_named(size: str) -> tuple[Solid, str, int]:
    """The solid, its title, and how many sides it has if it is a prism whose corner facets may fill the corner columns."""
    if size == "cube":
        return cuboid_solid((1.0, 1.0, 1.0)), "cube", 0
    if re.fullmatch(r"prism[0-9]{1,3}", size):
        sides = int(size[5:])
        return prism_solid(sides), f"prism on {sides} sides", sides if sides > 5 else 0
    if re.fullmatch(r"box[0-9]{1,2}x[0-9]{1,2}x[0-9]{1,2}", size):
        x, y, z = (count("a side of a box", side, 1, 12) for side in size[3:].split("x"))
        if max(x, y, z) > LONGEST * min(x, y, z):
            raise UnknownPuzzle(f"{quoted(size)} is more than {LONGEST} times as long one way as another: make it less slender")
        shortest = min(x, y, z)
        return cuboid_solid((x / shortest, y / shortest, z / shortest)), f"box with sides as {x}, {y} and {z}", 0
    if size.endswith(".toml"):
        return solid_from_file(Path(size)), f"solid of {Path(size).stem}", 0
    offered = "cube, prism3 to prism12, a box such as box2x2x3, or a .toml file"
    raise UnknownPuzzle(f"{quoted(f'shape-mod:{size}')} is not offered: write {offered}")


def _cuts(options: dict[str, str], sides: int) -> tuple[list[float], int]:
    """How far out the planes lie on either side, the outermost first, and how many slabs there are; none of both for the
    mechanism of the corner-turning cube.
    """
    if "mechanism" in options:
        if (asked := options.pop("mechanism")) != "corner-cube":
            raise BadOption(f"{quoted(f'mechanism={asked}')} is not offered: write mechanism=corner-cube, or slabs=2 to slabs=5")
        if other := {"slabs", "cut"} & set(options):
            raise BadOption(f"mechanism=corner-cube has no {min(other)}: leave it out")
        return [], 0
    n = count("slabs", options.pop("slabs", "3"), 2, 5)
    outermost = float(np.tan(np.pi / sides)) if sides else max(1, n - 2) / n
    if "cut" not in options:
        return [outermost, outermost / 3][: (n - 1) // 2], n
    cuts = [_number("cut", text) for text in options.pop("cut").split("/")]
    if n == 2 or len(cuts) != (n - 1) // 2:
        right = "two slabs meet in the middle: leave cut out" if n == 2 else f"give {(n - 1) // 2}, the outermost first"
        raise BadOption(f"cut={'/'.join(f'{cut:g}' for cut in cuts)} does not fit {n} slabs: {right}")
    if not 0 < cuts[-1] <= cuts[0] < 1 or cuts != sorted(set(cuts), reverse=True):
        raise BadOption(f"cut={'/'.join(f'{cut:g}' for cut in cuts)}: give fractions between 0 and 1, the outermost first")
    return cuts, n


def _mechanism(cuts: list[float], slabs: int) -> tuple[Mechanism, Alphabet]:
    """The mechanism with planes there, and the names of its turns."""
    if not slabs:
        return corner_mechanism()
    planes = (*(-cut for cut in cuts), *((0.0,) if slabs % 2 == 0 else ()), *reversed(cuts))
    return grid_mechanism((planes, planes, planes)), cube_alphabet(slabs, slabs, slabs)


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
