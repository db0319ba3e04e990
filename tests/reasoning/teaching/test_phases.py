"""Phases: joined together they are the way, and each piece is followed from where the last phase left it.

Structure found in flat words: planted commutators and conjugates are found again, and nothing changes what is done.
"""

import random

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.phases import phases, structured, to_remember, written

CASES = [
    ("[F: [R, U]]", ["set up", "exchange", "undo"], 3),
    ("[R U R', D]", ["set up", "exchange", "undo", "finish"], 3),
    ("U2 [F: [R, U]] L", ["begin", "set up", "exchange", "undo", "finish"], 5),
    ("(R2 U2)3", ["exchange"], 2),
    ("R U F", [], 3),
]


@pytest.mark.parametrize("moves, names, remember", CASES)
def test_phases_make_the_way_and_follow_the_pieces(moves, names, remember):
    cube = load("cube:3")
    start = cube.follow(cube.undone(moves))
    sequence = written(cube, " ".join(map(str, cube.read(moves).steps)))
    told = phases(cube, start, sequence)
    assert [phase.name for phase in told] == names and to_remember(sequence) == remember
    if not told:
        return
    state = start
    for phase in told:
        after = cube.follow(phase.moves, state)
        for piece, source, target in phase.pieces:
            home = cube.slot(piece)
            assert state.pieces[cube.slot(source.split()[0])] == home == after.pieces[cube.slot(target.split()[0])]
        state = after
    assert state == cube.solved
    last = {}
    for phase in told:
        last |= {piece: target for piece, _, target in phase.pieces}
    assert last and all(piece == target for piece, target in last.items())


def test_the_tally_tells_where_a_sign_is_mended():
    cube = load("cube:3")
    told = phases(cube, cube.follow(cube.undone("R [F: [R, U]]")), written(cube, "R F R U R' U' F'"))
    assert told[0].moves == "R" and ("sign of corners", 1, 0) in [(quantity.name, *values) for quantity, *values in told[0].tally]


def test_a_commutator_that_is_no_tool_is_not_told_as_one():
    """[R U F, L D B] moves far more than eight pieces."""
    cube = load("cube:3")
    flat = " ".join(map(str, cube.read("[R U F, L D B] U").steps))
    assert str(written(cube, flat)) == flat


CUBE = load("cube:3")


def flat(sequence):
    return " ".join(map(str, CUBE.read(sequence).steps))


@pytest.mark.parametrize(
    "written", ["[R, U]", "[F: [R, U]]", "[[R: U], D]", "[R U: D2]", "(R2 U2)3", "[L2, [U: R2]]", "[F: [[R: U], D]]"]
)
def test_written_structure_is_found_again(written):
    assert str(structured(CUBE, flat(written))) == written


@pytest.mark.parametrize("seed", range(30))
def test_planted_commutators_are_found_and_do_the_same(seed):
    rng = random.Random(seed)
    a, b = (" ".join(rng.choice("RUF") + rng.choice(["", "2", "'"]) for _ in range(rng.randint(1, 3))) for _ in "ab")
    found = structured(CUBE, flat(f"[{a}, {b}]"))
    assert len(found.items) == 1 and CUBE.follow(found) == CUBE.follow(f"[{a}, {b}]")
    assert len(found) == len(CUBE.read(f"[{a}, {b}]").steps)


def test_neighbours_on_one_axis_may_change_places():
    assert "[" in str(structured(CUBE, "R L U L' R' U'"))


@pytest.mark.parametrize("moves", ["R", "R U", "R U F", "R U R"])
def test_what_has_no_structure_stays_flat(moves):
    assert str(structured(CUBE, moves)) == moves
