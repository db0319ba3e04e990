"""A box by its three sides, cut into cubes; the grid that holds one that may leave its outline, and what lies in each cell.

**Names of slots.** In the closed box as there. Elsewhere there is a dot and the layers: a small letter counts from that side of
the closed box inwards, a capital outwards, so ``.R1u2`` is one place beyond R in the second layer from U.
"""

from dataclasses import replace

import numpy as np

from oddswap.errors import UnknownPuzzle, quoted
from oddswap.puzzles.base.mechanism import AXIS, CENTRES, DIRECTIONS, Body, Mechanism, even_planes, grid_mechanism, name_grid_cell
from oddswap.puzzles.base.named import frozen
from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.puzzles.base.puzzle_names import count
from oddswap.puzzles.base.space import Face
from oddswap.puzzles.boxes.box import BoxPuzzle, Place
from oddswap.puzzles.boxes.outlines import extended, leaves_the_outline
from oddswap.puzzles.solids.cutting import cut_solid
from oddswap.puzzles.solids.shapes import cuboid_solid
from oddswap.values.orbits import numbered
from oddswap.values.sequence import FACES, OPPOSITE, Alphabet, cube_alphabet


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
    solid, mechanism = cuboid_solid((x / longest, y / longest, z / longest)), _even_grid((x, y, z))
    return cut_solid(name, f"box of {x} by {y} by {z}", solid, mechanism, cube_alphabet(x, y, z))


def _even_grid(counts: Place) -> Mechanism:
    """Equal slabs along each axis, the longest of which reaches from one end of the solid to the other."""
    return grid_mechanism(even_planes(counts, max(1, max(counts) - 2) / max(counts)))


BURIED = CENTRES | {"corners", "edges", "wings", "inner cells"}
LARGEST = 256
"""A packed state has one byte for each cell, with the number of its slot."""


def box_puzzle(name: str, sides: Place) -> BoxPuzzle:
    """The box with every turn that closes. `UnknownPuzzle` for one whose grid is too large."""
    grid = extended(sides)
    if np.prod(grid) > LARGEST:
        raise UnknownPuzzle(
            f"{quoted(name)} would need {np.prod(grid)} cells: with turns=all at most {LARGEST} are offered, so make it smaller"
        )
    mechanism = _mechanism(sides, grid)
    longest, title = max(grid), f"box of {sides[0]} by {sides[1]} by {sides[2]} that may leave its outline"
    solid = cuboid_solid((grid[0] / longest, grid[1] / longest, grid[2] / longest))
    cut = cut_solid(name, title, solid, mechanism, _alphabet(sides, grid), buried=BURIED)
    places = tuple(_place(body.cell, grid) for body in cut.geometry.bodies)
    low, high = np.array(places) >= 1 - np.array(sides), np.array(places) <= np.array(sides) - 1
    filled = (low & high).all(axis=1)
    bodies = tuple(
        _dressed(body, np.array(place), sides) if full else Body(body.cell, ())
        for body, place, full in zip(cut.geometry.bodies, places, filled, strict=True)
    )
    geometry = replace(cut.geometry, bodies=bodies)
    blank = np.array([full and not any(face.facet for face in body.faces) for body, full in zip(bodies, filled, strict=True)])
    plain = {field: getattr(cut, field) for field in ("name", "title", "turns", "alphabet", "rotations")}
    puzzle = BoxPuzzle(
        **plain,
        kinds=_renamed(cut.kinds, filled, blank),
        looks=np.zeros(cut.degree, dtype=np.intp),
        geometry=geometry,
        sides=sides,
        places=places,
        filled=filled,
        blank_inside=blank,
    )
    return replace(puzzle, looks=_looks(puzzle))


def _alphabet(sides: Place, grid: Place) -> Alphabet:
    names = []
    for face in FACES:
        names += [face * (k + 1) for k in range(1, (grid[AXIS[face]] - sides[AXIS[face]]) // 2 + 1)]
    return replace(cube_alphabet(*sides), names=tuple(names))


def _mechanism(sides: Place, grid: Place) -> Mechanism:
    plain, slabs = _even_grid(grid), []
    for slab in plain.slabs:
        axis = int(np.abs(slab.axis).argmax())
        beyond = (grid[axis] - sides[axis]) // 2 + 1 - slab.depth
        if beyond > 0:
            slabs.append(replace(slab, face=slab.face * (beyond + 1), depth=0))
        elif not (sides[axis] % 2 and 2 * (1 - beyond) > sides[axis]):
            slabs.append(replace(slab, depth=1 - beyond))
    return replace(plain, slabs=tuple(slabs), name_cell=lambda cell, _: _name(_place(cell, grid), sides), outer=0)


def _place(cell: tuple[int, ...], grid: Place) -> Place:
    """The middle of a cell, in half layers from the middle of the box."""
    first = (0, grid[0] - 1, grid[0] + grid[1] - 2)
    x, y, z = (2 * sum(sign > 0 for sign in cell[first[a] : first[a] + grid[a] - 1]) + 1 - grid[a] for a in range(3))
    return x, y, z


def _name(place: Place, sides: Place) -> tuple[str, str]:
    """The slot's name and its family; ``("", "")`` for the cell in the very middle, which never moves."""
    if not any(place):
        return "", ""
    if all(abs(p) < n for p, n in zip(place, sides, strict=True)):
        start = {0: 0, 1: sides[0] - 1, 2: sides[0] + sides[1] - 2}
        signs = tuple(1 if 2 * k + 1 - n <= p - 1 else -1 for p, n in zip(place, sides, strict=True) for k in range(n - 1))
        named = name_grid_cell(signs, sides, start)
        if named[0]:
            return named
    layers = ""
    for axis, high in ((1, "U"), (2, "F"), (0, "R")):
        side = high if place[axis] > 0 else OPPOSITE[high]
        depth = (sides[axis] - abs(place[axis]) + 1) // 2
        layers += f"{side}{1 - depth}" if depth < 1 else f"{side.lower()}{depth}" if place[axis] else ""
    return "." + layers, "inner cells"


def _dressed(body: Body, place: np.ndarray, sides: Place) -> Body:
    """The body of a unit cell with colours where it reaches the outside of the closed box, and dark faces elsewhere."""
    faces = []
    for face in body.faces:
        letter = max(DIRECTIONS, key=lambda one: float(DIRECTIONS[one] @ face.normal))
        outside = place @ DIRECTIONS[letter] == sides[AXIS[letter]] - 1
        faces.append(Face(letter if outside else None, face.vertices))
    return Body(body.cell, tuple(faces))


def _renamed(kinds: tuple[Kind, ...], filled: np.ndarray, blank: np.ndarray) -> tuple[Kind, ...]:
    """Kinds without a coloured piece are called by what they hold."""
    renamed = []
    for kind in kinds:
        here = list(kind.places)
        if not (filled[here] & ~blank[here]).any():
            word = "blank cells" if filled[here].any() else "air"
            renamed.append(replace(kind, name=f"{word} like {kind.slots[0]}", family=word))
        else:
            renamed.append(kind)
    return tuple(renamed)


def _looks(puzzle: BoxPuzzle) -> np.ndarray:
    """Equal numbers for air, for blank cells, and for pieces that show the same paints the same way once in the same slot."""
    geometry, looks = puzzle.geometry, []
    matrices = geometry.mechanism.rotations.matrices
    for kind in puzzle.kinds:
        shown: list[object] = []
        for piece in kind.places:
            for twist in range(kind.twist):
                if not puzzle.filled[piece] or puzzle.blank_inside[piece]:
                    shown.append(bool(puzzle.filled[piece]))
                    continue
                turned = matrices[geometry.rotation_of(puzzle.base_label, kind.twist, piece, kind.start, twist)]
                faces = (face for face in geometry.bodies[piece].faces if face.facet)
                seen = ((*(turned @ face.normal).round().astype(int).tolist(), geometry.paints[face.facet]) for face in faces)
                shown.append(frozenset(seen))
        looks += numbered(shown)
    return frozen(looks)
