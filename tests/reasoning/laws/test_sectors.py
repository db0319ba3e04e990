"""Sectors and their quantities, against wreath products whose signs and twist sums are known by construction.

Looks by orbit: what the smaller set of turns keeps, and what the others change.
"""

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.sectors import by_orbits, keeps, measure, measures, sectors

NAMES = ["cube:2", "cube:3", "cube:3,centres=none", "shape-mod:prism8"]


def generators(name, turns):
    return [load(name).turns[turn].permutation for turn in turns.split()]


def found(name, turns=None):
    puzzle = load(name)
    return sectors(puzzle, generators(name, turns) if turns is not None else puzzle.generators)


@pytest.mark.parametrize("name", NAMES)
def test_all_turns_give_the_kinds(name):
    puzzle, parts = load(name), found(name)
    assert [(s.kind, s.slots, s.twist, s.whole) for s in parts] == [(k, tuple(k.places), k.twist, True) for k in puzzle.kinds]
    for sector in parts:
        assert sector.labels.ravel().tolist() == list(sector.kind.labels)


@pytest.mark.parametrize(
    "turns, sizes",
    [
        ("R U", {(6, 3): 1, (1, 1): 11, (7, 1): 1, (1, 4): 2}),
        ("R", {(4, 1): 2, (1, 1): 17, (1, 4): 1}),
        ("R2 L2", {(2, 1): 8, (1, 1): 8, (1, 2): 2}),
        ("R2 L2 U2 D2 F2 B2", {(4, 1): 5, (1, 2): 6}),
        ("U D R2 L2 F2 B2", {(8, 1): 2, (4, 1): 1, (1, 4): 2, (1, 2): 4}),
        ("", {(1, 1): 26}),
    ],
)
def test_fewer_turns_split_the_kinds(turns, sizes):
    """How many sectors of (slots, twist) there are, by hand: half turns keep edges in three rings of four, and so on."""
    counts: dict = {}
    for sector in found("cube:3", turns):
        key = (len(sector.slots), sector.twist)
        counts[key] = counts.get(key, 0) + 1
    assert counts == sizes


@pytest.mark.parametrize("turns", ["R U", "R2 L2", "U D R2 L2 F2 B2", "R U F", "R2 U"])
def test_sectors_are_orbits_with_a_block_for_each_slot(turns):
    perms = generators("cube:3", turns)
    orbits = [frozenset(orbit) for orbit in PermutationGroup([Permutation(p.tolist()) for p in perms]).orbits()]
    puzzle = load("cube:3")
    slot_of = np.repeat(np.arange(len(puzzle.slots)), [kind.twist for kind in puzzle.kind_of])
    covered = []
    for sector in found("cube:3", turns):
        labels = frozenset(sector.labels.ravel().tolist())
        assert labels in orbits or len(labels) == 1
        assert (slot_of[sector.labels] == np.array(sector.slots)[:, None]).all()
        assert sector.labels[0, 0] == puzzle.base_label[sector.slots[0]]
        assert sector.assembly_order == sector.twist ** len(sector.slots) * np.prod(range(1, len(sector.slots) + 1))
        covered += sector.slots
    assert sorted(covered) == list(range(len(puzzle.slots)))


def random_in(sector, rng, permutation):
    """Rearrange one sector at random; its sign (0 or 1) and twist sum."""
    images, twists = rng.permutation(len(sector.slots)), rng.integers(sector.twist, size=len(sector.slots))
    for i, (image, twist) in enumerate(zip(images, twists, strict=True)):
        permutation[sector.labels[i]] = np.roll(sector.labels[image], -twist)
    return (0 if Permutation(images.tolist()).is_even else 1, int(twists.sum()) % sector.twist)


@pytest.mark.parametrize("turns", [None, "R U", "R2 L2", "U D R2 L2 F2 B2"])
def test_signs_and_twist_sums_are_measured(turns):
    rng = np.random.default_rng(7)
    parts = found("cube:3", turns)
    every = measures(parts)
    assert {(c.sector, c.what, c.modulus) for c in every} == {
        (s, what, modulus)
        for s in parts
        for what, modulus in (("sign", 2), ("twist", s.twist))
        if (len(s.slots) if what == "sign" else s.twist) > 1
    }
    for _ in range(30):
        permutation = np.arange(72)
        known = {sector: random_in(sector, rng, permutation) for sector in parts}
        assert measure(every, permutation) == tuple(known[c.sector][c.what == "twist"] for c in every)
        assert keeps(parts, permutation)


def test_moves_multiply_and_quantities_add():
    rng = np.random.default_rng(8)
    parts = found("cube:3")
    every = measures(parts)
    for _ in range(30):
        p, q = np.arange(72), np.arange(72)
        for sector in parts:
            random_in(sector, rng, p)
            random_in(sector, rng, q)
        together = [(a + b) % c.modulus for a, b, c in zip(measure(every, p), measure(every, q), every, strict=True)]
        assert measure(every, q[p]) == tuple(together)


def test_what_leaves_its_sector_is_noticed():
    parts = found("cube:3", "R2 L2 U2 D2 F2 B2")
    puzzle = load("cube:3")
    for name, turn in puzzle.turns.items():
        left = [part for part in parts if set(turn.permutation[part.labels[:, 0]]) - set(part.labels.ravel())]
        assert keeps(parts, turn.permutation) == (not left) == name.endswith("2")


INNER = ("U", "D", "F2", "B2", "L2", "R2")


def test_the_looks_by_orbits_are_those_that_the_smaller_set_keeps():
    cube = load("cube:3")
    coarse = by_orbits(cube, INNER)
    for name in INNER:
        assert coarse.appearance(cube.follow(name)).sights == coarse.appearance(cube.solved).sights
    for name in ("F", "R"):
        assert coarse.appearance(cube.follow(name)).sights != coarse.appearance(cube.solved).sights
