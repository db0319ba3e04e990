"""Symmetries of shapes, against the point groups that crystallography gives them and against the letters of slot names."""

from itertools import permutations, product

import numpy as np
import pytest

from oddswap.puzzles.base.symmetry import shape_symmetries, turn_symmetries
from oddswap.puzzles.catalogue import load

# Orders of point groups (International Tables for Crystallography, volume A, chapter 3.2, from memory): m-3m 48, 4/mmm 16,
# mmm 8, -3m 12, 4/m 8, mm2 4, m 2, -43m 24; that of the icosahedron and the dodecahedron has 120.
ORDERS = {
    "cube:2": 48,
    "cube:3": 48,
    "cuboid:2x2x3": 16,
    "cuboid:2x3x4": 8,
    "cuboid:1x3x3": 8,  # of 16, the mirror between L and R moves no slot
    "shape-mod:cube": 48,
    "shape-mod:prism8": 16,  # the octagon and the square grid share four mirrors
    "shape-mod:prism6": 8,  # the hexagon and the grid share two mirrors through U, and the mirror between U and D
    "shape-mod:prism5": 4,  # the pentagon and the grid share one
    "shape-mod:prism3": 4,
    "shape-mod:prism8,paint=FR+FL+BR+BL": 16,
    "shape-mod:prism8,paint=FR+FL": 4,  # left for right and up for down stay
    "shape-mod:cube,paint=U+D": 16,  # the axis from U to D stays
    "shape-mod:cube,paint=U+D/F+B/L+R": 48,  # a cube of three colours: colours may change places
    "shape-mod:cube,axis=U,degrees=45": 16,
    "shape-mod:cube,axis=U,degrees=30": 8,  # no mirror is left but that between U and D
    "shape-mod:cube,axis=URF,degrees=60": 12,
    "shape-mod:cube,shift=0.05/0.1/0.16": 1,
    "shape-mod:cube,shift=0.1/0/0": 8,
    "shape-mod:cube,shift=0.1/0.1/0": 4,
    "shape-mod:cube,shift=0.1/0.1/0.1": 6,
    "tetrahedron": 24,
    "tetrahedron,tips=no": 24,
    "octahedron": 48,
    "dodecahedron": 120,
    "corner-cube": 48,
    "loop:5,window=3": 2,
    "tiles:3x3": 1,
}


@pytest.mark.parametrize("name", ORDERS)
def test_the_order_is_that_of_the_point_group(name):
    moves = shape_symmetries(load(name))
    assert len(set(moves)) == len(moves) == ORDERS[name]


@pytest.mark.parametrize("name", ["cube:2", "shape-mod:prism8", "shape-mod:prism5", "cuboid:2x2x3", "tetrahedron"])
def test_symmetries_are_a_group_of_permutations_of_slots(name):
    moves = {tuple(move) for move in shape_symmetries(load(name))}
    slots = range(len(load(name).slots))
    assert tuple(slots) in moves and all(sorted(move) == list(slots) for move in moves)
    assert {tuple(b[a[i]] for i in slots) for a in moves for b in moves} == moves


@pytest.mark.parametrize("name", ["cube:3", "cube:4"])
def test_symmetries_of_a_cube_are_renamings_of_its_faces(name):
    """All 48 ways to exchange the three axes and the two ends of each, applied letter by letter to the slots' names."""
    puzzle = load(name)
    axes, found = ("RL", "UD", "FB"), set()
    for order, flips in product(permutations(range(3)), product((0, 1), repeat=3)):
        letter = {axes[a][end]: axes[order[a]][end ^ flips[a]] for a in range(3) for end in (0, 1)}
        letter |= {k.lower(): v.lower() for k, v in letter.items()}
        found.add(tuple(puzzle.slots.index(spelled(slot, letter)) for slot in puzzle.slots))
    assert found == set(shape_symmetries(puzzle))


def spelled(slot, letter):
    """The canonical name of a slot under a renaming of the faces: faces in the order U D F B L R, layers likewise by axis."""
    faces, dot, layers = slot.partition(".")
    named = "".join(sorted((letter[c] for c in faces), key="UDFBLR".index))
    pairs = sorted((letter[c] + k for c, k in zip(layers[::2], layers[1::2], strict=True)), key=lambda p: "udfblr".index(p[0]))
    return named + dot + "".join(pairs)


@pytest.mark.parametrize(
    "name, order",
    [
        ("cube:3", 48),
        ("cube:3,turns=half", 48),
        ("cube:3,turns=R", 8),  # the symmetries of one face
        ("cube:3,turns=R+L", 16),
        ("cube:3,turns=R+U", 4),  # F for B, and R for U
        ("cube:3,turns=R+U2", 2),
        ("cube:3,turns=R+U+F", 6),
        ("cube:4,turns=R+2R", 8),
        ("shape-mod:prism8,turns=U", 8),
        ("shape-mod:prism8,turns=F", 4),
        ("corner-cube", 24),  # the four named corners are those of a tetrahedron
        ("tetrahedron", 24),
        ("octahedron", 48),
        ("tiles:3x3", 1),
    ],
)
def test_symmetries_that_keep_the_turns(name, order):
    """Counted by hand: those of the shape that take every turn of this copy to one of its turns."""
    assert len(turn_symmetries(load(name))) == order


@pytest.mark.parametrize("name", ["cube:3,turns=R+U", "cube:3,turns=R+U2", "shape-mod:prism8", "corner-cube", "cuboid:2x3x4"])
def test_a_turn_seen_in_a_symmetric_way_is_a_turn(name):
    puzzle = load(name)
    slot_of = np.repeat(np.arange(len(puzzle.slots)), [kind.twist for kind in puzzle.kind_of])
    turns = {tuple(slot_of[turn.permutation[puzzle.base_label]].tolist()) for turn in puzzle.turns.values()}
    for move in turn_symmetries(puzzle):
        there = {move[slot]: move[image] for turn in turns for slot, image in enumerate(turn)}
        assert there.keys() == set(range(len(puzzle.slots)))
        for turn in turns:
            renamed = dict(zip(move, (move[image] for image in turn), strict=True))
            assert tuple(renamed[slot] for slot in sorted(renamed)) in turns
