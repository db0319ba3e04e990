"""The fewest changes of grip, against trying every choice."""

import random
from itertools import product

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.grips import awkwardness, changes, grip_changes


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
