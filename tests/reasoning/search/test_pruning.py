"""Tables of slides: equal to a walk in plain Python, and never above the distance of any state."""

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search import deepening, kept_files
from oddswap.reasoning.search.coordinates import FAR
from oddswap.reasoning.search.deepening import entries, patterns, table
from oddswap.reasoning.search.seen import seen_model
from oddswap.reasoning.search.shortest import levels_around
from tests.reasoning.search.sliding import job_of, slides_of_their_own

LETTERS = "tiles:3x3,letters=AABBBCDE"


def made(job, pattern):
    return table(job.moves, job.goals, pattern, lambda: None)[0]


@pytest.mark.parametrize(
    ("name", "pattern"),
    [
        ("tiles:3x3", ((0, 1, 2),)),
        ("tiles:3x3", ((7,), (4, 2))),
        ("tiles:2x4", ((0, 6), (3,))),
        ("tiles:3x3,blank=r2c2", ((0, 5), (8,))),
        (LETTERS, ((0,), (2, 3))),
    ],
)
def test_counts_are_those_of_a_walk_in_plain_python(name, pattern):
    puzzle = load(name)
    job, codes = job_of(puzzle), {code for part in pattern for code in part}
    found = made(job, pattern)
    walk = slides_of_their_own(puzzle, codes)
    assert (found.counts < FAR).sum() == len(walk)
    rows = np.array([[254 if code < 0 else code for code in shown] for shown in walk], dtype=np.uint8)
    assert found.bounds(found.numbers(rows)).tolist() == list(walk.values())


@pytest.mark.parametrize("name", ["tiles:3x3", "tiles:2x4", LETTERS])
@pytest.mark.parametrize("largest", [100, 3000, 10**6])
def test_the_sum_over_the_tables_is_never_above_the_distance_of_any_state(name, largest):
    puzzle = load(name)
    job = job_of(puzzle)
    tables = [made(job, pattern) for pattern in patterns(job.moves, job.goals, largest)]
    sharp = 0
    for depth, level in enumerate(levels_around(puzzle, 40).levels):
        bounds = sum(each.bounds(each.numbers(level.rows)) for each in tables)
        assert (bounds <= depth).all()
        sharp += (bounds == depth).sum()
    assert sharp > 50


@pytest.mark.parametrize("name", ["tiles:3x3", "tiles:4x4", "tiles:5x5", LETTERS])
@pytest.mark.parametrize("largest", [10, 10**4, 10**7])
def test_each_piece_is_dealt_to_one_table_at_most_and_none_is_larger_than_allowed(name, largest):
    job = job_of(load(name))
    dealt = patterns(job.moves, job.goals, largest)
    codes = [code for pattern in dealt for part in pattern for code in part]
    assert len(codes) == len(set(codes)) and set(codes) == set(job.goals[0].tolist()) - {job.moves.blank.code}
    assert all(entries(job.goals, pattern) <= largest or sum(map(len, pattern)) == 1 for pattern in dealt)


def test_too_many_alike_are_left_out():
    job = job_of(load("tiles:5x5,letters=AAAAAAAAAAAABBBBBBBBBBCD"))
    assert patterns(job.moves, job.goals, 10**9) == [((2, 3),)]


def test_a_table_depends_on_all_that_it_is_made_of():
    job = job_of(load("tiles:3x3"))
    corner = job_of(load("tiles:3x3,blank=r1c1"))
    other = np.concatenate([job.goals, job.moves.apply(job.goals, int(np.flatnonzero(job.moves.blank.begin == 8)[0]))])
    keys = [
        deepening._key(moves, goals, pattern)
        for moves, goals, pattern in (
            (job.moves, job.goals, ((0, 1),)),
            (job.moves, job.goals, ((0, 2),)),
            (job.moves, job.goals, ((0,), (1,))),
            (job.moves, job.goals[:, ::-1], ((0, 1),)),
            (job.moves, other, ((0, 1),)),
            (corner.moves, corner.goals, ((0, 1),)),
        )
    ]
    assert len(set(keys)) == len(keys)


def test_a_table_comes_back_from_the_cache_and_a_damaged_one_is_made_anew(monkeypatch, tmp_path):
    monkeypatch.setenv(kept_files.VARIABLE, str(tmp_path))
    monkeypatch.setattr(deepening, "KEPT", 1)
    job, pattern = job_of(load("tiles:3x3")), ((0, 1, 2), (3,))
    first = made(job, pattern)
    (file,) = tmp_path.iterdir()
    with monkeypatch.context() as patch:
        patch.setattr(deepening, "_counts", None)
        assert (made(job, pattern).counts == first.counts).all()
    data = bytearray(file.read_bytes())
    data[-1] ^= 4
    file.write_bytes(data)
    again, thrown = table(job.moves, job.goals, pattern, lambda: None)
    assert (again.counts == first.counts).all() and thrown.fault == "damaged"
    assert (made(job, pattern).counts == first.counts).all() and len(list(tmp_path.iterdir())) == 1


def test_states_of_a_goal_with_one_bare_slot_more_are_counted_from_every_goal():
    puzzle = load("tiles:2x3")
    model, start = seen_model(puzzle), job_of(puzzle)
    near = start.moves.apply(model.solved[None], int(np.flatnonzero(start.moves.blank.begin == 5)[0]))
    job = job_of(puzzle, goals=np.concatenate([model.solved[None], near]))
    tables = [made(job, pattern) for pattern in patterns(job.moves, job.goals, 10**5)]
    both = levels_around(puzzle, 30, model.solved), levels_around(puzzle, 30, near[0])
    far = [{row.tobytes(): depth for depth, level in enumerate(ball.levels) for row in level.rows} for ball in both]
    for depth, level in enumerate(both[0].levels):
        bounds = sum(each.bounds(each.numbers(level.rows)) for each in tables)
        least = [min(depth, far[1][row.tobytes()]) for row in level.rows]
        assert (bounds <= least).all()
