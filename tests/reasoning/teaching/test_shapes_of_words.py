"""Structure found in flat words: planted commutators and conjugates are found again, and nothing changes what is done."""

import random

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.shapes_of_words import structured

CUBE = load("cube:3")


def flat(sequence):
    return " ".join(map(str, CUBE.read(sequence).steps))


@pytest.mark.parametrize(
    "written", ["[R, U]", "[F: [R, U]]", "[[R: U], D]", "[R U: D2]", "(R2 U2)3", "[L2, [U: R2]]", "[F: [[R: U], D]]"]
)
def test_written_structure_is_found_again(written):
    assert str(structured(CUBE, flat(written))) == written


@pytest.mark.parametrize("seed", range(30))
def test_planted_commutators_are_found_and_do_the_same(seed):
    rng = random.Random(seed)
    a, b = (" ".join(rng.choice("RUF") + rng.choice(["", "2", "'"]) for _ in range(rng.randint(1, 3))) for _ in "ab")
    found = structured(CUBE, flat(f"[{a}, {b}]"))
    assert len(found.items) == 1 and CUBE.follow(found) == CUBE.follow(f"[{a}, {b}]")
    assert len(found) == len(CUBE.read(f"[{a}, {b}]").steps)


def test_neighbours_on_one_axis_may_change_places():
    assert "[" in str(structured(CUBE, "R L U L' R' U'"))


@pytest.mark.parametrize("moves", ["R", "R U", "R U F", "R U R"])
def test_what_has_no_structure_stays_flat(moves):
    assert str(structured(CUBE, moves)) == moves
