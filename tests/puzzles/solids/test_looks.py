"""Looks, against another way to tell convex pieces apart, and against symmetries that can be seen by hand.

The areas and normals of its faces determine a convex solid up to where it lies (Minkowski 1897; Schneider, Convex Bodies, 2014,
section 8.1; memory), and the middles of the faces say where.
"""

from itertools import combinations

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load

NAMES = [
    "cube:2",
    "cube:3",
    "cube:3,centres=marked",
    "cube:3,centres=none",
    "shape-mod:cube,paint=L+R",
    "shape-mod:cube,paint=U+D/F+B+L+R",
    "shape-mod:prism3",
    "shape-mod:prism6",
    "shape-mod:prism8",
    "shape-mod:prism8,cut=0.3333",
    "shape-mod:prism8,paint=FR+FL+BR+BL",
    "shape-mod:cube,axis=U,degrees=45",
    "shape-mod:cube,axis=URF,degrees=60",
    "shape-mod:cube,shift=0.05/0.1/0.16",
    "shape-mod:cube,shift=0.1/0.2/0",
    "shape-mod:cube,shift=0/0/0",
]


def signature(puzzle, piece, twist):
    """The faces of a piece put into the first slot of its kind, and the middle of its corners."""
    geometry, kind = puzzle.geometry, puzzle.kind_of[piece]
    index = geometry.rotation_of(puzzle.base_label, kind.twist, piece, kind.start, twist)
    matrix = geometry.mechanism.rotations.matrices[index]
    body = geometry.bodies[piece]
    faces = [(geometry.paints.get(f.facet, ""), f.area, *(matrix @ f.normal), *(matrix @ f.centre)) for f in body.faces]
    faces += [("mark", 0, 0, 0, 0, *(matrix @ mark.vertices.mean(axis=0))) for mark in body.marks]
    return frozenset((paint, *(round(float(x), 6) + 0.0 for x in numbers)) for paint, *numbers in faces)


@pytest.mark.parametrize("name", NAMES)
def test_equal_looks_are_equal_solids_in_equal_colours(name):
    puzzle = load(name)
    for kind in puzzle.kinds:
        labels = [(piece, twist) for piece in kind.places for twist in range(kind.twist)]
        signatures = [signature(puzzle, *label) for label in labels]
        looks = puzzle.looks[list(kind.labels)]
        for i, j in combinations(range(len(labels)), 2):
            assert (looks[i] == looks[j]) == (signatures[i] == signatures[j]), (kind.name, labels[i], labels[j])


@pytest.mark.parametrize("name", NAMES)
def test_looks_are_numbered_from_0_within_each_kind(name):
    puzzle = load(name)
    for kind in puzzle.kinds:
        assert set(puzzle.looks[list(kind.labels)]) == set(range(len(set(puzzle.looks[list(kind.labels)]))))


def alike(puzzle, one, other):
    """Whether two pieces look alike in some way round."""
    kind = puzzle.kind_of[puzzle.slot(one)]
    rows = [set(puzzle.looks[puzzle.base_label[puzzle.slot(s)] + np.arange(kind.twist)]) for s in (one, other)]
    return bool(rows[0] & rows[1])


def test_mirror_images_are_told_apart():
    """Shifted along x and y by different amounts, the solid has its front for a mirror image of its back.

    A corner and its mirror image are boxes of the same three lengths in the opposite order round; an edge with a side
    along x or y is its own mirror image, so its counterpart at the back is its twin.
    """
    puzzle = load("shape-mod:cube,shift=0.1/0.2/0")
    corners = puzzle.kinds[0].slots
    assert not any(alike(puzzle, a, b) for a, b in combinations(corners, 2))
    twins = {(a, b) for a, b in combinations(puzzle.kinds[1].slots, 2) if alike(puzzle, a, b)}
    assert twins == {("UF", "UB"), ("DF", "DB"), ("FL", "BL"), ("FR", "BR")}


def test_in_one_colour_and_centred_all_pieces_of_a_kind_look_alike_in_every_way_round():
    puzzle = load("shape-mod:cube,shift=0/0/0")
    assert not puzzle.looks.any()


def nearly(name):
    """The pairs of slots whose pieces, or a piece and its own turn, only measuring tells apart."""
    puzzle = load(name)
    return {tuple(puzzle.slots[slot] for slot in puzzle.slots_of(list(pair))) for pair in puzzle.nearly}


@pytest.mark.parametrize(
    "options, told, untold",
    [
        ("cube,axis=U,degrees=44", ("FL", "FL"), ("UF", "UF")),
        ("cube,shift=0.01/0/0", ("UF", "UR"), ("UFL", "DFL")),
        ("cube,axis=URF,degrees=1", ("U", "U"), ("UF", "UF")),
    ],
)
def test_near_misses_are_told_apart_and_listed(options, told, untold):
    found = nearly(f"shape-mod:{options}")
    assert told in found and untold not in found


@pytest.mark.parametrize("name", ["cube:2", "cube:3", "cube:3,centres=marked", "shape-mod:prism8", "shape-mod:prism8,cut=0.3333"])
def test_what_differs_or_agrees_plainly_is_not_listed(name):
    assert not nearly(name)
