"""Ways home by three-cycles: parts in order, replayed; twins and hidden turns are used."""

import random

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.as_seen import wrong
from oddswap.reasoning.ways.by_cycles import home_by_cycles
from oddswap.reasoning.ways.commutators import image_of
from tests.common.clocks import PLENTY


@pytest.mark.parametrize("name", ["cube:3", "cube:3,centres=marked", "cube:5", "tetrahedron", "rings:8+8+8", "cuboid:4x4x5"])
def test_scrambles_go_home(name):
    puzzle, rng = load(name), random.Random(5)
    image = image_of(puzzle, tuple(rng.choice(list(puzzle.turns)) for _ in range(200)))
    parts = home_by_cycles(puzzle, image, PLENTY)
    word = sum((part for _, part in parts), ())
    assert wrong(puzzle, image_of(puzzle, word)[image]) == 0 < len(word) <= 20 * wrong(puzzle, image)


def test_three_corners_out_of_place_take_one_tool():
    cube = load("cube:3")
    image = cube.permutation(cube.follow("[R U R', D]"))
    assert [len(word) for _, word in home_by_cycles(cube, image, PLENTY)] == [8]


def test_what_looks_solved_takes_nothing():
    cube = load("cube:4")
    centres = next(kind for kind in cube.kinds if kind.family == "diagonal centres")
    image = cube.permutation(cube.solved).copy()
    a, b = centres.first, next(x for x in centres.labels if x > centres.first and cube.looks[x] == cube.looks[centres.first])
    image[[a, b]] = [b, a]
    assert home_by_cycles(cube, image, PLENTY) == []


def test_kinds_without_tools_give_no_way():
    cube = load("cube:3,turns=half")
    assert home_by_cycles(cube, cube.permutation(cube.follow("R2 U2 F2")), PLENTY) is None
