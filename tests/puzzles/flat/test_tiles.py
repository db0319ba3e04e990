from math import factorial

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.errors import BadOption, NotationError, UnknownMove, UnknownPuzzle
from oddswap.puzzles.catalogue import load
from tests.common.walking import depths, parities

FARTHEST = {"tiles:2x2": (12, 6, None), "tiles:2x3": (360, 21, 1), "tiles:3x3": (181440, 31, 2)}
"""States, the greatest depth and how many states lie there; 2x3 and 3x3 are OEIS A087725, 2x2 was computed."""
BY_DEPTH = [1, 2, 4, 8, 16, 20, 39, 62, 116, 152, 286, 396, 748, 1024]
"""OEIS A089473: the 3x3 board with its blank in a corner."""


@pytest.fixture(scope="module")
def walked():
    return {name: depths(load(name)) for name in FARTHEST}


@pytest.mark.parametrize("name", FARTHEST)
def test_every_state_of_small_boards_by_depth(walked, name):
    states, farthest, there = FARTHEST[name]
    counts = [len(level) for level in walked[name]]
    assert sum(counts) == states
    assert len(counts) - 1 == farthest
    assert there is None or counts[-1] == there


def test_states_of_the_3_by_3_board_at_each_depth(walked):
    assert [len(level) for level in walked["tiles:3x3"]][: len(BY_DEPTH)] == BY_DEPTH


@pytest.mark.parametrize("name", FARTHEST)
def test_exactly_the_states_of_even_parity_are_reached(walked, name):
    """Johnson & Story, Amer. J. Math. 2 (1879) 397-404: the sign, times the parity of the blank's taxicab distance."""
    puzzle, states = load(name), np.concatenate(walked[name])
    rows, columns = np.array([[int(n) for n in slot[1:].split("c")] for slot in puzzle.slots]).T
    blank = (states == puzzle.blank).argmax(axis=1)
    distance = abs(rows[blank] - rows[puzzle.blank]) + abs(columns[blank] - columns[puzzle.blank])
    assert not ((parities(states) + distance) % 2).any()
    assert len(states) == factorial(len(puzzle.slots)) // 2


@pytest.mark.parametrize("name", ["tiles:2x2,letters=aab", "tiles:2x3,letters=aabcd", "tiles:3x3,letters=aabcdefg"])
def test_with_two_equal_tiles_every_arrangement_can_be_reached(walked, name):
    plain, puzzle = name.partition(",")[0], load(name)
    n = len(puzzle.slots)
    seen = puzzle.looks[np.concatenate(walked[plain])] @ n ** np.arange(n, dtype=np.int64)
    assert len(np.unique(seen)) == factorial(n) // 2


@pytest.mark.parametrize(
    ("name", "states"), [("tiles:2x2", 12), ("tiles:2x3", 360), ("tiles:3x3", 181440), ("tiles:4x4", 10461394944000)]
)
def test_loops_at_home_times_the_places_of_the_blank(name, states):
    """The last is OEIS A089484; SymPy gives the order of the group of loops."""
    puzzle = load(name)
    loops = PermutationGroup([Permutation(g.tolist()) for g in puzzle.generators])
    assert loops.order() * len(puzzle.slots) == states
    assert all(g[puzzle.blank] == puzzle.blank for g in puzzle.generators)


def test_a_move_slides_the_tile_of_the_named_cell_into_the_blank():
    puzzle = load("tiles:2x2")
    assert puzzle.follow("r1c2").pieces == (0, 3, 2, 1)
    assert puzzle.follow("r1c2 r1c1").pieces == (3, 0, 2, 1)
    assert puzzle.follow("r1c1", puzzle.follow("r1c2")) == puzzle.follow("r1c2 r1c1")


@pytest.mark.parametrize("seed", range(5))
def test_a_random_walk_can_be_spelled_undone_and_brought_home(seed):
    rng, puzzle = np.random.default_rng(seed), load("tiles:4x4")
    state, names = puzzle.solved, []
    for _ in range(60):
        names.append(str(rng.choice([turn.name for turn in puzzle.legal(state)])))
        state = puzzle.follow(names[-1], state)
    edges = " ".join(names)
    slides = puzzle.spelled(edges)
    assert puzzle.follow(edges) == puzzle.follow(slides) == state
    assert puzzle.follow(puzzle.undone(slides), state) == puzzle.solved
    assert puzzle.follow(puzzle.read(edges).inverse(), state) == puzzle.solved
    (number,) = puzzle.shapes.find(np.array([[state.pieces.index(puzzle.blank)]], dtype=np.uint8)).tolist()
    way = " ".join(reversed(puzzle.shapes.word(number)))
    home = puzzle.homed(puzzle.permutation(state))
    assert puzzle.arrangement(home) == puzzle.follow(way, state)
    assert home[puzzle.blank] == puzzle.blank


@pytest.mark.parametrize("blank", ["r1c1", "r2c2"])
def test_the_blank_may_be_at_home_anywhere(blank):
    puzzle = load(f"tiles:3x3,blank={blank}")
    assert puzzle.slots[puzzle.blank] == blank
    assert sum(map(len, depths(puzzle))) == 181440
    assert [token.text for token in puzzle.flat.tokens if token] == list("12345678")


def test_equal_letters_have_equal_looks_and_the_blank_its_own():
    puzzle = load("tiles:2x3,letters=aabca")
    assert puzzle.looks.tolist() == [0, 0, 1, 2, 0, 3]


@pytest.mark.parametrize(
    ("moves", "error", "words"),
    [
        ("r1c1", UnknownMove, "`r1c1` is not next to the blank, which is at r3c3: slide from r2c3 or r3c2"),
        ("r1c1-r1c2", UnknownMove, "nothing can slide over `r1c1-r1c2` while the blank is at r3c3: slide from r2c3 or r3c2"),
        ("r3c2 r3c2", UnknownMove, "`r3c2` is not next to the blank, which is at r3c2: slide from r2c2 or r3c1 or r3c3"),
        ("r3c2 up", NotationError, "column 6: `up` is no slot to slide from"),
    ],
)
def test_moves_that_cannot_be_made(moves, error, words):
    with pytest.raises(error) as caught:
        load("tiles:3x3").follow(moves)
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("name", "error"),
    [
        ("tiles:1x4", UnknownPuzzle),
        ("tiles:3x17", UnknownPuzzle),
        ("tiles:3", UnknownPuzzle),
        ("tiles:3x3,letters=abc", BadOption),
        ("tiles:3x3,letters=abcd5fgh", BadOption),
        ("tiles:3x3,blank=r4c1", BadOption),
    ],
)
def test_boards_that_are_not_offered(name, error):
    with pytest.raises(error):
        load(name)
