"""The two ripples: every position is drawn once, where circles cross, and the ripples meet just when a way is found."""

from collections import Counter

import pytest
from matplotlib.patches import Circle

from oddswap.lessons.pictures.two_ripples import distances, ripple_counts, two_ripples
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search.shortest import depth_counts, find_way

SCENES = [("rings:4+4", "a b a b a b", 120), ("cube:2,turns=half", "R2 U2 F2 R2", 24)]
"""120: Wilson, J. Combin. Theory B 16 (1974) 86-96. 24: counted here, no source outside."""


@pytest.mark.parametrize(("name", "moves", "every"), SCENES)
def test_distances_obey_the_law_of_triangles_and_count_every_position(name, moves, every):
    puzzle = load(name)
    found = distances(puzzle, moves)
    between = len(find_way(puzzle, puzzle.appearance(puzzle.follow(moves))).turns)
    assert found.total() == every and found[0, between] == found[between, 0] == 1
    assert all(abs(a - b) <= between <= a + b for a, b in found)
    swapped = distances(puzzle, puzzle.undone(moves))
    assert Counter({(b, a): n for (a, b), n in found.items()}) == swapped


@pytest.mark.parametrize(("name", "moves", "every"), SCENES)
def test_ripples_meet_just_when_their_turns_together_make_a_way(name, moves, every):
    found = distances(load(name), moves)
    between = next(b for a, b in found if a == 0)
    for out in range(between + 1):
        for back in range(between + 1):
            assert (ripple_counts(found, out, back)[2] > 0) == (out + back >= between)


def test_every_position_is_drawn_once_and_each_ring_is_a_turn():
    figure = two_ripples(load("rings:4+4"), "a b a b a b", 2, 1)
    (ax,) = figure.axes
    numbers = [int(text.get_text()) for text in ax.texts if text.get_text().isdecimal()]
    dots = sum(len(collection.get_offsets()) for collection in ax.collections)
    assert sum(numbers) + dots - len(numbers) == 120
    assert sorted(patch.radius for patch in ax.patches if isinstance(patch, Circle)) == [1, 1, 2]
    assert ax.get_title().startswith("They have not met: no way has 3 turns or fewer.")
    begun = two_ripples(load("rings:4+4"), "a b a b a b", 1, 0).axes[0].get_title()
    assert begun == "They have not met: no way has 1 turn or fewer. 6 of 120 positions were looked at."
    alone = sum(depth_counts(load("rings:4+4"), 4))
    met = two_ripples(load("rings:4+4"), "a b a b a b", 2, 2).axes[0].get_title()
    assert met == f"The ripples meet after 2 and 2 turns, with 29 of 120 positions looked at; from the start alone, {alone}."
