"""The cube, cut into so many slabs each way."""

from oddswap.errors import BadOption, quoted
from oddswap.puzzles.base.mechanism import CENTRES, even_planes, grid_mechanism
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.puzzle_names import count
from oddswap.puzzles.solids.cutting import cut_solid
from oddswap.puzzles.solids.shapes import cuboid_solid
from oddswap.values.sequence import cube_alphabet


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
        grid_mechanism(even_planes((n, n, n), max(1, n - 2) / n), centres=centres != "none"),
        cube_alphabet(n, n, n),
        marked=CENTRES if centres == "marked" else frozenset(),
        hidden=CENTRES if centres == "none" else frozenset(),
    )
