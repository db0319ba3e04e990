"""The budget: what a clock counts and lends, and that every part returns on a spent one, says so, and leaves nothing behind."""

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget, Reached, cached, started, usable
from oddswap.reasoning.search.kept_files import folder
from oddswap.reasoning.teaching.toolbox import toolbox
from oddswap.reasoning.ways.short_words import short_words
from oddswap.reasoning.ways.three_cycles import three_cycles
from oddswap.words import say
from tests.common.clocks import PLENTY, ends_after

POLLS = [0, 1, 2, 5, 20, 100]


def test_a_share_ends_with_its_clock_and_never_after_it():
    used = [0.0]
    clock = Budget(10.0).start(lambda: used[0])
    half, most = clock.share(0.5), clock.share(1.0, 2.0)
    assert (clock.left, half.seconds, most.seconds) == (10.0, 5.0, 2.0)
    used[0] = 6.0
    assert (clock.left, half.spent, most.spent) == (4.0, True, True) and clock.share(0.5).seconds == 2.0
    used[0] = 11.0
    assert clock.spent and clock.left == 0.0 and clock.share(1.0).spent


def test_a_clock_that_runs_is_taken_as_it_is():
    clock = Budget(3.0).start()
    assert started(clock) is clock and started(Budget(3.0)).seconds == 3.0 and started(None).seconds == Budget().seconds


def test_memory_ends_a_clock(monkeypatch):
    used = [0.0]
    clock = Budget(1e9, 10**6).start(lambda: used[0])
    assert not clock.spent
    monkeypatch.setattr("oddswap.reasoning.budget.resident", lambda: 10**13)
    used[0] = 1.0
    assert clock.spent and clock.used < clock.seconds


def test_what_was_cut_short_is_not_cached():
    made = []

    @cached(2)
    def make(what, clock):
        made.append(what)
        return what

    spent = ends_after(0)
    assert [make("a", spent), make("a", spent), make("a", PLENTY), make("a", spent)] == ["a"] * 4 and made == ["a"] * 3
    assert [make("b", PLENTY), make("c", PLENTY), make("a", PLENTY)] == ["b", "c", "a"] and made == ["a"] * 3 + ["b", "c", "a"]


def test_nothing_is_compiled_with_little_time_left(monkeypatch, tmp_path):
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    monkeypatch.setattr("oddswap.reasoning.budget._loaded", lambda *_: False)
    monkeypatch.setattr("oddswap.reasoning.budget._kept", lambda *_: False)
    loop = "search/word_kernels", "word_ends"
    assert usable(Budget(9.0).start(lambda: 0.0), *loop) and not usable(Budget(7.0).start(lambda: 0.0), *loop)
    puzzle = load("cube:3")
    way = puzzle.find_way(puzzle.follow("R U F2 D L' B U2 R D' F L2 B2 U R"), budget=Budget(2.0))
    assert way.moves is None and way.lower_bound >= 8


CASES = {
    "lookalike": ("shape-mod:prism8", ["flip UF"], ""),
    "by turning": ("cube:3", [], "R U F2 D L' B U2 R D' F L2 B2 U R"),
    "by hand": ("cube:3", ["twist UFR cw"], ""),
    "tiles": ("tiles:3x3", ["cycle r1c1 r1c2 r2c1"], ""),
    "out of a box": ("cuboid:2x2x4,turns=half", ["swap UFL UFR"], ""),
    "an open box": ("cuboid:2x3x4,turns=all", [], "U 2F2"),
}


@pytest.mark.parametrize("polls", POLLS)
@pytest.mark.parametrize("case", CASES)
def test_an_answer_comes_whenever_the_clock_ends_and_says_how_far_it_came(case, polls):
    name, changes, moves = CASES[case]
    puzzle = load(name)
    found = answer(puzzle, puzzle.appearance(changed(puzzle, changes, puzzle.follow(moves))), ends_after(polls))
    assert all(isinstance(part, Reached) and say(part) for part in found.reached)
    if found.way_out is not None and not found.way_out.shortest:
        assert "way out" in {part.part for part in found.reached}


@pytest.mark.parametrize(("polls", "turns"), list(zip(POLLS, ["R+U", "F+U", "R+F", "L+U", "B+U", "R+D"], strict=True)))
def test_tables_that_were_cut_short_are_made_anew(polls, turns, monkeypatch, tmp_path):
    monkeypatch.setenv("ODDSWAP_CACHE", str(tmp_path))
    puzzle = load(f"cube:2,turns={turns}")
    for table in (short_words, three_cycles, toolbox):
        table(puzzle, ends_after(polls))
    assert folder() == tmp_path and not list(tmp_path.iterdir())
    whole = toolbox(puzzle, PLENTY)
    assert whole and len(list(tmp_path.iterdir())) == 1 and short_words(puzzle, PLENTY).home(puzzle.turns[turns[0]].permutation)
