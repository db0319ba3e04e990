"""Mechanisms of two to five slabs in other solids: twins and hidden turns from vertices alone, orders by GAP.

What is independent here: the solid is a list of half-spaces, a piece is what all its planes leave, its corners come from all
triples of planes, and the rotations are signed permutations.
"""

import random
from collections import defaultdict
from itertools import combinations, permutations, product

import numpy as np
import pytest

from oddswap.errors import BadSolid
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from tests.common.gap import gap, group, needs_gap

UP, FRONT, RIGHT = np.array([0.0, 1, 0]), np.array([0.0, 0, 1]), np.array([1.0, 0, 0])
AXES = {"U": UP, "UR": UP + RIGHT, "URF": UP + RIGHT + FRONT, "F": FRONT}
ROTATIONS = [
    np.array([[signs[i] if j == order[i] else 0 for j in range(3)] for i in range(3)], dtype=float)
    for order in permutations(range(3))
    for signs in product((1, -1), repeat=3)
]
ROTATIONS = [matrix for matrix in ROTATIONS if np.linalg.det(matrix) > 0]


def about(axis, degrees):
    """The rotation clockwise as seen from where the axis points (Rodrigues 1840)."""
    x, y, z = axis / np.linalg.norm(axis)
    cross, angle = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]]), -np.radians(degrees)
    return np.eye(3) + np.sin(angle) * cross + (1 - np.cos(angle)) * cross @ cross


def solid(size):
    """The half-spaces ``normal . x <= offset``."""
    if size == "cube" or size.startswith("box"):
        sides = [1, 1, 1] if size == "cube" else [int(side) for side in size[3:].split("x")]
        return [
            (sign * unit, side / min(sides)) for unit, side in zip((RIGHT, UP, FRONT), sides, strict=True) for sign in (1, -1)
        ]
    sides = int(size[5:])
    return [(UP, 1.0), (-UP, 1.0), *((about(UP, 360 * i / sides) @ FRONT, 1.0) for i in range(sides))]


def corners(spaces):
    """The corners of what all half-spaces leave, each with the numbers of those on whose planes it lies."""
    normals, offsets = np.array([n for n, _ in spaces]), np.array([o for _, o in spaces])
    threes = np.array(list(combinations(range(len(spaces)), 3)))
    threes = threes[np.abs(np.linalg.det(normals[threes])) > 1e-9]
    points = np.linalg.solve(normals[threes], offsets[threes][..., None])[..., 0]
    gaps = offsets - points @ normals.T
    within = (gaps >= -1e-9).all(axis=1)
    return {
        tuple(np.round(point, 7) + 0.0): frozenset(np.flatnonzero(np.abs(gap) < 1e-7).tolist())
        for point, gap in zip(points[within], gaps[within], strict=True)
    }


def shape(piece, facets, matrix):
    """A rotated piece as anybody sees it: its corners, and those of each coloured facet."""
    turned = {point: tuple(np.round(matrix @ point, 5) + 0.0) for point in piece}
    coloured = {facet: frozenset(turned[p] for p, on in piece.items() if facet in on) for facet in range(facets)}
    return frozenset(turned.values()), frozenset((f, points) for f, points in coloured.items() if len(points) > 2)


def pieces_of(spaces, planes):
    """By the middle of its cell, what each cell of a grid holds, and how many coloured facets it shows."""
    ends = [
        (planes[0] - 2, planes[0]) if planes else (-9, 9),
        *zip(planes, planes[1:], strict=False),
        (planes[-1], planes[-1] + 2),
    ]
    found = {}
    for place in product(range(len(ends)), repeat=3):
        walls = []
        for axis, at in zip((RIGHT, UP, FRONT), place, strict=True):
            walls += [(-axis, -ends[at][0])] if at > 0 else []
            walls += [(axis, ends[at][1])] if at < len(ends) - 1 else []
        middle = tuple(2 * at - len(ends) + 1 for at in place)
        piece = corners([*spaces, *walls])
        if shape(piece, len(spaces), np.eye(3))[1]:
            found[middle] = piece
    return found


def looks_from_vertices(spaces, planes):
    """For each orbit of cells (by its cells): how many looks it has, and by cell how many ways round look alike."""
    pieces, n = pieces_of(spaces, planes), len(planes) + 1
    orbits = defaultdict(set)
    for cell in pieces:
        fixed = n % 2 == 1 and sorted(map(abs, cell))[:2] == [0, 0]
        orbits[cell if fixed else min(tuple((r @ cell).astype(int).tolist()) for r in ROTATIONS)].add(cell)
    told = {}
    for cells in orbits.values():
        base = min(cells)
        by_piece = {
            cell: [shape(pieces[cell], len(spaces), r) for r in ROTATIONS if tuple((r @ cell).astype(int).tolist()) == base]
            for cell in cells
        }
        alike = {cell: len(shapes) // len(set(shapes)) for cell, shapes in by_piece.items()}
        told[frozenset(cells)] = len(set().union(*by_piece.values())), alike
    return told


def drawn(seed):
    """A puzzle's name, its half-spaces and its planes, drawn."""
    dice = random.Random(seed)
    slabs = dice.choice((2, 3, 4, 5))
    size = dice.choice(["cube", "cube", *(f"prism{n}" for n in range(3, 13)), "box1x1x2", "box2x2x3", "box2x3x4"])
    spaces, options = solid(size), [f"slabs={slabs}"]
    if dice.random() < 0.6:
        axis, degrees = dice.choice(list(AXES)), dice.choice((15, 20, 22.5, 30, 36, 45, 60, 72, 90, 120))
        spaces = [(about(AXES[axis], degrees) @ normal, offset) for normal, offset in spaces]
        options += [f"axis={axis}", f"degrees={degrees}"]
    cuts = sorted(dice.sample([0.12, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5], (slabs - 1) // 2), reverse=True)
    options += [f"cut={'/'.join(map(str, cuts))}"] if cuts else []
    planes = [*(-cut for cut in cuts), *([0.0] if slabs % 2 == 0 else []), *reversed(cuts)]
    return f"shape-mod:{size},{','.join(options)}", spaces, planes


def middle_of(puzzle, slot):
    """The middle of a slot's cell, from the signs of its planes."""
    signs = np.array(puzzle.geometry.bodies[slot].cell).reshape(3, -1)
    return tuple(signs.sum(axis=1).tolist())


def test_twins_and_hidden_turns_are_those_of_the_vertices(cases):
    wanted, compared = (300, 0) if len(cases) > 100 else (30, 0)
    for seed in range(10 * wanted):
        name, spaces, planes = drawn(seed)
        try:
            puzzle = load(name)
        except BadSolid:
            continue
        if puzzle.nearly:
            continue
        told = looks_from_vertices(spaces, planes)
        for kind in puzzle.kinds:
            count, alike = told[frozenset(middle_of(puzzle, slot) for slot in kind.places)]
            looks = puzzle.looks[list(kind.labels)].reshape(len(kind.places), kind.twist)
            assert len(set(looks.ravel().tolist())) == count, (name, kind.name)
            for slot, row in zip(kind.places, looks.tolist(), strict=True):
                assert kind.twist // len(set(row)) == alike[middle_of(puzzle, slot)], (name, puzzle.slots[slot])
        compared += 1
        if compared == wanted:
            break
    assert compared == wanted


@pytest.mark.parametrize("slabs", [2, 3, 4, 5])
@pytest.mark.parametrize("outside", ["cube,axis=URF,degrees=37", "prism7", "box2x2x3"])
def test_turns_are_those_of_the_cube_whatever_is_around_it(slabs, outside):
    other, cube = load(f"shape-mod:{outside},slabs={slabs}"), load(f"cube:{slabs}")
    assert other.slots == cube.slots and list(other.turns) == list(cube.turns)
    for name, turn in other.turns.items():
        there = other.slots_of(turn.permutation[other.base_label])
        assert (there == cube.slots_of(cube.turns[name].permutation[cube.base_label])).all()


NEW = [
    *(
        f"shape-mod:{outside},slabs={slabs}"
        for outside in ("cube,axis=U,degrees=45", "prism8", "prism5", "prism3")
        for slabs in (2, 4, 5)
    ),
    *["shape-mod:box2x2x3,slabs=2", "shape-mod:box2x2x3,slabs=4", "shape-mod:box2x3x4,slabs=5", "shape-mod:box1x1x2"],
    *["shape-mod:prism12,slabs=4", "shape-mod:prism6,slabs=5,cut=0.5/0.2", "shape-mod:cube,slabs=4,shift=0.1/0.2/0.05"],
    *["shape-mod:cube,slabs=5,axis=URF,degrees=60,cut=0.5/0.2", "shape-mod:prism8,slabs=4,paint=FR+FL+BR+BL"],
    *(f"shape-mod:{outside},mechanism=corner-cube" for outside in ("prism6", "cube,axis=URF,degrees=60", "prism3", "box2x2x3")),
]


@needs_gap
def test_orders_are_those_of_gap(cases):
    assert len(NEW) >= 25
    names = NEW if len(cases) > 100 else NEW[::5]
    books = [law_book(load(name)) for name in names]
    program = "\n".join(f'Print(Size({group(load(name).generators)}), "\\n");' for name in names)
    assert [int(line) for line in gap(program)] == [book.order for book in books]
    assert all(book.complete for book in books)


@pytest.mark.parametrize(
    "name, sentence",
    [
        ("shape-mod:cube,slabs=6", "slabs is a whole number from 2 to 5"),
        ("shape-mod:cube,slabs=2,cut=0.3", "two slabs meet in the middle"),
        ("shape-mod:cube,slabs=5,cut=0.3", "give 2, the outermost first"),
        ("shape-mod:cube,slabs=5,cut=0.2/0.3", "the outermost first"),
        ("shape-mod:cube,slabs=3,cut=1.5", "fractions between 0 and 1"),
        ("shape-mod:prism5,slabs=5,cut=0.9/0.2", "so move them inwards; cut=0.63/0.14 does"),
        ("shape-mod:cube,slabs=4,cut=0.99", "move the cut or the solid; cut=0.941 does"),
        ("shape-mod:cube,mechanism=face", "write mechanism=corner-cube"),
        ("shape-mod:cube,mechanism=corner-cube,slabs=4", "has no slabs"),
        ("shape-mod:box1x2x9", "less slender"),
        ("shape-mod:box0x2x3", "from 1 to 12"),
        ("shape-mod:ball", "prism3 to prism12, a box such as box2x2x3"),
    ],
)
def test_what_cannot_be_cut_is_refused_in_a_sentence(name, sentence):
    with pytest.raises(Exception, match=sentence) as refused:
        load(name)
    assert type(refused.value).__module__ == "oddswap.errors" and "\n" not in str(refused.value)
