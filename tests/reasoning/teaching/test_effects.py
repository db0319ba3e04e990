"""What sequences do, in words; facts of the trade (common practice, no source).

The fewest changes of grip, against trying every choice.
"""

import random
from collections import Counter
from itertools import product

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.effects import Effect, awkwardness, changes, effect_of, grip_changes, image_of_turns
from oddswap.values.permutation import cycles
from oddswap.words import say
from oddswap.words.ways.ways_out import effect_of_several


@pytest.mark.parametrize(
    "name, moves, words",
    [
        ("cube:3", "[R U R', D]", "cycles three corners"),
        ("cube:3", "(R2 U2)3", "swaps two pairs of edges"),
        ("cube:3", "R", "cycles four corners and cycles four edges"),
        ("cube:3", "U U'", "changes nothing that shows"),
        ("tetrahedron", "dfl dfr", "twists two tips"),
        ("tetrahedron", "dfl", "twists one tip"),
    ],
)
def test_words(name, moves, words):
    assert say(effect_of(load(name), image_of_turns(load(name), moves))) == words


def test_f_r_u_keeps_two_layers_and_moves_last_layer_pieces_only():
    """Common practice: it keeps the first two layers."""
    cube = load("cube:3")
    image = cube.permutation(cube.follow("F R U R' U' F'"))
    moved = [cube.slots[s] for s, label in enumerate(cube.base_label) if image[label] != label]
    assert len(moved) == effect_of(cube, image).pieces and all("U" in slot for slot in moved)


@pytest.mark.parametrize("name", ["cube:3", "cube:4", "corner-cube"])
def test_circles_and_turned_pieces_are_those_of_the_permutation(name):
    puzzle = load(name)
    image = puzzle.permutation(puzzle.follow(" ".join(list(puzzle.turns)[:7])))
    effect, lengths, turned = effect_of(puzzle, image), Counter(), Counter()
    for kind in (kind for kind in puzzle.kinds if len(set(puzzle.looks[list(kind.labels)])) > 1):
        base = puzzle.base_label[list(kind.places)]
        slots = (image[base] - kind.first) // kind.twist
        lengths.update((kind.family, len(circle)) for circle in cycles(slots.tolist()))
        turned[kind.family] += int((image[base] != base).sum()) - sum(map(len, cycles(slots.tolist())))
    assert Counter({(d.family, d.length): d.count for d in effect.deeds if d.length > 1}) == lengths
    assert Counter({d.family: d.count for d in effect.deeds if d.length == 1}) == +turned
    assert effect.pieces == sum(turned.values()) + sum(length * n for (_, length), n in lengths.items()) > 0
    assert effect_of(puzzle, np.arange(puzzle.degree)) == Effect(())


def test_several_turns_do_what_one_does():
    effect = effect_of(load("cube:3"), image_of_turns(load("cube:3"), "R U2 F R' U F2"))
    for one, several in zip(say(effect).split(), effect_of_several(effect).split(), strict=True):
        assert one in (several, f"{several}s")
    assert effect_of_several(Effect(())) == "change nothing that shows"


def tried(faces):
    """Every choice of which of the two faces to let go."""
    best = len(faces)
    for choices in product((0, 1), repeat=len(faces)):
        held, cost = [], 0
        for face, choice in zip(faces, choices, strict=True):
            if face not in held:
                if len(held) == 2:
                    held.pop(choice)
                    cost += 1
                held.append(face)
        best = min(best, cost)
    return best


@pytest.mark.parametrize("seed", range(20))
def test_fewest(seed):
    rng = random.Random(seed)
    faces = [rng.choice("UDFR") for _ in range(9)]
    assert changes(faces) == tried(faces)


def test_rotations_cost_one_and_let_go_of_all():
    assert grip_changes(load("cube:3"), "R U x F D") == 1 and changes([]) == 0


def test_faces_away_from_the_hands_are_awkward():
    assert awkwardness(["B"]) > awkwardness(["F"]) > awkwardness(["R"]) == awkwardness(["U"]) == 0
