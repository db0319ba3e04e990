"""Times in whole frames: no gaps, captions inside their beats, and every turn lands where the moves lead."""

from __future__ import annotations

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from tests.story.stories import TICKETS, told


@pytest.mark.parametrize("case", TICKETS)
@pytest.mark.parametrize("rate", [15, 30])
def test_shots_follow_each_other_and_cues_lie_in_their_beats(case, rate):
    times = timeline(story_of(told(case)), told(case), rate)
    assert times.shots[0].first == 0
    assert all(one.last == two.first and one.first < one.last for one, two in zip(times.shots, times.shots[1:], strict=False))
    ends = (*times.starts[1:], times.frames)
    for number, (start, end) in enumerate(zip(times.starts, ends, strict=True)):
        assert [shot.first for shot in times.shots if shot.beat == number][0] == start
        cues = [cue for sentence in times.spoken[number] for cue in sentence]
        assert all(start <= cue.first < cue.last <= end for cue in cues)
    assert sum(len(s) for beat in times.spoken for s in beat) == len(times.cues)


@pytest.mark.parametrize("case", TICKETS)
def test_every_move_is_made_once_and_the_end_is_home(case):
    found = told(case)
    times = timeline(story_of(found), found)
    turned = [shot for shot in times.shots if shot.moving and not shot.again]
    written = [name for names in times.names for name in names]
    assert len(turned) == sum(1 for name in written if name[0] not in "xyz")
    if turned:
        puzzle = found.turning
        for shot in turned:
            after = next(s for s in times.shots if s.first == shot.last)
            image = puzzle.permutation(shot.shown)
            for turn in shot.turns:
                image = turn.permutation[image]
            assert puzzle.arrangement(image) == after.shown
        assert looks_solved(puzzle, puzzle.appearance(times.shots[-1].shown)) or found.puzzle.rotations


def test_turns_are_eased_without_a_jerk():
    times = timeline(story_of(told("ordinary")), told("ordinary"))
    shot = next(shot for shot in times.shots if shot.moving)
    done = [shot.done(frame) for frame in range(shot.first, shot.last)]
    steps = [b - a for a, b in zip([0.0, *done], [*done, 1.0], strict=True)]
    assert all(step > 0 for step in steps) and abs(sum(steps) - 1) < 1e-9
    assert max(steps[0], steps[-1]) < 0.1 * max(steps)


def test_a_part_of_a_story_starts_at_zero():
    times = timeline(story_of(told("lookalike")), told("lookalike"))
    way = {i for i, beat in enumerate(times.story.beats) if beat.moves}
    part = times.only(way)
    assert part.shots[0].first == 0 and part.frames == sum(s.last - s.first for s in times.shots if s.beat in way)
    assert part.cues and all(0 <= cue.first < cue.last <= part.frames for cue in part.cues)


SIDES = {"U": (0, 1, 0), "D": (0, -1, 0), "F": (0, 0, 1), "B": (0, 0, -1), "L": (-1, 0, 0), "R": (1, 0, 0)}


@pytest.mark.parametrize("change", ["flip UB", "flip DB", "flip FL", "twist UFL cw", "twist DBL ccw"])
def test_every_sticker_of_a_piece_that_is_spoken_of_is_seen(change):
    """The eye is beyond the planes of the cube's sides on which the piece's stickers lie: nothing can be before these."""
    cube, slot = load("cube:3"), change.split()[1]
    found = answer(cube, cube.appearance(changed(cube, [change])), Budget(10.0, 500_000_000))
    times = timeline(story_of(found), found, 15)
    spoken = [shot for shot in times.shots if cube.slot(slot) in shot.marked and shot.towards is None]
    assert len({shot.beat for shot in spoken}) > 1
    for shot in spoken:
        assert all(shot.camera.eye @ SIDES[side] > 1 for side in slot)
