"""Ways out and set-ups replayed in a model of integer vectors, and what is said when the budget ends first."""

import random
from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.base.whole_turns import holdings
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.search.shortest import find_way, levels_around
from oddswap.reasoning.ways import way_out as ways
from oddswap.reasoning.ways.findings import FromStages, NotInStages
from oddswap.reasoning.ways.way_out import looks_solved, set_up, way_out
from tests.common import vectors

AMOUNTS = {"": 1, "2": 2, "'": 3}
WHOLE = {"x": "R", "y": "U", "z": "F"}


def replayed(state, moves):
    """The stickers of the vector model after face turns and whole-puzzle rotations."""
    for move in moves.split():
        if move[0] in WHOLE:
            matrix = np.linalg.matrix_power(vectors.quarter(WHOLE[move[0]]), AMOUNTS[move[1:]])
            state = {tuple(tuple((matrix @ v).tolist()) for v in place): colour for place, colour in state.items()}
        else:
            state = vectors.turned(state, move[0], AMOUNTS[move[1:]])
    return state


def of_one_colour_each(state):
    sides = {}
    for (_, way), colour in state.items():
        sides.setdefault(way, set()).add(colour)
    return all(len(colours) == 1 for colours in sides.values())


def random_moves(seed, count, faces="UDFBLR", amounts=("", "2", "'")):
    rng = random.Random(seed)
    return " ".join(rng.choice(faces) + rng.choice(amounts) for _ in range(count))


def shaken(puzzle):
    """The arrangement after 300 turns that could be made."""
    state, rng = puzzle.solved, np.random.default_rng(4)
    for _ in range(300):
        legal = list(puzzle.legal(state)) if puzzle.blank is not None else list(puzzle.turns.values())
        turn = legal[rng.integers(len(legal))]
        state = puzzle.arrangement(turn.permutation[puzzle.permutation(state)])
    return state


@pytest.mark.parametrize("name, slabs", [("cube:3", 3), ("cube:2", 2), ("cube:3,turns=half", 3), ("cube:3,turns=R+U", 3)])
@pytest.mark.parametrize("seed", range(4))
def test_ways_out_solve_and_set_ups_make_the_position_in_integer_vectors(name, slabs, seed):
    puzzle = load(name)
    faces, amounts = ("RU", ("", "2", "'")) if "R+U" in name else ("UDFBLR", ("2",) if "half" in name else ("", "2", "'"))
    moves = random_moves(seed, 5, faces, amounts)
    explanation = puzzle.follow(moves)
    way = way_out(puzzle, explanation)
    position = replayed(vectors.solved(slabs), moves)
    assert of_one_colour_each(replayed(position, way.moves))
    assert replayed(vectors.solved(slabs), set_up(puzzle, way, explanation)) == position
    assert way.length == len(way.moves.split()) <= 5 and way.shortest and way.lower_bound == way.length
    assert all(move in puzzle.turns for move in way.moves.split()) and not way.phases


@pytest.mark.parametrize("name", ["cube:2", "shape-mod:prism8", "corner-cube", "tiles:2x3", "graph:1+1+2", "loop:6,window=3"])
def test_lengths_are_the_depths_of_the_levels(name):
    """Positions drawn from exact levels around solved: the length out is the depth."""
    puzzle, rng = load(name), np.random.default_rng(3)
    for depth, level in enumerate(levels_around(puzzle, 4).levels):
        seen = level.rows[rng.integers(len(level))]
        model = ways.seen_model(puzzle)
        assert len(find_way(puzzle, seen).turns) == depth
        assert looks_solved(puzzle, model.unpack(seen)) == (depth == 0)


@pytest.mark.parametrize(
    "name, changes",
    [
        ("shape-mod:prism8", ["flip FL"]),
        ("shape-mod:prism8,paint=FR+FL+BR+BL", ["swap FL FR"]),
        ("cube:3", ["turn F cw"]),
        ("tiles:2x3,letters=aabcd", ["swap r1c1 r1c2"]),
    ],
)
def test_what_looks_solved_needs_no_turn(name, changes):
    puzzle = load(name)
    state = changed(puzzle, changes)
    way = way_out(puzzle, state)
    assert (way.moves, way.length, way.lower_bound, way.shortest) == ("", 0, 0, True)
    assert set_up(puzzle, way, state) == ""


@pytest.mark.parametrize("holding", ["", "x", "y'", "z2", "x y"])
def test_where_nothing_fixes_the_holding_solved_is_solved_in_any(holding):
    puzzle = load("cube:2")
    state = puzzle.follow(f"R U2 {holding}")
    way = way_out(puzzle, state)
    assert way.length == 2 and looks_solved(puzzle, puzzle.appearance(puzzle.follow(way.moves, state)))
    again = puzzle.follow(set_up(puzzle, way, state))
    assert puzzle.appearance(again) == puzzle.appearance(state)


def test_all_holdings_of_a_cube_are_tried_once():
    """24 rotations, by what they do to the faces, in the vector model."""
    every = [" ".join(names) for names, _ in holdings(load("cube:2"))]
    shown = {frozenset(replayed(vectors.solved(2), h).items()) for h in every}
    assert len(shown) == 24 == len(every) and every[0] == "" and len(holdings(load("cube:3"))) == 1


def test_a_way_put_together_from_stages_is_said_to_be_no_shortest_one():
    puzzle, moves = load("cube:3"), random_moves(0, 25)
    explanation = puzzle.follow(moves)
    way = way_out(puzzle, explanation, Budget(seconds=15.0))
    position = replayed(vectors.solved(3), moves)
    assert way.moves is not None and of_one_colour_each(replayed(position, way.moves))
    assert replayed(vectors.solved(3), set_up(puzzle, way, explanation)) == position
    assert not way.shortest and way.lower_bound < way.length
    assert " ".join(phase.moves for phase in way.phases) == way.moves and len(way.phases) > 1
    assert way.reasons[-1] == FromStages()


@pytest.mark.parametrize("name", ["tiles:4x4", "loop:20,window=4"])
def test_where_neither_search_nor_stages_lead_home_the_bound_is_told(name, monkeypatch):
    puzzle = load(name)
    monkeypatch.setattr(ways, "way_home", lambda *arguments: None)
    state = shaken(puzzle)
    way = way_out(puzzle, state, Budget(seconds=1e-6))
    assert (way.moves, way.length, way.shortest) == (None, None, False) and way.lower_bound >= 1
    assert set_up(puzzle, way, state) is None and way.reasons[-1] == NotInStages() and way.counting


@pytest.mark.parametrize("name", ["tiles:4x4", "loop:16,window=5"])
def test_flat_puzzles_go_home_in_stages_when_the_budget_ends_first(name):
    puzzle = load(name)
    state = shaken(puzzle)
    way = way_out(puzzle, state, Budget(bytes=0))
    assert not way.shortest and 1 <= way.lower_bound < way.length == len(way.moves.split())
    assert puzzle.follow(way.moves, state) == puzzle.solved == puzzle.follow(" ".join(phase.moves for phase in way.phases), state)
    assert puzzle.follow(set_up(puzzle, way, state)) == state


@pytest.mark.parametrize("moves", ["R L'", "R L' U", "R U2 L' U"])
def test_a_box_that_lies_on_another_side_is_turned_first_and_then_laid_there(moves):
    """Both layers of an axis turned alike: the box stands where it lay."""
    box = load("cuboid:2x2x4,turns=all")
    start = box.follow(moves)
    made = set_up(box, way_out(box, start), start)
    assert made.split()[-1] in "xyz" and box.appearance(box.follow(made)).sights == box.appearance(start).sights


def test_what_counts_and_which_turns_were_allowed_is_told():
    way = way_out(load("cube:3,turns=R2+U"), load("cube:3,turns=R2+U").follow("R2 U"))
    assert set(way.turns) == {"U", "R"} and "turn" in way.counting
    assert way_out(load("cube:3"), load("cube:3").solved).turns == ("B", "D", "F", "L", "R", "U")


def test_a_way_that_does_not_solve_is_a_bug_and_not_an_answer(monkeypatch):
    puzzle = load("cube:3")
    state = puzzle.follow("R U")
    wrong = replace(find_way(puzzle, puzzle.appearance(state)), turns=("R", "U"))
    monkeypatch.setattr(ways, "find_way", lambda *arguments, **more: wrong)
    with pytest.raises(ArithmeticError, match="does not solve"):
        way_out(puzzle, state)


def test_a_set_up_that_makes_something_else_is_a_bug():
    puzzle = load("cube:3")
    way = way_out(puzzle, puzzle.follow("R U"))
    with pytest.raises(ArithmeticError, match="does not set the position up"):
        set_up(puzzle, way, puzzle.follow("R U F"))


def test_replays_of_the_model_and_of_the_puzzle_agree():
    """Otherwise the tests above would compare one with itself: R U R' U' has order 6, and R turns U to F's place… by hand."""
    once = replayed(vectors.solved(3), "R")
    assert once[((1, 1, 1), (0, 1, 0))] == "F" and once[((1, 1, 1), (0, 0, 1))] == "D"
    state = vectors.solved(3)
    for _ in range(6):
        state = replayed(state, "R U R' U'")
    assert state == vectors.solved(3) != replayed(state, "R U R' U'")
    for a, b in product("xyz", "xyz"):
        assert of_one_colour_each(replayed(vectors.solved(3), f"{a} {b}'"))


@pytest.mark.parametrize(
    ("name", "moves"), [("cuboid:2x2x3", "U2 F R2 F"), ("cuboid:2x3x4", "R2 U2 F2"), ("cuboid:2x2x3", "R2 F U2")]
)
def test_a_box_is_set_up_in_a_holding_that_keeps_its_outline(name, moves):
    """Tipped over, a box makes other turns, so its set-up never asks for that."""
    box = load(name)
    start = box.follow(moves)
    way = way_out(box, start)
    made = set_up(box, way, start)
    assert box.appearance(box.follow(made)).sights == box.appearance(start).sights
