"""The cube, cut into so many slabs each way."""

import re

from oddswap.errors import BadOption, UnknownPuzzle, quoted
from oddswap.puzzles.base.mechanism import CENTRES, grid_mechanism
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.solids.cutting import cut_solid
from oddswap.puzzles.solids.shapes import cuboid_solid
from oddswap.values.alphabet import cube_alphabet


def cube(name: str, size: str, options: dict[str, str]) -> Puzzle:
    """Return the cube of ``size`` slabs each way; its option is ``centres``."""
    n = count("cube", size, 2, 25)
    centres = options.pop("centres", "plain")
    if centres not in ("plain", "marked", "none"):
        raise BadOption(f"{quoted(f'centres={centres}')} is not offered: write plain, marked or none")
    if n == 2 and centres != "plain":
        raise BadOption("cube:2 has no centres, so it takes no option centres")
    title = f"cube of {n} slabs"
    title += {"plain": "", "marked": " with marked centres", "none": " without visible centres"}[centres]
    return cut_solid(
        name,
        title,
        cuboid_solid((1.0, 1.0, 1.0)),
        grid_mechanism((n, n, n), cut=max(1, n - 2) / n, centres=centres != "none"),
        cube_alphabet(n, n, n),
        marked=CENTRES if centres == "marked" else frozenset(),
        hidden=CENTRES if centres == "none" else frozenset(),
    )


def count(what: str, text: str, least: int, most: int) -> int:
    """Return the number that a name gives, from ``least`` to ``most``; `UnknownPuzzle` says ``what`` it was meant to be."""
    if not re.fullmatch(r"[0-9]{1,3}", text) or not least <= int(text) <= most:
        raise UnknownPuzzle(f"{what} is a whole number from {least} to {most}, not {quoted(text)}")
    return int(text)
