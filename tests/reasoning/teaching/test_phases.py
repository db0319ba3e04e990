"""Phases: joined together they are the way, and each piece is followed from where the last phase left it."""

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.phases import phases, to_remember, written

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
