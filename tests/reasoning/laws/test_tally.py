"""The tally against signs by SymPy and twists counted by hand, and rows that stay the same whatever is turned."""

import numpy as np
import pytest
from sympy.combinatorics import Permutation

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.tally import quantities, tally
from oddswap.words.laws import rows_in_words, value_words

WORDS = {
    "cube:2": "R U F2 R' U'",
    "cube:3": "R U2 F' D B L'",
    "cube:3,centres=marked": "R U2 F' D B L'",
    "cube:3,turns=half": "R2 U2 F2 D2",
    "cube:2,turns=half": "R2 U2 F2 D2",
    "cube:4": "R 2U F2 2D' B",
    "shape-mod:prism8": "R U F D'",
    "cuboid:2x3x4": "R2 U2 F2 2F2",
    "corner-cube": "UFR UBL' DFL DBR",
    "tetrahedron": "DFL DFR' dfl FLR",
    "octahedron": "A B' C D",
    "dodecahedron": "A B2 C' L",
    "loop:4,window=4": "push swing push push swing",
    "rings:7+7,cross=2": "a b a' b b",
    "tiles:3x3": "r2c3 r1c3 r1c2 r2c2",
}


def states(puzzle, moves, start):
    """The arrangements after each move, one by one."""
    found = [start]
    for turn in puzzle.settled(moves, start)[0]:
        found.append(puzzle.arrangement(turn.permutation[puzzle.permutation(found[-1])]))
    return found


@pytest.mark.parametrize("name", WORDS)
def test_a_laws_row_never_changes(name):
    """From solved it is 0 throughout; after a change by hand that keeps the orbits it is what it was before the first move."""
    puzzle, rng = load(name), np.random.default_rng(1)
    table = tally(puzzle, WORDS[name])
    assert table.moves == tuple(turn.name for turn in puzzle.settled(WORDS[name])[0])
    assert table.laws == law_book(puzzle).laws
    assert all(row == (0,) * (len(table.moves) + 1) for row in table.values)
    for sector in law_book(puzzle).sectors:
        slots = [puzzle.slots[slot] for slot in rng.permutation(sector.slots)[:3]]
        if len(slots) == 3 and sector.twist == sector.kind.twist:
            start = changed(puzzle, [f"cycle {' '.join(slots)}", f"swap {' '.join(slots[:2])}"][: 1 + rng.integers(2)])
            rows = tally(puzzle, WORDS[name], start).values
            assert all(len(set(row)) == 1 for row in rows)
            assert [row[0] != 0 for row in rows] == [law.value(puzzle.permutation(start)) != 0 for law in law_book(puzzle).laws]


@pytest.mark.parametrize("name", ["cube:2", "cube:3,centres=marked", "cube:4", "octahedron", "tetrahedron", "rings:7+7,cross=2"])
def test_quantities_are_signs_and_sums_of_twists(name):
    """Signs by SymPy; twists added up over the slots of a kind, or over all single slots of a family."""
    puzzle = load(name)
    table = tally(puzzle, WORDS[name])
    reached = states(puzzle, WORDS[name], puzzle.solved)
    for quantity, row in zip(table.parts, table.part_values, strict=True):
        what, _, about = quantity.name.partition(" of ")
        for state, shown in zip(reached, row, strict=True):
            if what == "sign":
                (kind,) = (k for k in puzzle.kinds if k.name == about)
                odd = Permutation([state.pieces[slot] - kind.start for slot in kind.places]).parity()
                assert value_words(quantity, shown) == ("odd" if odd else "even")
            else:
                kinds = [k for k in puzzle.kinds if k.name == about or (len(k.slots) == 1 and k.slots[0] in about)]
                kinds = [k for k in kinds if k.family.removesuffix("s") in about]
                total = sum(state.twists[slot] for k in kinds for slot in k.places)
                assert shown == (total % kinds[0].twist)


@pytest.mark.parametrize("name", WORDS)
def test_each_row_has_an_entry_at_the_start_and_after_every_move(name):
    table = tally(load(name), WORDS[name])
    full = table.in_full()
    names = [*(part.name for part in table.parts), *(f"law: {law.name}" for law in table.laws)]
    assert [name for name, _ in rows_in_words(full)] == names and not full.parts
    assert full.values == table.part_values + table.values and full.moves == table.moves
    assert {len(row) for row in full.values} <= {len(table.moves) + 1}


def test_the_tally_of_a_commutator_of_two_turns_of_the_cube():
    """R U R' U': every turn is odd on corners and on edges (common practice), so the signs go up and down together."""
    table = tally(load("cube:3"), "R U R' U'")
    rows = dict(rows_in_words(table.in_full()))
    assert rows["sign of corners"] == rows["sign of edges"] == ("even", "odd", "even", "odd", "even")
    assert rows["flips of edges"] == rows["twists of corners"] == ("0",) * 5
    assert rows["quarter turns of centres U, D, F, B, L and R"] == ("0", "1", "2", "1", "0")


def test_what_happens_to_pairs_is_told():
    """A square of four beads: a push changes two of the three ways to pair them, half a turn or a swing none."""
    table = tally(load("loop:4,window=4"), "push push swing")
    assert rows_in_words(table.in_full())[0] == ("pairs of beads", ("stay", "two change", "stay", "stay"))
    puzzle = load("corner-cube")
    (pairs,) = (q for q in quantities(puzzle) if q.what == "pairing")
    values = [pairs.value(puzzle.permutation(puzzle.follow(moves))) for moves in ("", "UFR", "UFR'", "UFR UBL'")]
    shown = [value_words(pairs, value) for value in values]
    assert shown[0] == shown[3] == "stay" and {shown[1], shown[2]} == {"go round", "go back"}


@pytest.mark.parametrize("name", ["cube:3", "cube:4", "corner-cube", "dodecahedron", "rings:7+7,cross=2"])
def test_the_table_of_moves_is_what_each_move_adds(name):
    puzzle = load(name)
    turns = list(puzzle.turns.values())
    for turn in turns:
        table = tally(puzzle, turn.name)
        added = tuple(quantity.value(turn.permutation) for quantity in quantities(puzzle))
        assert table.parts == quantities(puzzle) and tuple(values[1] for values in table.part_values) == added


def test_a_blank_is_taken_home_before_anything_is_counted():
    """Johnson & Story 1879: the sign of the tiles counts with the blank at home."""
    table = tally(load("tiles:3x3"), "r2c3 r2c2 r3c2 r3c3")
    assert table.values == ((0,) * 5,) and table.part_values == ((0,) * 5,)


def test_the_rows_are_those_of_the_holding_that_keeps_the_laws():
    """Half turns, and then the whole box turned by a quarter: no corner is among its own, until it is held as before."""
    box = load("cuboid:2x2x3,turns=half")
    still, held = tally(box, "R2 F2 U2", box.follow("U2 R2")), tally(box, "R2 F2 U2", box.follow("U2 R2 z"))
    assert held.values == still.values and all(row == (0,) * 4 for row in held.values)
    assert held.parts == still.parts
