"""Positions up to symmetry, against sequences whose turns are renamed, and classes counted by Burnside's lemma."""

from __future__ import annotations

from itertools import combinations, permutations, product
from random import Random

import pytest

from oddswap.describing.changes import changed
from oddswap.describing.sights import every_look
from oddswap.puzzles.base.whole_turns import held_otherwise, holdings
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.checking.same_position import carried, same_as_far_as_seen, same_position, symmetries
from oddswap.values.position import Appearance

ORDERS = {
    "cube:2": (48, 24),
    "cube:3": (48, 24),
    "cube:3,centres=marked": (48, 24),
    "cube:3,turns=R+U": (4, 2),
    "shape-mod:prism8": (16, 8),
    "shape-mod:prism8,paint=FR+FL+BR+BL": (16, 8),
    "shape-mod:cube,paint=U+F": (4, 2),
    "cuboid:2x2x3": (16, 8),
    "cuboid:2x3x4": (8, 4),
    "cuboid:1x3x3": (8, 0),  # a mirror moves pieces as one of the rotations does
    "shape-mod:cube,shift=0.05/0/0": (8, 4),
    "shape-mod:cube,shift=0.1/0.1/0": (4, 2),
    "shape-mod:cube,shift=0.1/0.1/0.1": (6, 3),
    "tetrahedron": (24, 12),
    "octahedron": (48, 24),
    "corner-cube": (24, 12),
    "cube:3,centres=none": (48, 24),
}
"""The orders of the symmetry groups of these solids, reflections among them: elementary geometry."""


@pytest.mark.parametrize(("name", "orders"), ORDERS.items())
def test_a_symmetry_renames_turns(name, orders):
    """The same sequence with its turns renamed leads to the image of what it led to."""
    puzzle, rng = load(name), Random(name)
    found = symmetries(puzzle)
    assert (len(found), sum(symmetry.mirrored for symmetry in found)) == orders
    for symmetry in found:
        word = rng.choices(list(puzzle.turns), k=8)
        one = puzzle.appearance(puzzle.follow(" ".join(word)))
        image = puzzle.appearance(puzzle.follow(" ".join(symmetry.turns[turn] for turn in word)))
        assert carried(puzzle, symmetry, one) == image
        assert same_position(puzzle, one, image) is not None
        assert {held_otherwise(puzzle, image, rotation).sights for _, rotation in holdings(puzzle)} >= {image.sights}


AXES = ("RL", "UD", "FB")
KEPT = {"cube:3": (), "cuboid:2x2x3": ("FB",), "cuboid:2x3x4": AXES, "shape-mod:cube,shift=0.05/0/0": ("R",)}
"""What each symmetry takes to itself: the long axis, every axis, the side to which the solid was shifted."""


@pytest.mark.parametrize("name", KEPT)
def test_a_symmetry_renames_faces(name):
    """All 48 ways to exchange three axes and the two ends of each, as letters; those of odd sign are the mirrors."""
    expected, found = set(), set()
    for order, flips in product(permutations(range(3)), product((0, 1), repeat=3)):
        letter = {AXES[a][end]: AXES[order[a]][end ^ flips[a]] for a in range(3) for end in (0, 1)}
        if all({letter[face] for face in kept} == set(kept) for kept in KEPT[name]):
            odd = sum(flips) + sum(order[a] > order[b] for a, b in combinations(range(3), 2))
            expected.add((*(letter[face] for face in "RLUDFB"), odd % 2 == 1))
    for symmetry in symmetries(load(name)):
        letter = {turn[0]: image[0] for turn, image in symmetry.turns.items()}
        found.add((*(letter[face] for face in "RLUDFB"), symmetry.mirrored))
    assert found == expected


@pytest.mark.parametrize(("name", "turns"), [("cube:3", 1), ("cube:3,turns=R+U", 2), ("cube:2", 1), ("tetrahedron,tips=no", 2)])
def test_as_many_classes_as_by_burnside(name, turns):
    """The number of orbits is the mean number of fixed points (Burnside's lemma, a standard theorem)."""
    puzzle = load(name)
    every = [puzzle.appearance(puzzle.follow(" ".join(word))) for word in product(puzzle.turns, repeat=turns)]
    seen: list[Appearance] = []
    for appearance in dict.fromkeys(every):
        if not any(same_position(puzzle, appearance, other) for other in seen):
            seen.append(appearance)
    assert len(seen) == _burnside(puzzle, set(every)) > 1


def _burnside(puzzle, appearances) -> int:
    """All ways to hold a puzzle are one."""
    found = symmetries(puzzle)
    classes = {frozenset(held_otherwise(puzzle, one, rotation).sights for _, rotation in holdings(puzzle)) for one in appearances}
    image = lambda s, one: frozenset(carried(puzzle, s, Appearance(puzzle.name, held)).sights for held in one)  # noqa: E731
    return sum(image(symmetry, one) == one for symmetry in found for one in classes) // len(found)


def test_what_is_not_seen_is_carried_too():
    cube = load("cube:3")
    sights = list(cube.appearance(cube.follow("R U")).sights)
    hidden = [*sights]
    hidden[cube.slot("DF")] = every_look(cube, cube.slot("DF"))
    other = [*cube.appearance(cube.follow("F U")).sights]
    other[cube.slot("DL")] = every_look(cube, cube.slot("DL"))
    assert same_position(cube, Appearance("cube:3", tuple(hidden)), Appearance("cube:3", tuple(other))) is not None
    assert same_position(cube, Appearance("cube:3", tuple(hidden)), Appearance("cube:3", tuple(sights))) is None


def test_the_way_a_puzzle_is_held_does_not_matter():
    small = load("cube:2")
    one, other = (small.appearance(small.follow(moves)) for moves in ("R U R'", "x y R U R'"))
    assert one == other or same_position(small, one, other) is not None


TURNED = {
    "cube:3": {"UFL": "twist UFL cw", "UF": "flip UF"},
    "corner-cube": {"UFL": "twist UFL cw", "UFR": "turn UFR cw"},
    "cuboid:2x2x3": {"UL": "flip UL"},
    "shape-mod:cube,shift=0.05/0/0": {"UFL": "twist UFL cw"},
}
"""A piece of each sort, turned in its place, some of them as no turning does it."""


@pytest.mark.parametrize(("name", "piece", "change"), [(name, *one) for name, some in TURNED.items() for one in some.items()])
def test_a_mirror_turns_a_twisted_piece_the_other_way(name, piece, change):
    """Elementary geometry: a reflection carries a piece twisted clockwise to one twisted anticlockwise, a rotation does not."""
    puzzle = load(name)
    slot, images = puzzle.slot(piece), set()
    for symmetry in symmetries(puzzle):
        image = int(puzzle.slots_of(symmetry.labels[puzzle.base_label[slot]]))
        there = change.replace(piece, puzzle.slots[image])
        there = there.replace("cw", "ccw") if symmetry.mirrored else there
        twisted = puzzle.appearance(changed(puzzle, [change]))
        assert (
            carried(puzzle, symmetry, twisted) == puzzle.appearance(changed(puzzle, [there])) != puzzle.appearance(puzzle.solved)
        )
        images.add((puzzle.slots[image], symmetry.mirrored))
    assert len(images) == 2 * len({image for image, _ in images}), "each place is reached with and without a mirror"


def without(puzzle, moves, slots):
    """What moves lead to, where these slots were not seen."""
    appearance = puzzle.appearance(puzzle.follow(moves))
    sights = [
        every_look(puzzle, b) if name in slots else sight
        for b, (name, sight) in enumerate(zip(puzzle.slots, appearance.sights, strict=True))
    ]
    return Appearance(appearance.puzzle, tuple(sights))


WRONG = "UFL UFR UBL UBR UF UB UL UR".split()


@pytest.mark.parametrize(
    ("one", "other", "mirrored"),
    [
        (("R U", ["DF"]), ("F U", ["DL", "DB"]), False),
        (("R U", ["UF", "DL"]), ("F' U'", ["UB"]), True),
        (("R U", []), ("R U'", ["DL"]), None),  # they contradict each other
        (("", ["DF"]), ("", ["DL"]), None),  # what was seen is right
        (("U", WRONG), ("U", []), None),  # what is wrong was seen once
        (("U", WRONG[:-1]), ("U", WRONG[1:]), None),  # in other slots each time
        (("U", WRONG[:-1]), ("U", WRONG[:-1]), False),
    ],
)
def test_what_was_seen_twice_and_is_wrong_may_be_the_same_position(one, other, mirrored):
    """Judged by hand: the slots of one face are all wrong after a quarter turn of it."""
    cube = load("cube:3")
    found = same_as_far_as_seen(cube, without(cube, *one), without(cube, *other))
    assert (found and found.mirrored) == mirrored
