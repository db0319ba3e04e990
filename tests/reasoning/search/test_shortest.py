"""Ways out: lengths against published depth counts, and bounds that stay true when the budget or the hash is poor."""

import json
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from oddswap.errors import TooLarge, UnknownMove
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.search import shortest as search
from oddswap.reasoning.search import words as search_words
from oddswap.reasoning.search.levels import AllStatesSeen, Ball, Level, MemoryUsedUp, TimeUsedUp, first_of_each
from oddswap.reasoning.search.middle import word_ends
from oddswap.reasoning.search.seen import seen_model
from oddswap.reasoning.search.shortest import depth_counts, find_way, levels_around
from oddswap.values.position import Arrangement

REFERENCE = json.loads((Path(__file__).parents[2] / "reference" / "depth_counts.json").read_text("utf-8"))
FAR = "R U F2 D B' L U2 R B D2 L' U F D' R2 U'"


def chosen(puzzle, which):
    """All turns, those by a quarter, or those by a half."""
    amounts = {"quarter": {-1, 1}, "half": {2}}.get(which)
    return [name for name, turn in puzzle.turns.items() if amounts is None or turn.step.amount in amounts]


def shown(puzzle, moves):
    return puzzle.appearance(puzzle.follow(moves))


def leads_to_solved(puzzle, state, way):
    model = seen_model(puzzle)
    for name in way.turns:
        state = model.apply(state, name)
    return state.tobytes() in {goal.tobytes() for goal in model.goals}


@pytest.mark.parametrize("row", REFERENCE, ids=lambda row: f"{row['puzzle']}-{row['turns']}")
def test_states_by_depth_agree_with_published_counts(row):
    puzzle, counts = load(row["puzzle"]), row["counts"]
    beyond = 1 if row["whole"] else 0
    assert depth_counts(puzzle, len(counts) - 1 + beyond, turns=chosen(puzzle, row["turns"])) == counts


@pytest.mark.parametrize(
    "name", ["cube:2", "cube:3,centres=none", "cube:4", "cuboid:2x2x3", "cuboid:1x2x3", "cuboid:3x4x5", "octahedron"]
)
def test_counts_up_to_rotation_are_those_in_all_holdings_divided_by_the_rotations(name):
    puzzle = load(name)
    model, turns = seen_model(puzzle), len(puzzle.turns)
    every = Ball(search_words.Moves.of(model.source[:turns], model.lut[:turns]), model.goals)
    for _ in range(2):
        every.grow(lambda: None)
    assert [len(level) for level in every.levels] == [len(model.goals) * n for n in depth_counts(puzzle, 2)]


@pytest.mark.parametrize("near", [20, search.NEAR], ids=["mostly by words", "mostly by levels"])
@pytest.mark.parametrize(
    ("name", "depth", "each"),
    [("cube:3", 5, 20), ("cube:3,centres=marked", 4, 12), ("cube:2", 7, 14), ("tiles:3x3", 18, 4), ("graph:2+1+2", 14, 9)],
)
def test_positions_of_known_depth_get_a_way_of_that_length(monkeypatch, name, depth, each, near):
    monkeypatch.setattr(search, "NEAR", near)
    puzzle, rng = load(name), np.random.default_rng(11)
    for d, level in enumerate(levels_around(puzzle, depth).levels):
        for i in rng.choice(len(level), size=min(each, len(level)), replace=False):
            way = find_way(puzzle, level.rows[i])
            assert (len(way.turns), way.lower_bound, way.shortest) == (d, d, True)
            assert leads_to_solved(puzzle, level.rows[i], way)


def test_the_way_is_made_of_turns_as_the_puzzle_is_held():
    puzzle = load("cube:2")
    start = puzzle.follow("x y R U F2 D B' L")
    way = find_way(puzzle, puzzle.appearance(start))
    after = puzzle.appearance(puzzle.follow(" ".join(way.turns), start))
    assert after in {puzzle.appearance(puzzle.follow(f"{a} {b}")) for a in HOLDINGS_A for b in HOLDINGS_B}


HOLDINGS_A = ["x x'", "x", "x2", "x'", "z", "z'"]
HOLDINGS_B = ["y y'", "y", "y2", "y'"]


def test_in_a_free_holding_few_turns_are_those_of_the_start_as_it_is_held():
    puzzle = load("cube:2")
    assert find_way(puzzle, shown(puzzle, "y F'"), turns=["F", "F'"]).turns == ("F",)
    assert find_way(puzzle, shown(puzzle, "F' y"), turns=["F", "F'"]).impossible


def test_opposite_turns_only_change_the_holding_of_two_slabs():
    """Common practice: R L' takes a cube of two slabs round as a whole."""
    puzzle = load("cube:2")
    way = find_way(puzzle, shown(puzzle, "R L'"))
    assert (way.turns, way.lower_bound, way.shortest) == ((), 0, True)


def test_a_turned_centre_matters_only_where_it_shows():
    """Common practice: this sequence turns one centre half round, and nothing else."""
    moves = "U R L U2 R' L' U R L U2 R' L'"
    plain, marked = load("cube:3"), load("cube:3,centres=marked")
    assert find_way(plain, shown(plain, moves)).turns == ()
    way = find_way(marked, shown(marked, moves))
    assert way.shortest and 0 < len(way.turns) <= 12
    assert leads_to_solved(marked, seen_model(marked).pack(shown(marked, moves)), way)


def test_the_search_goes_to_given_goals_with_given_turns():
    puzzle = load("cube:3")
    way = find_way(puzzle, shown(puzzle, "U R"), goals=shown(puzzle, "U R F2 R2"), turns=["R", "F", "F'"])
    assert way.turns == ("F", "F", "R", "R") and way.lower_bound == 4
    assert way.counting == "a turn of one slab by any amount counts as one; turns allowed: F F' R"


@pytest.mark.parametrize("near", [5, search.NEAR])
@pytest.mark.parametrize("name", ["tiles:3x3", "tiles:2x3,letters=ABABA", "graph:2+1+2"])
def test_only_pieces_next_to_the_blank_slide(monkeypatch, name, near):
    monkeypatch.setattr(search, "NEAR", near)
    puzzle, rng = load(name), np.random.default_rng(6)
    for length in (1, 4, 9, 16):
        start = puzzle.solved
        for _ in range(length):
            start = puzzle.follow(str(rng.choice([turn.name for turn in puzzle.legal(start)])), start)
        way = find_way(puzzle, puzzle.appearance(start))
        assert way.shortest and len(way.turns) <= length
        after = puzzle.follow(" ".join(way.turns), start)
        assert puzzle.appearance(after) == puzzle.appearance(puzzle.solved)
    assert way.counting.startswith("the slide of one piece counts as one")


@pytest.mark.parametrize("near", [5, search.NEAR])
def test_every_arrangement_of_a_board_with_equal_tiles_gets_a_way(monkeypatch, near):
    monkeypatch.setattr(search, "NEAR", near)
    board = load("tiles:2x3,letters=AABBC")
    levels = levels_around(board, 30).levels
    assert sum(map(len, levels)) == 6 * 30
    for depth, level in enumerate(levels):
        for state in level.rows:
            assert len(find_way(board, state).turns) == depth


def test_a_board_of_odd_parity_is_proved_impossible():
    """Johnson & Story, Amer. J. Math. 2 (1879) 397-404: with the blank at home, even arrangements only."""
    board = load("tiles:2x3")
    way = find_way(board, board.appearance(Arrangement(board.name, (1, 0, 2, 3, 4, 5), (0,) * 6)))
    assert way.impossible and way.turns is None


def test_turns_without_their_inverses_are_enough():
    puzzle = load("cube:3")
    assert find_way(puzzle, shown(puzzle, "R"), turns=["R"]).turns == ("R", "R", "R")


def test_a_position_that_the_turns_do_not_reach_is_proved_impossible():
    puzzle = load("cube:3")
    way = find_way(puzzle, shown(puzzle, "R"), turns=["U2", "R2", "F2"])
    assert way.impossible and way.turns is None and not way.shortest
    assert way.reasons == (AllStatesSeen(),)


@pytest.mark.parametrize(
    "budget", [Budget(0.0), Budget(0.05), Budget(1.0), Budget(20.0, 0), Budget(0.5, 100_000), Budget(1.0, 3_000_000)], ids=str
)
def test_when_the_budget_ends_the_bound_is_told(budget):
    puzzle, told = load("cube:3,centres=marked"), []
    way = find_way(puzzle, shown(puzzle, FAR), budget=budget, progress=lambda *news: told.append(news))
    assert way.turns is None and not way.shortest and not way.impossible
    assert 1 <= way.lower_bound <= 16
    assert type(way.reasons[0]) is (TimeUsedUp if budget.bytes else MemoryUsedUp)
    assert told == sorted(told) and all(bound <= way.lower_bound for bound, _, _ in told)


def test_more_time_never_gives_a_smaller_bound():
    puzzle = load("cube:3")
    bounds = [find_way(puzzle, shown(puzzle, FAR), budget=Budget(s)).lower_bound for s in (0.0, 0.02, 0.3, 1)]
    assert bounds == sorted(bounds) and bounds[0] < bounds[-1]


@pytest.mark.parametrize("hashes", [1, 7, 1000])
def test_a_poor_hash_gives_no_false_proof(monkeypatch, hashes):
    monkeypatch.setattr(search, "NEAR", 10)
    monkeypatch.setattr(
        search_words,
        "weights",
        lambda slots, codes: np.random.default_rng(3).integers(0, hashes, (slots, codes), dtype=np.uint64),
    )
    puzzle, rng = load("cube:2"), np.random.default_rng(4)
    grown = levels_around(puzzle, 4)
    assert [len(level) for level in grown.levels] == REFERENCE[0]["counts"][:5]
    for d, level in enumerate(grown.levels):
        for i in rng.choice(len(level), size=min(3, len(level)), replace=False):
            way = find_way(puzzle, level.rows[i])
            assert (len(way.turns), way.lower_bound) == (d, d)
            assert leads_to_solved(puzzle, level.rows[i], way)


def test_rows_that_share_a_hash_are_told_apart():
    rows = np.array([[0], [1], [0], [2], [1], [0]], dtype=np.uint8)
    level = Level(rows, np.zeros(6, dtype=np.uint64), np.zeros(6, dtype=np.int16))
    assert sorted(first_of_each(level)) == [0, 1, 3]


def test_reduced_words_of_six_faces():
    """By hand: a face, then w(n) = 12 w(n-1) + 18 w(n-2), since opposite faces are turned in one order only."""
    puzzle = load("cube:3")
    model = seen_model(puzzle)
    moves = search_words.Moves.of(model.source, model.lut)
    assert [moves.words(n)[-1] for n in range(6)] == [1, 18, 243, 3240, 43254, 577368]


def test_a_hash_leads_back_to_its_word():
    grown = levels_around(load("cube:3,centres=marked"), 2)
    moves, edge = grown.moves, grown.edge
    hashes = np.concatenate([part.copy() for part in word_ends(moves, edge, 3, lambda: None)])
    assert len(hashes) == edge.words(moves, 3)
    counts = moves.words(3)[edge.last]
    for root in (0, 17, len(edge) - 1):
        for number in (0, 1, 99, int(counts[root]) - 1):
            state = edge.rows[root]
            for move in moves.word(int(edge.last[root]), 3, number):
                state = moves.apply(state, move)
            assert moves.hashes(state[None])[0] == hashes[sum(counts[:root]) + number]


def test_a_set_of_hashes_finds_all_that_were_put_in():
    from oddswap.reasoning.search.word_kernels import HashSet

    hashes = np.random.default_rng(8).integers(0, 2**64, 20_000, dtype=np.uint64)
    hashes[9_950:10_050] |= np.uint64(0xFFFFFFFF00000000)
    kept = HashSet(10_000)
    kept.add(hashes[:10_000])
    for turned_away_by_bits in (True, False):
        if not turned_away_by_bits:
            kept.bits[:] = np.uint64(2**64 - 1)
        assert (kept.places_of(hashes) == np.arange(10_000)).all()


def test_stored_states_are_small():
    from oddswap.reasoning.search.word_kernels import HashSet

    grown = levels_around(load("cube:3,centres=marked"), 3)
    assert grown.nbytes / sum(map(len, grown.levels)) <= 42
    assert HashSet.bytes_for(10**8) / 10**8 <= 9


def test_levels_stop_before_memory_gets_short(monkeypatch):
    monkeypatch.setattr(search, "Budget", lambda: Budget(bytes=10**5))
    with pytest.raises(TooLarge, match="positions 4 turns off on cube:2 need too much memory: ask for 3"):
        depth_counts(load("cube:2"), 11)


def test_only_turns_of_the_puzzle_are_allowed():
    puzzle = load("cube:3")
    with pytest.raises(UnknownMove, match="cube:3 does not make the turn `3Rw`; it makes U U2"):
        find_way(puzzle, shown(puzzle, "R"), turns=["R", "3Rw"])
    with pytest.raises(UnknownMove, match="no turn is allowed"):
        find_way(puzzle, shown(puzzle, "R"), turns=[])


def test_the_compiler_loads_only_for_a_search_beyond_the_levels():
    code = (
        "import sys; from oddswap.puzzles.catalogue import load; from oddswap.reasoning.search.shortest import find_way\n"
        "p = load('cube:3'); find_way(p, p.appearance(p.follow('R U F D'))); print('numba' in sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "False"
