"""Where the turns take a piece: orbits of slots, ways round, and a rotation for every label.

A placement of a piece is the rotation that it has made (an index). The placements that keep its slot form a finite
group of rotations about one axis, so a cyclic group: the twists. A chart gives each label (slot, twist) the placement that
takes a piece from the base slot there.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from oddswap.errors import BadSolid
from oddswap.puzzles.base.mechanism import Cell, Mechanism

Names = Mapping[Cell, tuple[str, str]]
"""The slot name and the family of each cell that holds a piece."""


@dataclass(frozen=True, eq=False)
class Chart:
    """An orbit's slots in order, its order of twist, and the placement (a rotation from the base) of each label."""

    cells: list[Cell]
    twist: int
    placements: list[int]


def orbits(names: Names, mechanism: Mechanism) -> list[list[Cell]]:
    """The cells by orbit under the turns: those of more faces and plainer names first, cells in the order of names."""

    def key(cell: Cell):
        faces, dot, rest = names[cell][0].partition(".")
        layers = [int(number) for number in re.findall(r"\d+", rest)]
        return -len(faces), dot, ["UDFBLR".find(c) for c in faces], faces, layers, rest

    found: list[list[Cell]] = []
    done: set[Cell] = set()
    for first in sorted(names, key=key):
        if first in done:
            continue
        orbit = [first]
        for cell in orbit:
            orbit += {target for target, _ in steps(cell, mechanism)}.difference(orbit)
        done.update(orbit)
        found.append(sorted(orbit, key=key))
    return found


def steps(cell: Cell, mechanism: Mechanism) -> Iterator[tuple[Cell, int]]:
    """Where one turn, or one whole rotation, can take a cell: ``(cell, rotation)`` pairs."""
    for slab in mechanism.slabs:
        if slab.holds(cell):
            rotation = mechanism.rotation(slab.axis, slab.order)
            yield mechanism.carry(cell, rotation), rotation
    for _, axis, order in mechanism.whole:
        rotation = mechanism.rotation(axis, order)
        yield mechanism.carry(cell, rotation), rotation


def chart(cells: list[Cell], names: Names, mechanism: Mechanism) -> Chart:
    """The chart of one orbit; twist 0 keeps the first-named face first wherever that is possible."""
    table, base = mechanism.rotations, cells[0]
    reached, queue = {0: base}, [0]
    for placement in queue:
        for target, rotation in steps(reached[placement], mechanism):
            following = int(table.then[placement, rotation])
            if following not in reached:
                reached[following] = target
                queue.append(following)
    keeping = [rotation for rotation, cell in reached.items() if cell == base]
    one_step = _smallest_clockwise(keeping, base, names, mechanism)
    powers = [0]
    for _ in keeping[1:]:
        powers.append(int(table.then[powers[-1], one_step]))
    placements = []
    for cell in cells:
        reference = min(
            (rotation for rotation, where in reached.items() if where == cell),
            key=lambda r: (not _keeps_first_face(names[base][0], names[cell][0], r, mechanism), r),
        )
        placements.extend(int(table.then[power, reference]) for power in powers)
    return Chart(cells, len(keeping), placements)


def _smallest_clockwise(keeping: list[int], base: Cell, names: Names, mechanism: Mechanism) -> int:
    """Of the rotations that keep the base slot, the one by the smallest angle clockwise as seen from outside."""
    if len(keeping) == 1:
        return 0
    outward = _outward(names[base][0], mechanism)
    angle = 2 * np.pi / len(keeping)
    for rotation in keeping:
        matrix = mechanism.rotations.matrices[rotation]
        sense = np.array([matrix[2, 1] - matrix[1, 2], matrix[0, 2] - matrix[2, 0], matrix[1, 0] - matrix[0, 1]])
        right_angle = abs(np.trace(matrix) - 1 - 2 * np.cos(angle)) < 1e-6
        if right_angle and (len(keeping) == 2 or sense @ outward < 0):
            return rotation
    raise BadSolid(f"the placements at {names[base][0]} are not turns about one axis")


def _outward(name: str, mechanism: Mechanism) -> np.ndarray:
    """From where a slot is seen: from its faces, or, where these lie all round it, from the faces that its layers name."""
    faces, _, layers = name.partition(".")
    for letters in (faces, layers.upper()):
        outward = sum((mechanism.directions[c] for c in letters if c in mechanism.directions), np.zeros(3))
        if outward.any():
            break
    return outward


def _faces(name: str, mechanism: Mechanism) -> list[str]:
    """The faces that a slot's name begins with."""
    return [letter for letter in name.partition(".")[0] if letter in mechanism.directions]


def _keeps_first_face(base: str, name: str, rotation: int, mechanism: Mechanism) -> bool:
    was, now = _faces(base, mechanism), _faces(name, mechanism)
    if not was or not now:
        return True
    turned = mechanism.rotations.matrices[rotation] @ mechanism.directions[was[0]]
    return bool(np.allclose(turned, mechanism.directions[now[0]]))
