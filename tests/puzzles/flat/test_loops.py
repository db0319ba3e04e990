from math import factorial

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.errors import BadOption, NotationError, UnknownMove, UnknownSlot
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from tests.common.walking import all_states


def moved_by_hand(beads, move, k):
    """A loop as a list: the last bead comes round to the front, or those in the window stand in the other order."""
    return [beads[-1], *beads[:-1]] if move == "push" else [*beads[:k][::-1], *beads[k:]]


@pytest.mark.parametrize(("n", "k"), [(4, 4), (7, 3), (12, 5), (20, 4)])
def test_moves_do_to_beads_what_they_do_to_a_list(n, k):
    puzzle, rng = load(f"loop:{n},window={k}"), np.random.default_rng(n)
    moves = [str(move) for move in rng.choice(["push", "swing"], 40)]
    beads = list(range(n))
    for move in moves:
        beads = moved_by_hand(beads, move, k)
    assert list(puzzle.follow(" ".join(moves)).pieces) == beads


@pytest.mark.parametrize("n", range(3, 10))
def test_orders_of_the_groups_of_small_loops(n):
    """SymPy's orders; with a window on all beads or all but one, a loop is only turned and reversed: 2n states."""
    for k in range(2, n + 1):
        puzzle = load(f"loop:{n},window={k}")
        order = PermutationGroup([Permutation(g.tolist()) for g in puzzle.generators]).order()
        assert law_book(puzzle).order == order
        if k >= n - 1 and n > 3:
            assert order == 2 * n
        if n % 2 == 0 and k % 2 and k < n - 1:
            assert order <= 2 * factorial(n // 2) ** 2


def test_a_walk_over_a_small_loop_reaches_as_many_states_as_its_laws_say():
    for name in ("loop:6,window=3", "loop:6,window=4", "loop:7,window=4", "loop:7,window=6"):
        puzzle = load(name)
        states = all_states([tuple(g.tolist()) for g in puzzle.generators])
        assert law_book(puzzle).order == len(states), name


@pytest.mark.parametrize(
    ("beads", "looks"), [("aabbcd", [0, 0, 1, 1, 2, 3]), ("2+4", [0, 0, 1, 1, 1, 1]), ("zyzyzy", [0, 1, 0, 1, 0, 1])]
)
def test_equal_letters_look_alike(beads, looks):
    assert load(f"loop:6,window=4,beads={beads}").looks.tolist() == looks


def test_a_number_behind_a_move_repeats_it_and_counts_each_time():
    puzzle = load("loop:9,window=4")
    assert puzzle.follow("push3 swing push3'") == puzzle.follow("push push push swing push' push' push'")
    assert [turn.name for turn in puzzle.settled("push2' swing")[0]] == ["push'", "push'", "swing"]
    assert sorted(puzzle.turns) == ["push", "push'", "swing"]
    assert puzzle.follow("[push, swing]3'") == puzzle.follow("(swing push swing' push')3")


def test_the_window_is_drawn_beneath_the_first_beads_and_a_push_goes_clockwise():
    puzzle = load("loop:12,window=4")
    x, y = puzzle.flat.positions.T
    middle = puzzle.flat.positions[:4].mean(axis=0)
    assert abs(middle[0]) < 1e-9 and middle[1] > 0
    following = puzzle.turns["push"].permutation
    assert (x * y[following] - y * x[following] < 0).all()
    assert np.linalg.norm(puzzle.flat.positions[1] - puzzle.flat.positions[0]) == pytest.approx(1)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("loop:2", "from 3 to 256"),
        ("loop:300", "from 3 to 256"),
        ("loop:five", "`five`"),
        ("loop:5,window=6", "window is `6`: give a whole number from 2 to 5"),
        ("loop:5,beads=aab", "describes 3 pieces, but there are 5"),
        ("loop:5,beads=3+x", "a count in beads"),
        ("loop:5,beads=a-bcd", "one letter for each piece"),
        ("loop:30,beads=" + "+".join(["1"] * 30), "at most 26"),
    ],
)
def test_loops_that_are_not_offered(name, words):
    with pytest.raises(BadOption) as caught:
        load(name)
    assert words in str(caught.value) and "\n" not in str(caught.value)


def test_unknown_slots_and_moves_are_told():
    puzzle = load("loop:30,window=4")
    with pytest.raises(UnknownSlot, match="no slot called `31`"):
        puzzle.slot("31")
    with pytest.raises(NotationError, match="not a move of this puzzle: it knows push, swing"):
        puzzle.follow("pull")
    with pytest.raises(UnknownMove, match="write at most push99"):
        load("loop:250").follow("push100")
