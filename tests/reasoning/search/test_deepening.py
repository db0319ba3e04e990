"""Iterative deepening: the lengths that exact levels and hashes give, and nothing walked that cannot end at a goal."""

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.search import deepening as deepening_module
from oddswap.reasoning.search import deepening as tables
from oddswap.reasoning.search import kept_files
from oddswap.reasoning.search.deepening import Deepening, TableSet, deepening, patterns, table_sets
from oddswap.reasoning.search.kept_files import ThrownAway
from oddswap.reasoning.search.levels import Ball, TimeUsedUp
from oddswap.reasoning.search.seen import seen_model
from oddswap.reasoning.search.shortest import find_way, levels_around
from tests.reasoning.search.sliding import job_of, walked

LETTERS = "tiles:3x3,letters=AABBBCDE"


def deep(job, depth=2, largest=3000):
    out = Ball(job.moves, np.atleast_2d(job.start))
    for _ in range(depth):
        out.grow(lambda: None)
    plan = TableSet(tuple(patterns(job.moves, job.goals, largest)), 0.0)
    return deepening(out, job.goals, plan, lambda: None)[0]


def first_length(found, longest=40):
    for length in range(found.out.depth + 1, longest):
        word = found.of_length(length, lambda: None)
        if word is not None:
            return length, word
    return None


@pytest.mark.parametrize("name", ["tiles:3x3", "tiles:2x4", LETTERS])
def test_the_first_length_with_a_word_is_the_distance_and_the_word_leads_home(name):
    puzzle, rng = load(name), np.random.default_rng(3)
    model = seen_model(puzzle)
    for depth, level in list(enumerate(levels_around(puzzle, 40).levels))[3::3]:
        if not len(level):
            continue
        start = level.rows[int(rng.integers(len(level)))]
        job = job_of(puzzle, start)
        length, word = first_length(deep(job))
        assert length == len(word) == depth
        for move in word:
            start = job.moves.apply(start, move)
        assert start.tobytes() == model.solved.tobytes()


def test_lengths_that_cannot_bring_the_blank_home_are_not_walked():
    puzzle = load("tiles:3x3")
    found = deep(job_of(puzzle, walked(puzzle, 201, 1)))
    for length in range(3, 20):
        before = found.made
        assert found.of_length(length, lambda: None) is None or length % 2
        assert length % 2 or found.made == before


def test_a_board_whose_blank_can_come_home_in_any_number_of_slides_has_all_lengths_tried(tmp_path):
    file = tmp_path / "ring.toml"
    file.write_text('[graph]\nedges = "a-b b-c c-d d-e e-a"\nblank = "a"\n')
    puzzle = load(f"custom:{file}")
    job = job_of(puzzle, walked(puzzle, 5, 4))
    assert [first_length(deep(job, depth=0))[0]] == [len(find_way(puzzle, walked(puzzle, 5, 4)).turns)]


def test_an_exchange_that_no_slides_make_is_never_found_and_all_starts_without_the_right_pieces_are_refused():
    puzzle = load("tiles:3x3")
    state = seen_model(puzzle).solved.copy()
    state[[0, 1]] = state[[1, 0]]
    assert first_length(deep(job_of(puzzle, state)), 20) is None
    state[0] = state[1]
    assert deep(job_of(puzzle, state)).impossible


def test_a_search_gives_the_same_way_by_hashes_with_tables_and_with_tables_from_the_cache(monkeypatch, tmp_path):
    puzzle = load("tiles:4x4")
    state = walked(puzzle, 120, 2)
    monkeypatch.setattr(deepening_module, "SIZES", ())
    by_hashes = find_way(puzzle, state)
    monkeypatch.undo()
    monkeypatch.setenv(kept_files.VARIABLE, str(tmp_path))
    monkeypatch.setattr(tables, "KEPT", 1000)
    monkeypatch.setattr(deepening_module, "SIZES", (1 << 20,))
    monkeypatch.setattr(deepening_module, "PACE", 10**12)
    ways = [find_way(puzzle, state)]
    kept = sorted(tmp_path.iterdir())
    ways.append(find_way(puzzle, state))
    kept[0].write_bytes(kept[0].read_bytes()[:-5])
    ways.append(find_way(puzzle, state))
    assert len(kept) >= 3 and by_hashes.shortest
    for way in ways:
        assert way.shortest and way.lower_bound == len(way.turns) == by_hashes.lower_bound
    assert ThrownAway in map(type, ways[2].reasons) and ThrownAway not in map(type, ways[1].reasons)


def test_the_time_is_kept_and_the_bound_grows_with_tables(monkeypatch):
    puzzle = load("tiles:5x5")
    bounds = []
    way = find_way(puzzle, walked(puzzle, 5000, 2), budget=Budget(1.5), progress=lambda bound, *_: bounds.append(bound))
    assert way.turns is None and way.reasons == (TimeUsedUp(1.5),)
    assert way.lower_bound >= max(bounds) > 15 and bounds == sorted(bounds)


def test_tables_are_only_planned_where_they_fit_and_where_a_blank_slides():
    tiles, cube = job_of(load("tiles:4x4")), job_of(load("cube:2"))
    out = Ball(tiles.moves, tiles.goals)
    every = table_sets(out, tiles.goals, 10**9)
    assert len(every) == 3 and [plan.seconds for plan in every] == sorted(plan.seconds for plan in every)
    assert table_sets(out, tiles.goals, 10**7) == every[:1] and table_sets(out, tiles.goals, 1000) == []
    assert table_sets(Ball(cube.moves, cube.goals), cube.goals, 10**9) == []


def test_expectations_grow_with_the_words():
    puzzle = load("tiles:3x3")
    found = deep(job_of(puzzle, walked(puzzle, 201, 1)))
    assert isinstance(found, Deepening) and found.expected(10) == 0
    found.seconds, found.tried = 1.0, 10
    assert found.expected(11) == pytest.approx(found.out.words(9) / found.out.words(8))
    assert found.expected(14) > found.expected(12)
