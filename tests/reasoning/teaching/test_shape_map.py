"""The map of shapes against sets of cells in plain integers, and symmetries as signed permutations of the axes."""

from collections import Counter
from itertools import permutations, product

import numpy as np
import pytest

from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.shape_map import MOST, shape_map


def symmetries(sides):
    """All signed permutation matrices that take a box of these sides to itself."""
    for order in permutations(range(3)):
        if tuple(sides[i] for i in order) == sides:
            for signs in product((1, -1), repeat=3):
                yield np.eye(3, dtype=int)[list(order)] * np.array(signs)[:, None]


def hangs_together(cells):
    found, edge = set(), [next(iter(cells))]
    while edge:
        cell = edge.pop()
        if cell in cells and cell not in found:
            found.add(cell)
            edge += [tuple(c + 2 * s * (i == axis) for i, c in enumerate(cell)) for axis in range(3) for s in (1, -1)]
    return found == cells


def walked(sides, levels):
    """Shapes that so many turns of single layers lead to, each with its distance and the shapes beside it; a middle stays."""
    core = {(0, 0, 0)} if all(n % 2 for n in sides) else set()
    home = frozenset(set(product(*(range(1 - n, n, 2) for n in sides))) - core)
    moves = []
    for axis, (a, b) in enumerate(((1, 2), (2, 0), (0, 1))):
        once = np.eye(3, dtype=int)
        once[[a, b]] = once[[b, a]] * np.array([[-1], [1]])
        powers = (1, 2, 3) if sides[a] % 2 == sides[b] % 2 else (2,)
        moves += [(axis, at, np.linalg.matrix_power(once, n)) for at in range(-6, 7) if at for n in powers]
    far, beside, queue = {home: 0}, {}, [home]
    for shape in queue:
        if far[shape] > levels:
            break
        beside[shape] = set()
        for axis, at, matrix in moves:
            if any(cell[axis] == at for cell in shape):
                after = frozenset(tuple((matrix @ cell).tolist()) if cell[axis] == at else cell for cell in shape)
                if hangs_together(after | core):
                    beside[shape].add(after)
                    if after not in far:
                        far[after] = far[shape] + 1
                        queue.append(after)
    return far, beside


def kind_of(shape, moves):
    """The least of the shapes to which the symmetries take one."""
    return min(tuple(sorted(map(tuple, (np.array(list(shape)) @ matrix).tolist()))) for matrix in moves)


@pytest.mark.parametrize("name, levels", [("1x2x3", 9), ("1x2x5", 9), ("1x3x3", 2), ("1x3x3", 9), ("2x3x4", 3)])
def test_places_and_turns_are_those_of_a_plain_walk(name, levels):
    sides = tuple(map(int, name.split("x")))
    puzzle = load(f"cuboid:{name},turns=all")
    far, beside = walked(sides, levels)
    moves = list(symmetries(sides))
    kinds = {shape: kind_of(shape, moves) for shape in far if far[shape] <= levels}
    sizes, level_of = Counter(kinds.values()), {kinds[shape]: far[shape] for shape in kinds}
    found = shape_map(puzzle, levels)
    assert Counter((place.level, place.alike) for place in found.places) == Counter(
        (level_of[kind], size) for kind, size in sizes.items()
    )
    places = [tuple(place) for place in puzzle.places]

    def seen(word):
        filled = puzzle.outline(puzzle.follow(" ".join(word)))
        return kinds[frozenset(place for place, full in zip(places, filled, strict=True) if full)]

    own = [seen(place.word) for place in found.places]
    assert len(set(own)) == len(own)
    wanted = {(kinds[shape], kinds[other]) for shape in kinds for other in beside[shape] if other in kinds}
    assert {(own[a], own[b]) for a, b in found.links} == wanted
    for (a, b), turns in found.links.items():
        assert {seen((*found.places[a].word, turn)) for turn in turns} == {own[b]}


def test_turns_of_the_copy_count_not_only_its_shape():
    """Where U turns and D does not, the box is no longer the same upside down."""
    whole, half = (shape_map(load(name), 1) for name in ("cuboid:1x3x3,turns=all", "cuboid:1x3x3,turns=U+U2+F+F2"))
    assert [place.alike for place in whole.places] == [1, 4] and sum(place.alike for place in half.places) == 3


def test_a_tray_has_a_place_for_each_place_of_its_blank():
    assert len(shape_map(load("tiles:2x3"), 9).places) == 6


def test_too_many_places_are_one_sentence():
    with pytest.raises(BadOption, match=rf"room for {MOST}: ask for fewer than 5 levels"):
        shape_map(load("cuboid:2x3x4,turns=all"), 5)
