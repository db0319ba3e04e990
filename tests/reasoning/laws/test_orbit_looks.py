"""Looks by orbit: what the smaller set of turns keeps, and what the others change."""

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.orbit_looks import by_orbits

INNER = ("U", "D", "F2", "B2", "L2", "R2")


def test_the_looks_by_orbits_are_those_that_the_smaller_set_keeps():
    cube = load("cube:3")
    coarse = by_orbits(cube, INNER)
    for name in INNER:
        assert coarse.appearance(cube.follow(name)).sights == coarse.appearance(cube.solved).sights
    for name in ("F", "R"):
        assert coarse.appearance(cube.follow(name)).sights != coarse.appearance(cube.solved).sights
