"""What the viewer is told of a puzzle: the same polygons as the pictures, and the state as a permutation."""

import json
from base64 import b64decode

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.flat import colours_by_paint
from oddswap.showing.ink.shells import shells
from oddswap.showing.viewer.pack import labels_of, packed, quaternion, turns_of
from tests.common.rotated import rotations_of
from tests.showing.sample import SAMPLE

SOLIDS = [name for name in SAMPLE if load(name).geometry is not None]


def corners(pack):
    """The polygons of a pack, in half-edges."""
    whole = np.frombuffer(b64decode(pack["vertices"]), "<i2").reshape(-1, 3) / 32000 * pack["reach"]
    return np.split(whole, np.cumsum(pack["panels"]["corners"])[:-1])


def turned(q, points):
    """Points turned by a quaternion: q v q*, written out (Hamilton's product)."""
    x, y, z, w = q
    matrix = [
        [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
        [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
        [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
    ]
    return points @ np.array(matrix).T


@pytest.mark.parametrize("name", SAMPLE)
def test_a_pack_is_json_with_a_turn_for_every_turn(name):
    puzzle = load(name)
    pack = json.loads(json.dumps(packed(puzzle)))
    assert [turn["name"] for turn in pack["turns"]] == [*puzzle.turns, *puzzle.rotations]
    for data, turn in zip(pack["turns"], turns_of(puzzle), strict=True):
        image = np.arange(puzzle.degree)
        image[data["moved"]] = data["to"]
        assert (image == turn.permutation).all()
    count = len(puzzle.slots) + pack["inner"]
    assert {len(column) for column in pack["panels"].values()} == {len(pack["panels"]["piece"])}
    assert max(pack["panels"]["piece"]) < count and len(corners(pack)) == len(pack["panels"]["piece"])
    assert sum(pack["panels"]["corners"]) * 6 == len(b64decode(pack["vertices"]))
    paints = set(pack["paints"]) if not pack["flat"] else {token[1] for token in pack["tokens"] if token}
    assert paints <= set(colours_by_paint(puzzle))


@pytest.mark.parametrize("name", SOLIDS)
def test_polygons_are_those_of_the_pictures_as_fine_as_they_are_kept(name):
    puzzle = load(name)
    pack = packed(puzzle)
    drawn = [shell.vertices[a:b] for shell in shells(puzzle) for a, b in zip(shell.ends, shell.ends[1:], strict=False)]
    for mine, theirs in zip(corners(pack), drawn, strict=False):
        assert np.abs(mine - theirs).max() <= 0.51 * pack["reach"] / 32000


@pytest.mark.parametrize("name", SOLIDS)
def test_placements_put_every_piece_where_the_geometry_puts_it(name):
    """The browser's rule, q(slot, twist) after the undone q(home), against the exact rotation table."""
    puzzle, rng = load(name), np.random.default_rng(3)
    pack, image = packed(puzzle), np.arange(puzzle.degree)
    for i in rng.integers(len(pack["turns"]), size=20):
        image = turns_of(puzzle)[i].permutation[image]
    state = puzzle.arrangement(image)
    assert labels_of(puzzle, state) == image.tolist()
    matrices, points = puzzle.geometry.mechanism.rotations.matrices, rng.normal(size=(4, 3))
    for slot, (piece, rotation) in enumerate(rotations_of(puzzle, state)):
        here, home = pack["placements"][image[pack["base"][piece]]], pack["placements"][pack["base"][piece]]
        x, y, z, w = pack["rotations"][home]
        found = turned(pack["rotations"][here], turned((-x, -y, -z, w), points))
        assert np.allclose(found, points @ matrices[rotation].T, atol=1e-7), puzzle.slots[slot]


@pytest.mark.parametrize("name", ["octahedron", "dodecahedron", "cube:3"])
def test_quaternions_turn_as_their_matrices_do(name):
    matrices, points = load(name).geometry.mechanism.rotations.matrices, np.random.default_rng(1).normal(size=(5, 3))
    for matrix in matrices:
        assert np.allclose(turned(quaternion(matrix), points), points @ matrix.T, atol=1e-7)


@pytest.mark.parametrize("name", SOLIDS)
def test_a_turn_in_the_browser_ends_where_the_placements_say(name):
    """Half-way animation cannot jump at its end: the spin by the whole angle, then the pose before, is the pose after."""
    puzzle = load(name)
    pack = packed(puzzle)
    points = np.random.default_rng(2).normal(size=(4, 3))
    for turn in pack["turns"]:
        half = -turn["angle"] / 2
        axis = np.array(turn["axis"]) / np.linalg.norm(turn["axis"])
        spin = (*(np.sin(half) * axis), np.cos(half))
        to = dict(zip(turn["moved"], turn["to"], strict=True))
        for slot in turn["slots"]:
            before = pack["base"][slot]
            after = to.get(before, before)
            was, now = (pack["rotations"][pack["placements"][label]] for label in (before, after))
            assert np.allclose(turned(spin, turned(was, points)), turned(now, points), atol=1e-6) or invisible(puzzle, slot)


def invisible(puzzle, slot):
    """Whether how far the piece of a slot is turned is not told apart even by labels."""
    return puzzle.kind_of[slot].twist == 1


def test_pieces_that_stay_inside_are_left_out_where_no_turn_lays_them_open():
    """Of 27 inner cells of a cube of 5 only the 8 corners reach beyond the faces: sqrt(3) * 3 / 5 > 1 > sqrt(2) * 3 / 5."""
    assert [packed(load(name))["inner"] for name in ("cube:3", "cube:5")] == [1, 8]
