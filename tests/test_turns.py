"""Fewer turns: which stay, and the groups of boxes by half turns and in the box, by another model and two programs."""

from itertools import product

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.turns import with_turns
from oddswap.reasoning.laws import law_book
from tests import gap
from tests.boxes import box_moves

BOXES = [(2, 2, 2), (2, 2, 3), (2, 3, 3), (3, 3, 4), (2, 3, 4), (2, 2, 4), (1, 2, 2), (1, 3, 3), (1, 4, 4), (3, 3, 3)]
COPIES = [*product(BOXES, (False, True)), ((1, 1, 4), False), ((4, 3, 2), False), ((3, 2, 3), True)]


def named(sides, half):
    return load(f"cuboid:{'x'.join(map(str, sides))}{',turns=half' if half else ''}")


@pytest.mark.parametrize("sides, half", COPIES)
def test_orders_of_boxes_agree_with_integer_cells_and_sympy(sides, half):
    other = PermutationGroup([Permutation(images) for images in box_moves(sides, half).tolist()])
    assert law_book(named(sides, half)).order == other.order()


@gap.needs_gap
def test_orders_of_boxes_agree_with_integer_cells_and_gap():
    said = gap.gap("\n".join(f'Print(Size({gap.group(box_moves(*copy))}), "\\n");' for copy in COPIES))
    assert said == [str(law_book(named(*copy)).order) for copy in COPIES]


@pytest.mark.parametrize("sides", [(2, 2, 3), (2, 3, 4), (3, 3, 4)])
def test_what_turns_reach_is_what_they_reach_in_integer_cells(sides):
    """The same words in both models, and whether one leads to solved exactly when the other does."""
    puzzle, moves = named(sides, False), box_moves(sides)
    rng = np.random.default_rng(5)
    words = ["".join(rng.choice(list("RUF"), size=int(k))) for k in rng.integers(1, 5, size=60)]
    first = {"R": (0, sides[0] - 1), "U": (1, sides[1] - 1), "F": (2, sides[2] - 1)}
    order = [(axis, layer) for axis in range(3) for layer in range(1 - sides[axis], sides[axis], 2) if layer]
    for word in words:
        state, image = puzzle.solved, np.arange(moves.shape[1])
        for face in word:
            axis = first[face][0]
            quarter = sides[(axis + 1) % 3] == sides[(axis + 2) % 3]
            state = puzzle.follow(face if quarter else f"{face}2", state)
            image = moves[order.index(first[face])][image]
        home = [p == b and t == 0 for b, (p, t) in enumerate(zip(state.pieces, state.twists, strict=True))]
        assert all(home) == (image == np.arange(len(image))).all()


@pytest.mark.parametrize(
    "name, turns",
    [
        ("cube:3,turns=half", "U2 D2 F2 B2 L2 R2"),
        ("cube:3,turns=R", "R R2 R'"),
        ("cube:3,turns=R2+U", "U U2 U' R2"),
        ("cube:3,turns=R'", "R R2 R'"),
        ("cube:4,turns=half", "U2 2U2 D2 2D2 F2 2F2 B2 2B2 L2 2L2 R2 2R2"),
        ("cuboid:2x3x4,turns=half", "U2 D2 F2 2F2 B2 2B2 L2 R2"),
        ("cuboid:2x3x3,turns=F2+L", "F2 L L2 L'"),
    ],
)
def test_a_turn_brings_what_repeating_it_gives(name, turns):
    """In the order in which the whole puzzle has them."""
    puzzle = load(name)
    whole = load(name.partition(",")[0])
    assert sorted(puzzle.turns) == sorted(turns.split())
    assert list(puzzle.turns) == [turn for turn in whole.turns if turn in puzzle.turns]
    assert (puzzle.kinds, puzzle.looks.tolist()) == (whole.kinds, whole.looks.tolist()) and puzzle.name == name


def test_all_turns_that_keep_the_outline_are_the_puzzle_itself():
    puzzle = load("cube:3")
    assert with_turns(puzzle, "box") is puzzle


@pytest.mark.parametrize(
    "name, rotations",
    [
        ("cube:3,turns=half", ""),
        ("cube:2", "x x2 x' y y2 y' z z2 z'"),
        ("cube:2,turns=half", "x2 y2 z2"),
        ("cube:2,turns=R", "x x2 x'"),
        ("cube:2,turns=R2", "x2"),
        ("cube:2,turns=R+U2", "x x2 x' y2 z2"),
        ("cube:2,turns=R+U", "x x2 x' y y2 y' z z2 z'"),
        ("cuboid:2x2x3,turns=F", "z z2 z'"),
        ("cuboid:2x2x3,turns=half", "x2 y2 z2"),
    ],
)
def test_the_rotations_that_join_are_those_that_the_turns_generate(name, rotations):
    """R and U2 generate the rotations that keep the axis through R: eight of them, among the named ones x… y2 z2."""
    assert sorted(load(name).rotations) == sorted(rotations.split())


@pytest.mark.parametrize(
    "name, reason",
    [
        ("cube:3,turns=quarter", "`quarter` is no turn of cube of 3 slabs"),
        ("cube:3,turns=R+", "`` is no turn"),
        ("cube:3,turns=2R", "`2R` is no turn"),
        ("cuboid:2x3x4,turns=R", "`R` is no turn"),
        ("shape-mod:prism8,turns=Q", "`Q` is no turn"),
    ],
)
def test_what_does_not_turn_is_refused_with_what_does(name, reason):
    with pytest.raises(BadOption, match=reason) as caught:
        load(name)
    assert "\n" not in str(caught.value) and "its turns are U" in str(caught.value)


def test_without_half_turns_there_is_nothing_to_turn():
    """The turns of the tetrahedron are thirds (a fact of its shape)."""
    with pytest.raises(BadOption, match="leaves nothing to turn"):
        with_turns(load("tetrahedron"), "half")
