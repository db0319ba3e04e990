"""The three-slab mechanism inside another solid: a cube turned against its cuts, a prism, or half-spaces from a file."""

import re
from pathlib import Path

import numpy as np

from oddswap.errors import BadOption, UnknownPuzzle, quoted
from oddswap.puzzles.base.mechanism import grid_mechanism
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.solids.cutting import cut_solid
from oddswap.puzzles.solids.shapes import Solid, corner_axis, cuboid_solid, prism_solid, solid_from_file
from oddswap.values.alphabet import cube_alphabet


def shape_mod(name: str, size: str, options: dict[str, str]) -> Puzzle:
    """Return the three-slab mechanism inside the solid ``size``; the docstring of the catalogue lists its options."""
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
        solid = solid.shifted(_vector("shift", options.pop("shift"))).painted([[facet.name for facet in solid.facets]])
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
