"""A box by its three sides, cut into cubes."""

from oddswap.errors import UnknownPuzzle, quoted
from oddswap.puzzles.base.mechanism import even_planes, grid_mechanism
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.puzzle_names import count
from oddswap.puzzles.boxes.closing import leaves_the_outline
from oddswap.puzzles.boxes.grid import box_puzzle
from oddswap.puzzles.solids.cutting import cut_solid
from oddswap.puzzles.solids.shapes import cuboid_solid
from oddswap.values.sequence import cube_alphabet


def cuboid(name: str, size: str, options: dict[str, str]) -> Puzzle:
    """Return the box of these sides; on a grid that holds its open outlines where one of its ``turns`` leaves its own."""
    sides = size.split("x")
    if len(sides) != 3:
        raise UnknownPuzzle(f"{quoted(f'cuboid:{size}')} needs three sides: width L–R, height D–U, depth B–F, such as 3x4x5")
    x, y, z = (count("a side of cuboid", side, 1, 7) for side in sides)
    longest = max(x, y, z)
    if longest == 1:
        raise UnknownPuzzle("cuboid:1x1x1 has nothing to turn: make one side 2 or more")
    if leaves_the_outline(options.get("turns", "box"), (x, y, z)):
        return box_puzzle(name, (x, y, z))
    return cut_solid(
        name,
        f"box of {x} by {y} by {z}",
        cuboid_solid((x / longest, y / longest, z / longest)),
        grid_mechanism(even_planes((x, y, z), max(1, longest - 2) / longest)),
        cube_alphabet(x, y, z),
    )
