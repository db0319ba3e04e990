"""Fewer turns: which stay, and the groups of boxes by half turns and in the box, by another model and two programs."""

from itertools import product

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load, with_turns
from oddswap.reasoning.laws.law_book import law_book
from tests.common import gap
from tests.common.box_labels import model
from tests.reasoning.boxes import box_moves, layers, rotation

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


FACES = ("LR", "DU", "BF")


@pytest.mark.parametrize("turns", ["half", "box"])
@pytest.mark.parametrize("sides", [(2, 2, 3), (2, 3, 3), (3, 3, 4), (2, 3, 4), (2, 2, 4), (2, 2, 2)])
def test_turns_act_on_labels_as_on_integer_cells(sides, turns):
    """From one label and one state of a piece on, matched moves match all labels to all states, each to one.

    Half turns alone reach as many states as labels that their laws speak of; the whole box turned by a quarter reaches more.
    """
    one, half = model(sides, turns), turns == "half"
    puzzle, orbits = one.puzzle, one.rows
    every = {(as_integers(t), t.whole, layer_of(t, sides)): t for t in (*puzzle.turns.values(), *puzzle.rotations.values())}
    kinds = [(rotation(axis, sides, half), False, (axis, layer)) for axis, layer in layers(sides)]
    kinds += [] if half else [(rotation(axis, sides, half), True, (axis, None)) for axis in range(3)]
    ours, theirs = [every[kind].permutation for kind in kinds], box_moves(sides, half, whole=not half)
    taken = set()
    for start in (int(rows[0, 0]) for rows in orbits):
        matches = (matched(start, point, ours, theirs) for point in range(theirs.shape[1]) if point not in taken)
        taken |= set(next(match for match in matches if match).values())
    assert len(taken) == theirs.shape[1] == sum(rows.size for rows in orbits)


def as_integers(turn) -> tuple:
    """The matrix of a turn, which goes clockwise as seen from the end of its axis (Rodrigues' formula)."""
    x, y, z = turn.axis
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    matrix = np.eye(3) - np.sin(turn.angle) * cross + (1 - np.cos(turn.angle)) * cross @ cross
    return tuple(map(tuple, matrix.round().astype(int).tolist()))


def layer_of(turn, sides) -> tuple[int, int | None]:
    axis = int(np.abs(turn.axis).argmax())
    if turn.whole:
        return axis, None
    side = FACES[axis].index(turn.step.stem) * 2 - 1
    return axis, side * (sides[axis] + 1 - 2 * max(1, turn.step.first))


def matched(label: int, point: int, ours, theirs) -> dict[int, int] | None:
    """The labels that the moves reach from one, each with the point that the same moves reach; None if two reach one."""
    match, queue = {label: point}, [label]
    for here in queue:
        for our, their in zip(ours, theirs, strict=True):
            there, then = int(our[here]), int(their[match[here]])
            if there not in match:
                queue.append(there)
            if match.setdefault(there, then) != then:
                return None
    return match if len(set(match.values())) == len(match) else None


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


@pytest.mark.parametrize("name", ["cube:2,turns=R", "cube:2,turns=half", "cuboid:2x2x3,turns=F", "cube:3,turns=half"])
def test_a_copy_with_fewer_turns_is_held_in_as_many_ways(name):
    whole = load(name.partition(",")[0])
    assert list(load(name).rotations) == list(whole.rotations) and load(name).chosen and not whole.chosen
    assert not load("cuboid:2x3x4,turns=half").chosen


@pytest.mark.parametrize(
    "name, reason",
    [
        ("cube:3,turns=quarter", "`quarter` is no turn of cube of 3 layers"),
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
