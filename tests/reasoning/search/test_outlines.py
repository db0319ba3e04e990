"""Searches through outlines: shortest ways against distances counted cell by cell."""

from itertools import islice

import numpy as np
import pytest

from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search.shortest import find_way
from oddswap.values.position import Arrangement
from tests.common.rotated import rotations_of
from tests.reasoning.box_sights import Box

CORE = (0, 0, 0)


def seen(box: BoxPuzzle, state: Arrangement) -> list[tuple]:
    """Of each filled cell its middle, and its colours by the direction in which each looks and looked at home."""
    found = [mark for mark in Box(box.sides).closed if mark[0] == CORE]
    for place, (piece, rotation) in zip(box.places, rotations_of(box, state), strict=True):
        if box.filled[piece]:
            matrix = box.geometry.mechanism.rotations.matrices[rotation]
            normals = [face.normal for face in box.geometry.bodies[piece].faces if face.facet]
            pairs = ((matrix @ normal, normal) for normal in normals)
            found.append((place, frozenset(tuple(tuple(v.round().astype(int).tolist()) for v in pair) for pair in pairs)))
    return found


DRAWN = [((1, 2, 3), 9, 18, 50), ((1, 3, 3), 5, 5, 30), ((2, 2, 4), 3, 3, 12)]


@pytest.mark.parametrize(("sides", "depth", "longest", "count"), DRAWN)
def test_ways_home_are_as_long_as_positions_are_deep_and_can_be_turned(sides, depth, longest, count):
    """All of 1 × 2 × 3 is known, so it is left by long random words; the others by words as long as their depth."""
    box, cells, rng = load(f"cuboid:{'x'.join(map(str, sides))},turns=all"), Box(sides), np.random.default_rng(7)
    levels = list(islice(cells.levels(), depth + 1))
    names, deep = np.concatenate([cells.named(level) for level in levels]), np.repeat(range(depth + 1), list(map(len, levels)))
    found = set()
    for _ in range(count):
        state = box.solved
        for _ in range(rng.integers(1, longest + 1)):
            state = box.follow(rng.choice([turn.name for turn in box.legal(state)]), state)
        distance = int(deep[names == cells.named(cells.row(seen(box, state))[None])][0])
        way = find_way(box, box.appearance(state))
        assert way.shortest and len(way.turns) == way.lower_bound == distance
        end = box.follow(" ".join(way.turns), state)
        assert cells.named(cells.row(seen(box, end))[None]) == names[0]
        found.add(distance)
    assert max(found) >= depth - 1
