"""A quarter turn undone by swaps: the swaps really undo it, as many as SymPy says, and the labels follow their pieces."""

import numpy as np
import pytest
from sympy.combinatorics import Permutation

from oddswap.describing.changes import changed
from oddswap.lessons.pictures.quarter_turn_by_swaps import above, carried_round, quarter_turn_by_swaps, way_home
from oddswap.puzzles.catalogue import load

CUBE, SMALL = load("cube:3"), load("cube:2")
QUARTERS = [name for name, turn in CUBE.turns.items() if abs(turn.step.amount) == 1]


def kinds(puzzle):
    return [kind for kind in puzzle.kinds if kind.family in ("corners", "edges")]


@pytest.mark.parametrize("turn", QUARTERS)
@pytest.mark.parametrize("puzzle", [CUBE, SMALL], ids=lambda puzzle: puzzle.name)
def test_swaps_undo_the_turn_and_none_is_wasted(puzzle, turn):
    """SymPy's transpositions of a permutation are as few as can be."""
    for kind in kinds(puzzle):
        after = puzzle.follow(turn)
        states, swaps = way_home(puzzle, kind, after)
        fewest = Permutation([after.pieces[slot] - kind.start for slot in kind.places]).transpositions()
        assert len(swaps) == len(fewest) == 3 and len(states) == 4
        assert [states[-1].pieces[slot] for slot in kind.places] == list(kind.places)
        assert not any(states[-1].twists[slot] for slot in kind.places)
        for before, then, (one, other) in zip(states, states[1:], swaps, strict=False):
            differ = {slot for slot in range(len(puzzle.slots)) if before.pieces[slot] != then.pieces[slot]}
            assert differ == {one, other}


@pytest.mark.parametrize("turn", ["U", "D'"])
def test_on_the_upper_and_lower_side_they_are_swaps_as_a_hand_makes_them(turn):
    for kind in kinds(CUBE):
        states, swaps = way_home(CUBE, kind, CUBE.follow(turn))
        by_hand = [f"swap {CUBE.slots[one]} {CUBE.slots[other]}" for one, other in swaps]
        assert changed(CUBE, by_hand, states[0]) == states[-1]


@pytest.mark.parametrize("turn", QUARTERS)
def test_pieces_are_numbered_in_the_order_of_the_turn(turn):
    """A piece goes on to the slot with the next number."""
    for kind in kinds(CUBE):
        numbered = carried_round(CUBE, kind, CUBE.turns[turn])
        after = CUBE.follow(turn)
        assert sorted(numbered.values()) == [1, 2, 3, 4]
        assert all(numbered[slot] == numbered[after.pieces[slot]] % 4 + 1 for slot in numbered)


def written(figure) -> list[str]:
    return [text.get_text() for text in figure.axes[0].texts]


def test_rows_labels_and_words():
    """Corner 4 comes where 1 was, and so on: what each picture shows, in the order 1 to 4 of the places."""
    words = written(quarter_turn_by_swaps(CUBE))
    assert words[0] == "4 corners, 3 swaps" and "4 edges, 3 swaps" in words
    steps = [word for word in words if not word.isdigit() and "," not in word]
    swaps = ["U turns", "1st swap", "2nd swap", "3rd swap"]
    assert steps == [*swaps, "corners at home", *swaps, "edges at home"]
    labels = ["".join(words[i : i + 4]) for i in range(1, 26, 5)]
    assert labels[0] == labels[-1] and all(sorted(label) == list("1234") for label in labels)
    assert [sum(a != b for a, b in zip(label, labels[0], strict=True)) for label in labels] == [0, 4, 3, 2, 0]


def test_a_puzzle_without_edges_has_one_row():
    assert written(quarter_turn_by_swaps(SMALL, "R"))[0] == "4 corners, 3 swaps"
    assert not any("edges" in word for word in written(quarter_turn_by_swaps(SMALL, "R")))


@pytest.mark.parametrize("turn", QUARTERS)
def test_the_eye_is_above_the_side_that_turns(turn):
    camera = above(CUBE, CUBE.turns[turn])
    assert camera.direction @ CUBE.turns[turn].axis > 0.85
    assert np.linalg.norm(camera.direction) == pytest.approx(1)


@pytest.mark.parametrize("turn", ["U", "D", "L"])
def test_everything_stays_on_the_sheet(turn):
    ax = quarter_turn_by_swaps(CUBE, turn).axes[0]
    points = np.concatenate([path.vertices for c in ax.collections for path in c.get_paths()])
    assert (points > 0).all() and (points < (ax.get_xlim()[1], ax.get_ylim()[1])).all()
