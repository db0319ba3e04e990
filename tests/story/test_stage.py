"""Pictures of a clip: parsed for their words, compared pixel by pixel where something must not change, and free of flashes."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, product

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.showing.ink.palette import ARROW, BACKDROP, FAINT_INK, HIGHLIGHT, INK, PAPER, TABLE, contrast, luminance, mix
from oddswap.story.large_words import CLEAR, COVER, SQUARE, TALL, WIDE
from oddswap.story.stage import Stage, _on_its_way
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from oddswap.story.telling.views import views
from oddswap.values.position import START
from tests.story.stories import NOTE, TICKETS, told


def stage_of(case: str, layout=WIDE, height: int = 180, rate: int = 10) -> Stage:
    return Stage(told(case), timeline(story_of(told(case)), told(case), rate), layout, {}, height)


def words_on(stage: Stage, shot) -> str:
    return " ".join(text.get_text() for text in stage.figure(shot, shot.first).axes[0].texts)


@pytest.mark.parametrize("layout", [WIDE, TALL, SQUARE, COVER, CLEAR], ids=["wide", "tall", "square", "cover", "clear"])
@pytest.mark.parametrize("case", TICKETS)
def test_every_shot_of_every_story_can_be_drawn(case, layout):
    stage = stage_of(case, layout)
    for number, beat in enumerate(stage.times.story.beats):
        shots = [shot for shot in stage.times.shots if shot.beat == number]
        for shot in (shots[0], *[shot for shot in shots if shot.moving][:1], shots[-1]):
            picture = stage.picture(shot, shot.last - 1)
            assert picture.shape == (180, round(180 * layout.width / layout.height), 4)
            if layout is CLEAR:
                assert picture[0, 0, 3] == 0 and picture[..., 3].max() == 255, "nothing but the puzzle"
            else:
                assert (picture[..., 3] == 255).all()
        if layout is not CLEAR:
            text = " ".join(words_on(stage, shots[0]).split())
            assert beat.picture in ("law", "plain") or all(line in text for line in beat.large[: len(layout.sizes)])
            assert not any(word in text for word in NOTE.split() if len(word) > 4)


def test_the_move_of_the_moment_is_dark_among_its_neighbours():
    stage = stage_of("lookalike")
    shots = [shot for shot in stage.times.shots if shot.moving and not shot.again]
    for shot in (shots[0], shots[4], shots[-1]):
        axes, names = stage.figure(shot, shot.first).axes[0], stage.times.names[shot.beat]
        current = [text.get_text() for text in axes.texts if text.get_weight() == "bold" and text.get_color() == PAPER]
        assert current == [names[shot.move]]
        text = " ".join(words_on(stage, shot).split())
        assert " ".join(names[max(0, shot.move - 2) : shot.move + 3]) in text and f"turn {shot.move + 1} of {len(names)}" in text


def test_what_slides_into_the_gap_is_called_by_what_is_written_on_it():
    """The tiles bear the numbers of their places at home."""
    stage, said = stage_of("tiles", WIDE, 270), []
    for shot in (shot for shot in stage.times.shots if shot.moving and not shot.again):
        texts = stage.figure(shot, shot.first).axes[0].texts
        [now] = [text.get_text() for text in texts if text.get_color() == PAPER and text.get_weight() == "bold"]
        after = next(one.shown for one in stage.times.shots if one.first == shot.last)
        moved = [a for a, b in zip(shot.shown.pieces, after.pieces, strict=True) if a != b]
        assert int(now) - 1 in moved
        said.append(now)
    assert len(said) > 4 and len(set(said)) > 2


def test_the_strip_slides_by_one_place_and_within_its_paper():
    """Halfway both names are half in the dark place; no ink of the strip leaves it, wherever the names stand."""
    stage = stage_of("lookalike", rate=30)
    slides = [shot for shot in stage.times.shots if shot.sliding]
    assert len(slides) == len(stage.times.names[slides[0].beat]) - 1
    for frame in (slides[4].first, (slides[4].first + slides[4].last) // 2):
        axes = stage.figure(slides[4], frame).axes[0]
        inside = [text for text in axes.texts if text.get_color() == PAPER and text.get_weight() == "bold"]
        assert [text.get_text() for text in inside] == list(stage.times.names[slides[4].beat][4:6])
        assert 0 < inside[1].get_position()[0] - inside[0].get_position()[0] < 2
        assert all(text.get_clip_box() is not None for text in inside)


@pytest.mark.parametrize("case", ["lookalike", "not by turning"])
def test_marks_come_in_a_fifth_of_a_second_and_go_in_half_of_one(case):
    """Frame by frame, and none jumps: at 30 frames a second it comes by a sixth at once at most, and goes by a fifteenth."""
    times, before = stage_of(case, WIDE, 90, rate=30).times, {}
    for shot in times.shots:
        for frame in range(shot.first, shot.last):
            now = shot.inked(frame)
            for piece in {*now, *before}:
                change = now.get(piece, 0.0) - before.get(piece, 0.0)
                assert -1 / 15 - 1e-6 <= change <= 1 / 6 + 1e-6, (frame, piece)
            before = now
    assert any(shot.marked for shot in times.shots)


def test_the_mark_of_a_piece_behind_the_puzzle_is_dashed():
    """Seen from the other side the mark is seen, and in pieces; from where the camera goes it is whole, after the way, too."""
    stage = stage_of("lookalike", CLEAR, 270)
    (*_, front), (*_, after) = (
        [shot for shot in stage.times.shots if shot.beat == beat and shot.marked]
        for beat in (0, len(stage.times.story.beats) - 2)
    )
    parts = []
    for shot in (replace(front, camera=views(stage.puzzle, START)[6]), front, after):
        picture = stage.picture(shot, shot.last - 1)[..., :3].astype(int)
        mark = np.abs(picture - [int(HIGHLIGHT[i : i + 2], 16) for i in (1, 3, 5)]).max(axis=2) < 40
        assert mark.any()
        parts.append(islands(mark))
    assert parts[0] > 5 > parts[1] and parts[0] > 5 > parts[2], parts


def islands(mask: np.ndarray) -> int:
    """How many connected parts a mask has, corners counted."""
    left, count = set(map(tuple, np.argwhere(mask).tolist())), 0
    while left:
        count, todo = count + 1, [left.pop()]
        while todo:
            y, x = todo.pop()
            near = {(y + i, x + j) for i in (-1, 0, 1) for j in (-1, 0, 1)} & left
            left -= near
            todo += near
    return count


def test_a_turn_ends_where_the_next_picture_begins():
    """The last frame of a turn is nearly the first one after it, and the frames between differ from both."""
    stage = stage_of("lookalike", CLEAR, rate=30)
    turn = next(shot for shot in stage.times.shots if shot.moving)
    after = stage.times.shots[stage.times.shots.index(turn) + 1]
    picture = lambda shot, frame: stage.picture(shot, frame).astype(int).copy()  # noqa: E731
    end, rest, middle = picture(turn, turn.last - 1), picture(after, after.first), picture(turn, (turn.first + turn.last) // 2)
    apart = lambda one, other: (np.abs(one - other).max(axis=2) > 40).mean()  # noqa: E731
    assert apart(end, rest) < 0.01 < apart(middle, rest)


@pytest.mark.parametrize("case", ["lookalike", "tiles"])
def test_a_frame_is_the_same_whoever_draws_it(case):
    """Pieces of a flat puzzle have shadows, so the order in which they are laid shows."""
    one, *others = [stage.picture(stage.times.shots[0], 0).copy() for stage in (stage_of(case) for _ in range(4))]
    assert all((other == one).all() for other in others)


@pytest.mark.parametrize("case", ["lookalike", "tiles"])
def test_nothing_flashes(case):
    """No more than three flashes in any second (WCAG 2.3.1): a flash is a pair of changes of relative luminance by 10 % and
    more where the darker is below 0.8, over a quarter of any 10 degrees of sight; a tenth of the picture is stricter."""
    stage = stage_of(case, WIDE, 90, rate=10)
    flashes, before = [], None
    turned = [shot for shot in stage.times.shots if shot.moving][:4]
    for shot in stage.times.shots:
        if shot.turns and not shot.moving or shot.moving and shot not in turned:
            continue
        for frame in range(shot.first, shot.last) if shot.moving else (shot.first,):
            share = stage.picture(shot, frame)[..., :3] / 255.0
            linear = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4) @ (0.2126, 0.7152, 0.0722)
            if before is not None:
                changed = (np.abs(linear - before) >= 0.1) & (np.minimum(linear, before) < 0.8)
                if changed.mean() > 0.1:
                    flashes.append(frame)
            before = linear
    rate = stage.times.frames_a_second
    assert all(sum(start <= frame < start + rate for frame in flashes) <= 6 for start in flashes), "two changes make a flash"


def test_all_text_and_marks_have_contrast_enough():
    """4.5:1 for text and 3:1 for graphics (WCAG 2.2, 1.4.3 and 1.4.11), computed by the formula there."""
    tinted = mix(HIGHLIGHT, PAPER, 0.86)
    for ink, ground in (*product((INK, FAINT_INK), (TABLE, PAPER)), (INK, tinted), (PAPER, INK)):
        assert contrast(ink, ground) >= 4.5, (ink, ground)
    for mark, ground in ((HIGHLIGHT, BACKDROP), (ARROW, BACKDROP), (HIGHLIGHT, PAPER), (ARROW, PAPER)):
        assert contrast(mark, ground) >= 3.0, (mark, ground)
    assert luminance("#FFFFFF") == 1.0


def test_a_caption_stands_on_the_foot_of_the_print():
    """One line of at most 58 characters on the wide print; its letters are a twenty-eighth of the height and more (em)."""
    for layout, high in ((WIDE, 360), (TALL, 640)):
        stage = Stage(told("ordinary"), timeline(story_of(told("ordinary")), told("ordinary"), 10), layout, {}, high)
        for cue in stage.times.cues:
            foot = stage.caption(cue)
            assert foot.shape[1] == round(high * layout.width / layout.height) and len(foot) <= 0.23 * high
            dark = foot[..., :3].mean(axis=2) < 128
            assert dark.any() and not dark[:, :8].any() and not dark[:, -8:].any(), cue.text
            rows = np.flatnonzero(dark.any(axis=1))
            assert rows[-1] - rows[0] + 1 >= 0.7 * high / 28, "capitals are 0.73 em high"


def test_a_box_that_leaves_its_outline_is_shown_open():
    box = load("cuboid:2x3x4,turns=half")
    found = answer(box, box.appearance(changed(box, ["swap UFL UBR"])), Budget(10.0, 500_000_000))
    times = timeline(story_of(found), found, 10)
    stage = Stage(found, times, WIDE, None, 180)
    turned = [shot for shot in times.shots if shot.moving]
    assert found.verdict == "other turns" and len(turned) == len(times.story.moves.split())
    closed, opened = (stage.picture(shot, shot.first).copy() for shot in (times.shots[0], turned[1]))
    assert (np.abs(closed.astype(int) - opened).max(axis=2) > 60).mean() > 0.01


@pytest.mark.parametrize("case", ["lookalike", "ordinary", "not by turning", "held"])
def test_frames_read_back_are_filled_by_the_puzzle_and_mark_what_is_named(case):
    """The puzzle takes about three quarters of the height; a piece that a sentence names has its mark in sight; no flat card."""
    stage = stage_of(case, WIDE, 270)
    ground, mark = (np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) for colour in (BACKDROP, HIGHLIGHT))
    for shot in stage.times.shots:
        said = any(shot.first <= cue.first < shot.last for cue in stage.times.cues)
        if not said or shot.turns:
            continue
        picture = stage.picture(shot, shot.last - 1)[..., :3].astype(int)
        left = picture[8:222, 12:260]
        rows = np.flatnonzero((np.abs(left - ground).max(axis=2) > 12).sum(axis=1) > 3)
        beat = stage.times.story.beats[shot.beat]
        pair = beat.picture in ("law", "plain")
        assert (0.5 if pair else 0.66) <= (rows[-1] - rows[0] + 1) / 270 <= 0.8, beat.chapter
        marked = (np.abs(picture - mark).max(axis=2) < 30).sum()
        assert (marked > 30) == bool(shot.marked) or beat.picture == "law", (beat.chapter, marked)


def test_the_camera_goes_by_steps_that_one_can_follow_and_never_during_a_turn():
    """At most 60 degrees at once in nine tenths of a second, and each shot begins where the last one ended."""
    for case in ("lookalike", "held", "ordinary"):
        shots, before = stage_of(case, WIDE, 90, rate=30).times.shots, None
        for shot in shots:
            assert before is None or np.allclose(shot.camera.direction, before.direction)
            if shot.towards:
                angle = np.degrees(np.arccos(np.clip(shot.camera.direction @ shot.towards.direction, -1, 1)))
                assert angle <= 60.01 and shot.last - shot.first == 27 and not shot.turns
            before = shot.towards or shot.camera


def test_the_camera_comes_near_to_a_small_piece_and_goes_back():
    """A large cube's corner: its mark grows to twice its height, beside the words; then all is as it was, but for the mark."""
    solid = load("cube:10")
    found = answer(solid, solid.appearance(changed(solid, ["twist UFR cw"])), Budget(10.0, 500_000_000))
    times = timeline(story_of(found), found, 30)
    stage, pictures = Stage(found, times, WIDE, None, 270), []
    shots = [shot for shot in times.shots if shot.beat < 2]
    still = [shot for shot in shots if shot.marked and not shot.animated]
    for shot in (still[0], still[-1], shots[-1]):
        pictures.append(stage.picture(shot, shot.last - 1)[:220, :270, :3].astype(int).copy())
    mark = [np.abs(one - [int(HIGHLIGHT[i : i + 2], 16) for i in (1, 3, 5)]).max(axis=2) < 40 for one in pictures]
    high = [np.ptp(np.flatnonzero(one.any(axis=1))) for one in mark[:2]]
    assert high[1] >= 2 * high[0] > 0 and not mark[2].any()
    near, back = ((np.abs(pictures[0] - one).max(axis=2) > 40).mean() for one in pictures[1:])
    assert back < 0.02 < 0.2 < near
    moves = [shot for shot in shots if shot.towards]
    assert [shot.last - shot.first for shot in moves] == [27, 27] and all(shot.marked or shot.fading for shot in moves)


def test_a_piece_that_is_taken_out_leaves_a_dark_slot_and_comes_back_as_it_was():
    stage = stage_of("lookalike", WIDE, 270, rate=30)
    lifting = [shot for shot in stage.times.shots if shot.lifting]
    assert [round(shot.lift) for shot in lifting] == [0, 1, 2]
    before, out, back = (
        stage.picture(*at).astype(int).copy()
        for at in ((lifting[0], lifting[0].first), (lifting[1], lifting[1].first), (lifting[2], lifting[2].last - 1))
    )
    apart = lambda one, other: (np.abs(one - other).max(axis=2) > 40).mean()  # noqa: E731
    assert apart(before, out) > 0.02 and apart(before, back) < 0.01


@pytest.mark.one_in(2)
@pytest.mark.parametrize("layout", [WIDE, TALL, SQUARE], ids=["wide", "tall", "square"])
@pytest.mark.parametrize("case", ["lookalike", "twins", "not by turning"])
def test_no_word_is_cut_by_the_edge_of_the_print_or_runs_into_another(case, layout):
    stage = stage_of(case, layout)
    x, y, wide, high = (side * stage.dots for side in layout.picture)
    for shot in stage.times.shots:
        figure = stage.figure(shot, shot.first)
        texts = (text for text in figure.axes[0].texts if not (shot.sliding and text.get_clip_on()))
        boxes = [text.get_window_extent() for text in texts if text.get_text().strip()]
        assert all(x <= box.x0 and box.x1 <= x + wide and box.y0 >= y and box.y1 <= y + high for box in boxes), shot
        assert not any(one.overlaps(two) for one, two in combinations(boxes, 2)), shot


@pytest.mark.parametrize("layout", [WIDE, TALL, SQUARE], ids=["wide", "tall", "square"])
@pytest.mark.parametrize("case", ["lookalike", "held", "other turns"])
def test_nothing_of_the_puzzle_leaves_its_place_in_the_middle_of_a_turn(case, layout):
    """Read back from the frames: the border and the foot of the print are white, and the ground is empty beside the words."""
    stage = stage_of(case, layout, 270)
    x, y, wide, high = (round(side * stage.dots) for side in layout.picture)
    right, top = (round(side * stage.dots) for side in layout.words[:2])
    moving = [shot for shot in stage.times.shots if shot.moving and not shot.again]
    for shot, share in product(moving[:8], (0.25, 0.5, 0.75)):
        picture = stage.picture(shot, round(shot.first + share * (shot.last - shot.first)))[::-1, :, :3].astype(int)
        outside = np.ones(picture.shape[:2], dtype=bool)
        outside[y - 1 : y + high + 1, x - 1 : x + wide + 1] = False
        assert (picture[outside] == 255).all(), (shot, share)
        beside = picture[y + 3 : y + high - 3, right - 2] if layout is WIDE else picture[top - 2, x + wide // 2 : x + wide - 3]
        assert (beside == beside[0]).all(), (shot, share)


@pytest.mark.parametrize("layout", [WIDE, TALL, SQUARE], ids=["wide", "tall", "square"])
def test_a_piece_that_is_out_stays_on_the_print(layout):
    """Its mark is seen whole: none of it lies at the edge of the picture or on the foot."""
    stage = stage_of("lookalike", layout, 270)
    turned = [shot for shot in stage.times.shots if shot.lifting][1]
    picture = stage.picture(turned, turned.first)[..., :3].astype(int)
    mark = np.abs(picture - [int(HIGHLIGHT[i : i + 2], 16) for i in (1, 3, 5)]).max(axis=2) < 30
    x, y, wide, high = (round(side * stage.dots) for side in layout.picture)
    inside = mark[len(mark) - y - high + 2 : len(mark) - y - 2, x + 2 : x + wide - 2]
    assert inside.sum() > 60 and inside.sum() == mark.sum()


@pytest.mark.parametrize("name", [*(f"loop:14,window={window}" for window in range(2, 8)), "loop:20,window=4", "loop:9,window=4"])
def test_beads_in_a_window_that_swings_go_round_side_by_side(name):
    """No two that swing lie on each other, wherever they are on their way."""
    puzzle = load(name)
    target = np.array(puzzle.follow("swing").pieces)
    breadth, moving = np.ptp(puzzle.flat.outline[:, 0]), (target != np.arange(len(target))).nonzero()[0]
    assert len(moving) > 1
    for done in np.linspace(0, 1, 41):
        places = _on_its_way(puzzle, target, done).flat.positions[moving]
        assert min(np.linalg.norm(one - other) for one, other in combinations(places, 2)) > 0.98 * breadth
    assert np.allclose(_on_its_way(puzzle, target, 1.0).flat.positions, puzzle.flat.positions[target])
