"""Puzzles as the reasoning sees them, against the vector model of `vectors`, published orders and facts of the trade."""

from dataclasses import replace
from itertools import product
from types import MappingProxyType

import numpy as np
import pytest
from sympy.combinatorics import Permutation

from oddswap.describing.stickers import stickers
from oddswap.errors import NotationError, UnknownMove, UnknownSlot
from oddswap.puzzles.base.puzzle import Turn
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.values.sequence import Step
from tests.common.published import cases
from tests.common.vectors import VECTORS, position, solved, turned

NAMES = ["cube:2", "cube:3", "cube:3,centres=marked", "cube:3,centres=none", "shape-mod:prism8"]
AMOUNTS = {"": 1, "2": 2, "'": 3}


def colours(puzzle, state):
    """What an arrangement shows, by position and direction."""
    table, found = stickers(puzzle), {}
    for b, (piece, twist) in enumerate(zip(state.pieces, state.twists, strict=True)):
        shown = table.shown[b, int(puzzle.base_label[piece] + twist)]
        for face, paint in zip(puzzle.slots[b], shown, strict=True):
            found[position(puzzle.slots[b]), VECTORS[face]] = paint
    return found


def random_moves(seed, count):
    rng = np.random.default_rng(seed)
    return [(str(rng.choice(list("UDFBLR"))), str(rng.choice(list(AMOUNTS)))) for _ in range(count)]


@pytest.mark.parametrize("n", [2, 3])
@pytest.mark.parametrize("seed", range(20))
def test_sequences_show_what_turned_stickers_show(n, seed):
    puzzle, moves = load(f"cube:{n}"), random_moves(seed, 30)
    expected = solved(n)
    for face, mark in moves:
        expected = turned(expected, face, AMOUNTS[mark])
    assert colours(puzzle, puzzle.follow(" ".join(face + mark for face, mark in moves))) == expected


def test_equal_appearances_show_equal_stickers_and_others_do_not():
    puzzle = load("cube:3")
    states = [puzzle.follow(text) for text in ("", "R2 L2 U D' R2 L2 U' D", "U2 D2", "R L U2 R' L'", "(R U R' U')6", "(R U)105")]
    for a, b in product(states, repeat=2):
        assert (puzzle.appearance(a) == puzzle.appearance(b)) == (colours(puzzle, a) == colours(puzzle, b))


@pytest.mark.parametrize("word, seen, labelled", cases("word_orders", "word", "seen", "labelled"))
def test_published_orders_of_words(word, seen, labelled):
    puzzle = load("cube:3")
    once, state = puzzle.permutation(puzzle.follow(word)), np.arange(puzzle.degree)
    goal, back = puzzle.appearance(puzzle.solved), []
    for count in range(1, labelled + 1):
        state = once[state]
        if puzzle.appearance(puzzle.arrangement(state)) == goal:
            back.append(count)
    assert back[0] == seen and (state == np.arange(puzzle.degree)).all()
    assert Permutation(once.tolist()).order() == labelled


def last_layer(puzzle, family):
    return {b for b, kind in enumerate(puzzle.kind_of) if kind.family == family and "U" in puzzle.slots[b]}


def test_the_common_last_layer_sequence_flips_two_edges():
    """Common practice: F R U R' U' F' changes which way up exactly two last-layer edges are; the first two layers stay.

    An edge is the right way up when it shows the last layer's colour on the last layer.
    """
    puzzle = load("cube:3")
    state = puzzle.follow("F R U R' U' F'")
    last = last_layer(puzzle, "edges") | last_layer(puzzle, "corners")
    assert {b for b in state.displaced() if puzzle.kind_of[b].family != "centres"} <= last
    shown = colours(puzzle, state)
    wrong = [b for b in last_layer(puzzle, "edges") if shown[position(puzzle.slots[b]), VECTORS["U"]] != "U"]
    assert len(wrong) == 2


def test_three_last_layer_corners_can_be_cycled_in_eight_turns_by_a_commutator():
    """Common practice. All commutators of a turn of R with three turns U L U, tried one by one."""
    puzzle = load("cube:3")
    found = []
    for a, b, c, d in product(AMOUNTS, repeat=4):
        text = f"[R{a}, U{b} L{c} U{d}]"
        displaced = puzzle.follow(text).displaced()
        if len(displaced) == 3 and displaced <= last_layer(puzzle, "corners"):
            cycled = [puzzle.follow(text).pieces[b] != b for b in displaced]
            assert all(cycled) and len(puzzle.read(text)) == 8
            found.append(text)
    assert "[R, U' L' U]" in found


def test_one_corner_out_and_back_touches_few_pieces():
    """Common practice: two turns and their undoing disturb seven pieces, and have order 6."""
    displaced = load("cube:3").follow("R' D' R D").displaced()
    assert sorted(load("cube:3").kind_of[b].family for b in displaced) == ["corners"] * 4 + ["edges"] * 3


@pytest.mark.parametrize("name", NAMES)
def test_arrangements_and_permutations_are_two_forms_of_one_thing(name):
    puzzle = load(name)
    rng = np.random.default_rng(2)
    for _ in range(20):
        pieces = [int(p) for kind in puzzle.kinds for p in rng.permutation(list(kind.places))]
        twists = [int(rng.integers(kind.twist)) for kind in puzzle.kind_of]
        state = replace(puzzle.solved, pieces=tuple(pieces), twists=tuple(twists))
        image = puzzle.permutation(state)
        assert sorted(image) == list(range(puzzle.degree)) and puzzle.arrangement(image) == state
        for label in range(puzzle.degree):
            home = max(b for b in range(len(puzzle.slots)) if puzzle.base_label[b] <= label)
            slot = pieces.index(home)
            twist = (label - puzzle.base_label[home] + twists[slot]) % puzzle.kind_of[slot].twist
            assert image[label] == puzzle.base_label[slot] + twist


@pytest.mark.parametrize("name", NAMES)
def test_following_is_first_this_then_that(name):
    puzzle = load(name)
    after = puzzle.follow("R U2 F'")
    assert after == puzzle.follow("F'", puzzle.follow("U2", puzzle.follow("R")))
    assert after != puzzle.follow("F' U2 R")
    image = [puzzle.turns[t].permutation for t in ("R", "U2", "F'")]
    assert (puzzle.permutation(after) == image[2][image[1][image[0]]]).all()
    assert puzzle.follow("F U2 R'", after) == puzzle.solved


@pytest.mark.parametrize("name", NAMES)
def test_the_generators_make_all_that_the_turns_make(name):
    puzzle = load(name)
    chain = StabiliserChain.from_generators(list(puzzle.generators), puzzle.degree)
    everything = [turn.permutation for turn in (*puzzle.turns.values(), *puzzle.rotations.values())]
    assert chain.contains_many(everything).all()
    assert len(puzzle.generators) == 6 + 3 * bool(puzzle.rotations)


@pytest.mark.parametrize("amounts, count", [((1, 2, 3, -2, -1), 1), ((2, 3), 2), ((-2, 2), 1), ((3,), 1)])
def test_generators_of_a_slab_that_goes_round_in_six(amounts, count):
    puzzle = load("cube:3")
    steps = [Step("R", 1, 1, amount, 6) for amount in amounts]
    made = {str(s): Turn(str(s), s, (np.arange(72) + 12 * s.amount) % 72, angle=s.amount * np.pi / 3) for s in steps}
    generators = replace(puzzle, turns=MappingProxyType(made)).generators
    chain = StabiliserChain.from_generators(list(generators), 72)
    assert len(generators) == count and chain.contains_many([turn.permutation for turn in made.values()]).all()


@pytest.mark.parametrize(
    "one, other",
    [
        ("M", "R L' x'"),
        ("E", "U D' y'"),
        ("S", "F' B z"),
        ("Rw", "L x"),
        ("x y x' y'", "x y x' y'"),
        ("x U", "F x"),
        ("z' R2 z", "D2"),
        ("y F y'", "R"),
    ],
)
def test_the_hands_may_hold_the_cube_in_other_ways(one, other):
    """M, E, S follow L, D, F; what is at F after x was at D before, and so on."""
    for name in ("cube:3", "cube:3,centres=none", "shape-mod:prism8"):
        puzzle = load(name)
        assert puzzle.follow(one) == puzzle.follow(other)
        assert puzzle.settled(one)[1] == puzzle.settled(other)[1]


def test_a_rotation_changes_the_arrangement_only_where_nothing_fixes_the_holding():
    assert load("cube:3").follow("x y2") == load("cube:3").solved
    for name in ("cube:2", "cube:3,centres=none"):
        puzzle = load(name)
        assert len(puzzle.follow("x y2").displaced()) == len(puzzle.slots)
        assert puzzle.follow("R L'") == puzzle.follow("M x") if name != "cube:2" else True
        assert puzzle.follow("x y2 y2 x'") == puzzle.solved


@pytest.mark.parametrize("name, number", [("UF", 8), ("FU", 8), (" FU ", 8), ("RFU", 1), ("U", 20), ("LB", 18)])
def test_a_slot_may_be_named_by_its_faces_in_any_order(name, number):
    assert load("cube:3").slot(name) == number


@pytest.mark.parametrize("name", ["", "UD", "UU", "UFF", "X", "uf", "UFRB", "8", "U.f2"])
def test_other_names_are_no_slots(name):
    with pytest.raises(UnknownSlot, match="has no slot called"):
        load("cube:3").slot(name)


def test_moves_that_the_puzzle_does_not_make_are_refused():
    with pytest.raises(NotationError):
        load("cube:2").follow("M")
    halves = {name: turn for name, turn in load("cube:3").turns.items() if name.endswith("2")}
    copy = replace(load("cube:3"), name="half turns", turns=MappingProxyType(halves))
    assert copy.follow("R2 M2").pieces == load("cube:3").follow("R2 M2").pieces
    with pytest.raises(UnknownMove, match="half turns does not make the turn R; it makes U2 D2"):
        copy.follow("R")


@pytest.mark.parametrize("name", NAMES)
def test_the_appearance_of_solved_is_complete_and_moves_change_it(name):
    puzzle = load(name)
    solved_looks = puzzle.appearance(puzzle.solved)
    assert solved_looks.complete and solved_looks.puzzle == name
    assert puzzle.appearance(puzzle.follow("R")) != solved_looks == puzzle.appearance(puzzle.follow("R R'"))


def test_turned_centres_show_only_where_they_are_marked():
    for name, shows in (("cube:3", False), ("cube:3,centres=marked", True)):
        puzzle = load(name)
        state = puzzle.follow("(R U R' U)5")
        centres = [b for b in state.displaced() if puzzle.kind_of[b].family == "centres"]
        assert [puzzle.slots[b] for b in centres] == ["U"] and len(state.displaced()) == 1
        assert (puzzle.appearance(state) != puzzle.appearance(puzzle.solved)) == shows
