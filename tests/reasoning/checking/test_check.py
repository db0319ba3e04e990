"""Checking a sequence: a way out with seeded mistakes is found again, and everything said is replayed."""

import random

import pytest

from oddswap.describing.changes import changed
from oddswap.errors import OddswapError
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.checking.check import check
from oddswap.reasoning.checking.mistakes import mistakes_in, word_with
from oddswap.reasoning.search.seen import seen_model
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.values.notation import simplified, write
from oddswap.words.table import say
from oddswap.words.ways.trials import best_words


def _solves(puzzle, appearance, moves):
    model = seen_model(puzzle)
    state = model.pack(appearance)
    for name in moves.split():
        state = model.apply(state, name)
    return bool((model.goals == state).all(axis=1).any())


def _among(puzzle, way, near):
    return _drawn_together(puzzle, " ".join(way)) in {_drawn_together(puzzle, one.moves) for one in near}


def _drawn_together(puzzle, moves):
    return write(simplified(puzzle.read(moves).steps, puzzle.alphabet))


def _position(name, seed, length):
    puzzle, draw = load(name), random.Random(seed)
    way = tuple(draw.choice(list(puzzle.turns)) for _ in range(length))
    return puzzle, puzzle.appearance(puzzle.follow(puzzle.undone(" ".join(way)))), way, draw


@pytest.mark.parametrize("name", ["cube:3", "cube:2", "shape-mod:prism8", "tetrahedron", "cuboid:2x3x3"])
@pytest.mark.parametrize("seed", [1, 2])
def test_one_mistake_is_mended_by_the_way_itself_among_the_nearest(name, seed):
    puzzle, appearance, way, draw = _position(name, seed, 5)
    mistakes = [m for m in mistakes_in(puzzle, way) if not _solves(puzzle, appearance, " ".join(word_with(way, (m,), 5)))]
    wrong = " ".join(word_with(way, (draw.choice(mistakes),), 5))
    found = check(puzzle, appearance, wrong)
    assert not found.solves and found.wrong and found.looked == 1
    assert all(_solves(puzzle, appearance, near.moves) and len(near.changes) == 1 for near in found.near)
    assert found.near_count > len(found.near) or _among(puzzle, way, found.near)
    assert found.best <= 5


def test_left_for_right_as_in_a_mirror_is_one_slip_and_one_sentence():
    cube = load("cube:4")
    found = check(cube, cube.appearance(cube.follow(cube.undone("U R 2F D"))), "U L' 2F D")
    assert (found.looked, [near.moves for near in found.near]) == (1, ["U R 2F D"])
    assert say(found.near[0].changes[0]) == "turn 2, L', reversed and made on the opposite slab, R"


@pytest.mark.parametrize("seed", range(3))
def test_two_mistakes_are_mended_by_two_changes_or_fewer(seed):
    puzzle, appearance, way, draw = _position("cube:3", seed, 7)
    first, second = sorted(draw.sample([m for m in mistakes_in(puzzle, way) if m.instead_of], 2), key=lambda m: m.at)
    if second.at == first.at:
        first = next(m for m in mistakes_in(puzzle, way) if m.instead_of and m.at != second.at)
        first, second = sorted((first, second), key=lambda m: m.at)
    found = check(puzzle, appearance, " ".join(word_with(way, (first, second), 7)))
    assert found.solves or found.near_count
    assert all(_solves(puzzle, appearance, near.moves) for near in found.near)
    if found.looked == 2 and found.near_count == len(found.near):
        assert _among(puzzle, way, found.near)


def test_a_way_that_works_is_measured_against_the_shortest():
    """Four quarter turns of one face are none: common practice."""
    cube = load("cube:3")
    found = check(cube, cube.appearance(cube.follow("R")), "R R R")
    assert (found.solves, found.best, found.lower_bound, found.near, found.left_after) == (True, 1, 1, (), 0)


def test_a_way_that_works_is_the_best_known_where_the_time_ends_before_another_is_found():
    """A scramble of 22 turns, taken back: no search of no time finds a way, and yet one is known."""
    cube, scramble = load("cube:3"), "R U F' L2 D B R' U2 F D' L B2 R F U' L D2 B' R2 F2 U L'"
    seen, back = cube.appearance(cube.follow(scramble)), cube.undone(scramble)
    found = check(cube, seen, back, Budget(0.01))
    assert found.solves and found.best == 22 > found.lower_bound and found.left_after is None
    assert best_words(found).startswith(f"The best way known has 22 turns (none has fewer than {found.lower_bound}).")
    assert check(cube, seen, f"{back} R", Budget(0.01)).best is None


def test_it_is_said_where_a_shortest_way_is_left():
    cube = load("cube:3")
    found = check(cube, cube.appearance(cube.follow("R U F L")), "L' F' R U'")
    assert (found.best, found.left_after) == (4, 2)


def test_a_position_that_no_turns_solve_is_not_blamed_on_the_sequence():
    """Half turns never twist a corner: each carries the axis U-D of every corner along."""
    puzzle = load("cube:2,turns=half")
    found = check(puzzle, puzzle.appearance(changed(puzzle, ["twist UFR cw"])), "R2 U2", Budget(5.0))
    assert found.impossible and found.best is None and not found.near and not found.looked


def test_one_twisted_corner_is_known_by_the_laws_where_no_search_ends():
    """No turns twist one corner alone (Bandelow 1982)."""
    cube = load("cube:3")
    found = check(cube, cube.appearance(changed(cube, ["twist UFR cw"])), "R U R' U'", Budget(0.5))
    assert found.impossible and not found.near and found.best is None


def test_bad_moves_and_puzzles_with_a_blank_are_refused_in_one_sentence():
    cube, tiles = load("cube:3"), load("tiles:3x3")
    for puzzle, moves in ((cube, "R Q"), (cube, "[R"), (tiles, "")):
        with pytest.raises(OddswapError):
            check(puzzle, puzzle.appearance(puzzle.solved), moves)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("name", ["cuboid:2x3x4,turns=all", "cuboid:3x4x5,turns=all", "cuboid:1x2x3,turns=all"])
def test_whatever_is_advised_on_an_open_box_can_be_made_from_where_it_stands(name, seed):
    """One turn of the way home was made wrong; each near sequence is replayed cell by cell, in an order that the box allows."""
    box, draw = load(name), random.Random(f"{name} {seed}")
    start, made = box.solved, []
    while len(made) < 4:
        turn = draw.choice(box.legal(start))
        start, made = box.follow(turn.name, start), [*made, turn]
    home = [str(turn.step.inverse()) for turn in reversed(made)]
    tried = next(
        word
        for at in draw.sample(range(4), 4)
        for other in draw.sample(list(box.turns), len(box.turns))
        if other != home[at]
        and _one_slip(box, other, home[at])
        and _can_be_made(box, word := [*home[:at], other, *home[at + 1 :]], start)
    )
    found = check(box, box.appearance(start), " ".join(tried))
    assert found.turns == tuple(tried) and not found.impossible
    for near in found.near:
        assert looks_solved(box, box.appearance(box.follow(near.moves, start)))
    assert found.solves or _among(box, home, found.near) or found.near_count > len(found.near)


def _one_slip(box, other, meant):
    one, two = box.turns[other].step, box.turns[meant].step
    return one.name == two.name or one.amount == two.amount


def _can_be_made(box, word, start):
    filled = {box.places[slot] for slot in range(len(box.slots)) if box.outline(start)[slot]}
    for name in word:
        turn = box.turns[name]
        layer = {box.places[slot]: box.places[image] for slot, image in enumerate(box.slot_images[name]) if slot in turn.slots}
        if not filled & layer.keys():
            return False
        filled = {layer.get(place, place) for place in filled}
        core = {(0, 0, 0)} if all(side % 2 for side in box.sides) else set()
        if not _touching(filled | core):
            return False
    return True


def _touching(cells):
    met, edge = set(), [next(iter(cells))]
    while edge:
        cell = edge.pop()
        met.add(cell)
        steps = (tuple(c + 2 * d * (i == axis) for i, c in enumerate(cell)) for axis in range(3) for d in (-1, 1))
        edge += [place for place in steps if place in cells - met]
    return met == cells


def test_a_sequence_is_read_from_the_shape_that_the_box_has():
    box = load("cuboid:2x3x4,turns=all")
    seen = box.appearance(box.follow("U 2F2 RR2"))
    assert check(box, seen, "RR2 2F2 U'").solves
    with pytest.raises(OddswapError, match="turn 4, RR2, finds no layer there"):
        check(box, seen, "RR2 2F2 U' RR2")


def test_where_no_turns_help_none_are_looked_for():
    """The law decides at once: most of the budget is left."""
    cube = load("cube:2")
    clock = Budget(30.0).start()
    tried = check(cube, cube.appearance(changed(cube, ["twist UFR cw"])), "R", clock)
    assert tried.impossible and tried.best is None and not tried.solves and clock.left > 25
