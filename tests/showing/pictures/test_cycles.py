"""Rings, against SymPy's permutations: an independent reading of cycles and of odd and even."""

import numpy as np
import pytest
from matplotlib.patches import Polygon, Rectangle
from sympy.combinatorics import Permutation

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.tally import Tally, quantities
from oddswap.showing.pictures.cycles import draw_cycles, draw_tally, groups_of, twist_words

NAMES = ["cube:2", "cube:3,centres=marked", "shape-mod:prism8"]


def shuffles(puzzle, count=8):
    rng, names = np.random.default_rng(3), list(puzzle.turns)
    for length in range(1, count + 1):
        yield puzzle.follow(" ".join(names[i] for i in rng.integers(len(names), size=length)))


@pytest.mark.parametrize("name", NAMES)
def test_the_rings_are_the_cycles_from_home_to_where_the_piece_is(name):
    puzzle = load(name)
    for arrangement in shuffles(puzzle):
        groups = groups_of(puzzle, arrangement)
        cycles = [[puzzle.slot(slot) for slot in cycle.slots] for group in groups for cycle in group.cycles]
        home_to_slot = Permutation(cycles, size=len(puzzle.slots)) if cycles else Permutation(size=len(puzzle.slots))
        assert [home_to_slot(piece) for piece in arrangement.pieces] == list(range(len(puzzle.slots)))
        assert {slot for cycle in cycles for slot in cycle} == arrangement.displaced()


@pytest.mark.parametrize("name", NAMES)
def test_odd_and_even_are_as_sympy_has_them(name):
    puzzle = load(name)
    for arrangement in shuffles(puzzle):
        for group in groups_of(puzzle, arrangement):
            members = [s for kind in puzzle.kinds if kind.family == group.title for s in kind.places]
            parity = Permutation([members.index(arrangement.pieces[s]) for s in members]).is_odd
            assert group.words.startswith("an odd permutation" if parity else "an even permutation")


def test_twists_stand_on_the_arrow_to_the_slot_that_has_them():
    puzzle = load("cube:3")
    for arrangement in shuffles(puzzle):
        for group in groups_of(puzzle, arrangement):
            for cycle in group.cycles:
                for i, words in enumerate(cycle.twists):
                    slot = puzzle.slot(cycle.slots[(i + 1) % len(cycle.slots)])
                    assert words == twist_words(arrangement.twists[slot], puzzle.kind_of[slot].twist)


def test_an_edge_flipped_where_it_is_has_a_ring_of_its_own():
    puzzle = load("cube:3")
    twists = tuple(int(slot == "UF") for slot in puzzle.slots)
    arrangement = type(puzzle.solved)(puzzle.name, puzzle.solved.pieces, twists)
    (group,) = groups_of(puzzle, arrangement)
    assert [(cycle.slots, cycle.twists) for cycle in group.cycles] == [(("UF",), ("flip",))]
    assert group.words == "an even permutation · flips add up to 1 (mod 2)"


@pytest.mark.parametrize("moves", ["", "R", "R U R' U'", "R U2 F' L D R' B2 U"])
def test_every_displaced_slot_is_drawn_once(moves):
    puzzle = load("cube:3,centres=marked")
    arrangement = puzzle.follow(moves)
    written = [text.get_text() for text in draw_cycles(puzzle, arrangement).axes[0].texts]
    nodes = [text for text in written if text in puzzle.slots]
    assert sorted(nodes) == sorted(puzzle.slots[slot] for slot in arrangement.displaced())
    assert moves or "every piece is at home" in written


def test_nothing_leaves_the_sheet():
    puzzle = load("cube:3,centres=marked")
    for arrangement in shuffles(puzzle, 12):
        ax = draw_cycles(puzzle, arrangement).axes[0]
        points = np.concatenate([path.vertices for c in ax.collections for path in c.get_paths()])
        assert (points > 0).all() and (points < (ax.get_xlim()[1], ax.get_ylim()[1])).all()


CUBE = load("cube:3")
SIGN, FLIPS = (next(q for q in quantities(CUBE) if q.name == name) for name in ("sign of corners", "flips of edges"))
TABLE = Tally(("R", "U", "R'"), (FLIPS, SIGN), ((0, 0, 1, 1), (0, 1, 0, 1)), (), ())
ROWS = (("flips of edges", ("0", "0", "1", "1")), ("sign of corners", ("even", "odd", "even", "odd")))


def test_every_value_stands_in_its_place():
    texts = draw_tally(TABLE).axes[0].texts
    at = {text.get_text(): text.get_position() for text in texts if text.get_text() in ("start", *TABLE.moves, *dict(ROWS))}
    for law, row in ROWS:
        cells = [t for t in texts if t.get_position()[1] == at[law][1] and t.get_text() != law]
        assert [t.get_text() for t in cells] == list(row)
        assert [t.get_position()[0] for t in cells] == pytest.approx([at[h][0] for h in ("start", *TABLE.moves)])


def test_what_changes_is_bold_and_marked_and_nothing_else_is():
    ax = draw_tally(TABLE).axes[0]
    heavy = [t.get_text() for t in ax.texts if t.get_weight() == "bold" and t.get_text() not in TABLE.moves]
    assert heavy == ["1", "odd", "even", "odd"]
    corners = [p for p in ax.patches if isinstance(p, Polygon)]
    tints = [p for p in ax.patches if isinstance(p, Rectangle)][1:]
    assert len(corners) == len(tints) == 4


def test_a_long_sequence_goes_on_below_with_its_laws_named_again():
    ax = draw_tally(Tally(("R", "U") * 10, (SIGN,), ((0, 1) * 10 + (0,),), (), ()), per_row=8).axes[0]
    texts = [t.get_text() for t in ax.texts]
    assert texts.count("sign of corners") == 3
    assert texts.count("R") == texts.count("U") == 10
    assert all(0 < t.get_position()[0] < ax.get_xlim()[1] for t in ax.texts)


def test_a_puzzle_without_laws_has_a_table_of_moves():
    assert [t.get_text() for t in draw_tally(Tally(("R",), (), (), (), ())).axes[0].texts] == ["start", "R"]
