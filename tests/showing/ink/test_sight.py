"""Which prints are taken, and that together they leave nothing out that they could show."""

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.sight import seen_by, stickers, views

SOLIDS = ["cube:2", "cube:3", "shape-mod:prism8", "shape-mod:cube,axis=U,degrees=45", "shape-mod:cube,axis=URF,degrees=60"]
MOVES = "R U2 F' L D R' B2 U"


OTHERS = ["shape-mod:prism3", "shape-mod:prism5", "shape-mod:prism12", "tetrahedron", "octahedron", "dodecahedron", "corner-cube"]
OTHERS += ["cuboid:2x3x4", "cuboid:3x3x4", "cuboid:1x3x3", "cube:4", "cube:5,centres=marked", "cube:7"]


@pytest.mark.parametrize("name", [*SOLIDS, *OTHERS])
def test_two_prints_show_every_sticker_of_a_solved_solid(name):
    puzzle = load(name)
    taken = views(puzzle, puzzle.solved)
    every = stickers(puzzle, puzzle.solved)
    assert len(taken) == 2
    assert frozenset.union(*(seen_by(puzzle, puzzle.solved, camera, every) for camera, _ in taken)) == every


@pytest.mark.parametrize("name", SOLIDS)
def test_a_third_print_is_taken_exactly_when_it_shows_something_new(name):
    puzzle = load(name)
    arrangement = puzzle.follow(MOVES)
    taken = views(puzzle, arrangement)
    every = stickers(puzzle, arrangement)
    seen = [seen_by(puzzle, arrangement, camera, every) for camera, _ in taken]
    assert (len(taken) == 3) == (seen[0] | seen[1] != every)
    assert all(later - seen[0] - seen[1] for later in seen[2:])


def test_a_cube_has_fifty_four_stickers_however_it_is_turned():
    puzzle = load("cube:3")
    assert len(stickers(puzzle, puzzle.follow(MOVES))) == 54


def test_captions_tell_the_prints_apart():
    puzzle = load("shape-mod:cube,axis=URF,degrees=60")
    words = [words for _, words in views(puzzle, puzzle.follow(MOVES))]
    assert len(set(words)) == 3 and words[1].startswith("the same, from") and words[2].startswith("the rest, from")
