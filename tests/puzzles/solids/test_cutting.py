"""Labels, twists and turns of cut solids, against integer vectors: a piece is where a rotation of space takes it."""

import numpy as np
import pytest

from oddswap.puzzles.base.space import turn_matrix
from oddswap.puzzles.catalogue import load
from tests.common.published import cases
from tests.common.vectors import RINGS, VECTORS, position, quarter

CUBES = ["cube:2", "cube:3", "cube:3,centres=marked", "cube:3,centres=none"]
SHAPES = [row[0] for row in cases("shapes", "puzzle") if row[0].startswith("shape-mod")] + [
    "shape-mod:prism3",
    "shape-mod:prism5",
    "shape-mod:cube,shift=0.05/0.1/0.16",
    "shape-mod:cube,axis=UR,degrees=30",
]


@pytest.fixture(params=CUBES, scope="module")
def cube(request):
    return load(request.param)


def rotation(puzzle, piece, slot, twist):
    """The matrix by which a piece of home slot ``piece`` has turned when it sits in ``slot`` with ``twist``."""
    geometry, kind = puzzle.geometry, puzzle.kind_of[slot]
    index = geometry.rotation_of(puzzle.base_label, kind.twist, piece, slot, twist)
    return np.round(geometry.mechanism.rotations.matrices[index]).astype(int)


def every_place(puzzle):
    """All (piece, slot, twist) of one kind each."""
    for kind in puzzle.kinds:
        for piece in kind.places:
            for slot in kind.places:
                for twist in range(kind.twist):
                    yield piece, slot, twist


def place(puzzle, label):
    """The slot and the twist of a label."""
    slot = max(b for b in range(len(puzzle.slots)) if puzzle.base_label[b] <= label)
    return slot, int(label - puzzle.base_label[slot])


def test_a_piece_in_a_slot_has_turned_so_that_it_lies_there(cube):
    for piece, slot, twist in every_place(cube):
        matrix = rotation(cube, piece, slot, twist)
        assert tuple((matrix @ position(cube.slots[piece])).tolist()) == position(cube.slots[slot])


def test_at_home_without_a_twist_nothing_has_turned(cube):
    for b in range(len(cube.slots)):
        assert (rotation(cube, b, b, 0) == np.eye(3)).all()


def test_without_a_twist_the_first_named_face_shows_on_the_first_named_face(cube):
    for piece, slot, twist in every_place(cube):
        home, here = (VECTORS[cube.slots[s][0]] for s in (piece, slot))
        shows = tuple((rotation(cube, piece, slot, twist) @ home).tolist())
        if len(cube.slots[slot]) > 1:
            assert (shows == here) == (twist == 0)


def test_one_more_twist_is_one_step_clockwise_from_outside(cube):
    for piece, slot, twist in every_place(cube):
        order = cube.kind_of[slot].twist
        step = turn_matrix(position(cube.slots[slot]), 2 * np.pi / order)
        after = rotation(cube, piece, slot, (twist + 1) % order)
        assert np.allclose(step @ rotation(cube, piece, slot, twist), after)


def test_a_corner_twists_clockwise_from_u_to_r_to_f():
    """Looking at the corner of U, R and F from outside, they follow each other clockwise in this order."""
    cube = load("cube:3")
    slot = cube.slot("UFR")
    matrix = rotation(cube, slot, slot, 1)
    for here, there in ("UR", "RF", "FU"):
        assert tuple((matrix @ VECTORS[here]).tolist()) == VECTORS[there]


def test_turns_carry_every_label_as_the_rotation_does(cube):
    turns = [(turn, turn.step.stem, False) for turn in cube.turns.values()]
    turns += [(turn, {"x": "R", "y": "U", "z": "F"}[turn.step.stem], True) for turn in cube.rotations.values()]
    for turn, face, whole in turns:
        matrix = np.linalg.matrix_power(quarter(face), turn.step.amount % 4)
        for piece, slot, twist in every_place(cube):
            moves = whole or face in cube.slots[slot]
            after = place(cube, turn.permutation[cube.base_label[slot] + twist])
            expected = (matrix if moves else np.eye(3, dtype=int)) @ rotation(cube, piece, slot, twist)
            assert (rotation(cube, piece, *after) == expected).all()


def test_turns_are_named_and_know_what_moves(cube):
    assert list(cube.turns) == [f"{face}{mark}" for face in "UDFBLR" for mark in ("", "2", "'")]
    for name, turn in cube.turns.items():
        assert str(turn.step) == turn.name == name and turn.axis == VECTORS[name[0]] and not turn.whole
        assert turn.slots == {b for b, slot in enumerate(cube.slots) if name[0] in slot}
        assert np.isclose(turn.angle, {"": 1, "2": 2, "'": -1}[name[1:]] * np.pi / 2)
        for b in range(len(cube.slots)):
            labels = cube.base_label[b] + np.arange(cube.kind_of[b].twist)
            assert b in turn.slots or (turn.permutation[labels] == labels).all()
        with pytest.raises(ValueError):
            turn.permutation[0] = 1


def test_whole_rotations_turn_everything_where_nothing_fixes_the_holding(cube):
    free = cube.name in ("cube:2", "cube:3,centres=none")
    assert list(cube.rotations) == ([f"{axis}{mark}" for axis in "xyz" for mark in ("", "2", "'")] if free else [])
    assert all(turn.whole and len(turn.slots) == len(cube.slots) for turn in cube.rotations.values())


@pytest.mark.parametrize("name", SHAPES)
def test_every_shape_on_the_mechanism_turns_as_the_cube_does(name):
    cube, shape = load("cube:3"), load(name)
    assert [(k.name, k.slots, k.twist) for k in shape.kinds] == [(k.name, k.slots, k.twist) for k in cube.kinds]
    assert list(shape.turns) == list(cube.turns)
    for turn in cube.turns.values():
        assert (shape.turns[turn.name].permutation == turn.permutation).all()


@pytest.mark.parametrize("face", RINGS)
def test_a_centre_counts_its_quarter_turns(face):
    """A quarter turn of a face turns its own centre by one step, and no other."""
    cube = load("cube:3,centres=marked")
    twists = dict(zip(cube.slots, cube.follow(face).twists, strict=True))
    assert {slot: twists[slot] for slot in RINGS} == {slot: int(slot == face) for slot in RINGS}


def test_arrows_on_marked_centres_tell_their_turns_and_nothing_else_is_marked():
    geometry = load("cube:3,centres=marked").geometry
    for body in geometry.bodies:
        outer = [i for i, face in enumerate(body.faces) if face.facet is not None]
        assert len(body.marks) == (len(outer) == 1)
        for mark in body.marks:
            face = body.faces[mark.face]
            assert mark.face == outer[0] and np.allclose((mark.vertices - face.centre) @ face.normal, 0)
            assert np.linalg.norm(mark.vertices.mean(axis=0) - face.centre) > 0.01
            corners = face.vertices - face.centre
            assert (np.abs(mark.vertices - face.centre).max(axis=0) <= np.abs(corners).max(axis=0)).all()
    assert not any(body.marks for body in load("cube:3").geometry.bodies)
