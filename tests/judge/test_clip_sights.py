"""Clips of flat, shaped and half-seen puzzles, looked at and listened to by somebody who has no more than that."""

import re

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.describing.tickets import parse_ticket
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.teaching.phases import phases, written
from oddswap.reasoning.teaching.tool_ways import TaughtWay
from oddswap.reasoning.ticket_answers import answer_to
from oddswap.showing.ink.palette import BACKDROP, HIGHLIGHT, UNKNOWN, read_colour
from oddswap.story.large_words import SQUARE, TALL, WIDE
from oddswap.story.stage import Stage
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from oddswap.values.grammar import number_word
from oddswap.words.table import VISITOR, reader_of
from tests.judge.test_pages import answered

FLAT = {
    "graph:2+1+2": "c2-east c1-c2",
    "tiles:4x4": "r4c3-r4c4 r3c3-r4c3",
    "tiles:2x6": "r2c5-r2c6",
    "rings:8+8+8": "a b' c",
    "rings:6+6": "a b",
    "loop:12,window=4": "push swing",
}
COLOURS = {"U": "white", "D": "yellow", "F": "green", "B": "blue", "L": "orange", "R": "red"}
THREE_SIDES = """
puzzle = "cube:3"
elsewhere = "turned"
seen.U.rows = ["U U U", "U U U", "U U U"]
seen.F.rows = ["F R F", "F F F", "F F F"]
seen.R.rows = ["R F R", "R R R", "R R R"]
[colours]
""" + "\n".join(f'{face} = "{colour}"' for face, colour in COLOURS.items())
ONE_SPOT = 'puzzle = "shape-mod:prism8"\nslots.UF = "UF flipped"\nslots.FR = "?"'


def staged(found, layout, height, reader=VISITOR) -> Stage:
    return Stage(found, timeline(story_of(found, reader=reader), found, 8), layout, reader.colours, height)


def rgb(colour: str) -> np.ndarray:
    return np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)])


def heard(stage: Stage):
    """Each cue with the frame that is seen when it ends."""
    for cue in stage.times.cues:
        shot = next(shot for shot in stage.times.shots if shot.first < cue.last <= shot.last)
        yield cue.text, stage.picture(shot, cue.last - 1)[..., :3].astype(int)


@pytest.mark.parametrize("layout", [WIDE, TALL, SQUARE], ids=["wide", "tall", "square"])
@pytest.mark.parametrize("name", FLAT)
def test_no_flat_puzzle_and_none_of_its_arrows_is_cut_by_the_edge_of_the_print(name, layout):
    """All along the left, the right and the lower edge there is nothing but ground; and the puzzle takes most of its room."""
    puzzle = load(name)
    found = answer(puzzle, puzzle.appearance(puzzle.follow(FLAT[name])), Budget(5.0))
    stage, ground, widest = staged(found, layout, 360), rgb(BACKDROP), 0.0
    x, y, wide, high = (side * stage.dots for side in layout.picture)
    left, right, top, low = (round(side) for side in (x + 2, x + wide - 2, 360 - y - high + 2, 360 - y - 2))
    assert stage.times.story.moves
    for shot in stage.times.shots:
        picture = stage.picture(shot, shot.last - 1)[..., :3].astype(int)
        other = (np.abs(picture - ground).max(axis=2) > 12)[top:low, left:right]
        assert not other[:, 0].any() and not other[:, -1].any() and not other[-1].any(), shot
        at_x, at_y, *room = (side * stage.dots for side in layout.puzzle)
        seen = other[round(360 - at_y - room[1]) - top :, : round(at_x + room[0]) - left]
        spans = [np.count_nonzero(seen.any(axis=axis)) for axis in (0, 1)]
        widest = max(widest, *np.divide(spans, room))
    assert widest > 0.8, "a puzzle fills its room"


@pytest.mark.parametrize(("ticket", "least"), [(THREE_SIDES, 2), (ONE_SPOT, 1)], ids=["three sides", "one spot"])
def test_where_a_clip_speaks_of_what_was_not_seen_grey_is_seen(ticket, least):
    found, reader = answered(ticket)
    said = 0
    for text, frame in heard(staged(found, WIDE, 270, reader)):
        if "not seen" in text or "grey" in text:
            assert (np.abs(frame[:215] - rgb(UNKNOWN)).max(axis=2) < 8).sum() > 1000, text
            said += 1
    assert said >= least


def test_the_corner_that_is_asked_for_is_shown_with_its_three_sides():
    found, reader = answered(THREE_SIDES)
    said = heard(staged(found, WIDE, 270, reader))
    ((text, frame),) = [one for one in said if sum(word in one[0] for word in COLOURS.values()) == 3]
    for colour in COLOURS.values():
        seen = (np.abs(frame - rgb(read_colour(colour))).max(axis=2) < 12).sum()
        assert colour not in text or seen > 50, (text, colour)


@pytest.mark.parametrize(
    ("name", "moves", "pieces"),
    [("cuboid:2x3x4,turns=all", "U 2F2 RR2", 2 * 3 * 4), ("wedges:12,middle=halves", "(1,0) / (3,3) / (-1,2)", 8 + 8 + 1)],
)
def test_no_more_pieces_are_spoken_of_than_one_can_count(name, moves, pieces):
    puzzle = load(name)
    story = story_of(answer(puzzle, puzzle.appearance(puzzle.follow(moves)), Budget(10.0)))
    said = " ".join(sentence for beat in story.beats for sentence in beat.says)
    assert re.findall(r"of (\S+) (?:pieces|places)", said) == [number_word(pieces)], said


def test_a_tile_beside_the_gap_is_not_called_swapped_and_its_slide_no_turn():
    puzzle = load("tiles:3x4")
    story = story_of(answer(puzzle, puzzle.appearance(puzzle.follow("r3c3-r3c4")), Budget(5.0)))
    said = " ".join(text for beat in story.beats for text in (*beat.says, *beat.large))
    assert "swapped" not in said and "Turning" not in said and "gap" in said


def test_what_looks_solved_is_not_called_odd():
    puzzle = load("rings:8+8,cross=2,beads=7+7")
    story = story_of(answer(puzzle, puzzle.appearance(puzzle.solved), Budget(5.0)))
    said = " ".join([story.title, *(sentence for beat in story.beats for sentence in beat.says)])
    assert not re.search(r"\bodd\b|put it right", said) and not story.moves


@pytest.mark.parametrize("moves", ["R U R' U' F", "F R U R' U' F' D2", "[F: L' F' L2 U L2]"])
def test_what_is_called_backwards_is_and_all_is_home_only_at_the_end(moves):
    """Each part that is called so undoes an earlier one, and nothing is called the end before it."""
    puzzle = load("cube:3")
    flat = str(puzzle.read(moves))
    found = answer(puzzle, puzzle.appearance(puzzle.follow(puzzle.undone(flat))), Budget(10.0))
    count = len(puzzle.read(flat).steps)
    told = TaughtWay((), "", flat, count, count, 0, 0, phases(puzzle, found.diagnosis.explanation, written(puzzle, flat)))
    parts = [beat for beat in story_of(found, told).beats if beat.moves]
    for number, beat in enumerate(parts):
        said = " ".join(beat.says)
        if "backwards" in said:
            assert str(puzzle.read(beat.moves).inverse()) in [earlier.moves for earlier in parts[:number]], (said, beat.moves)
        assert ("everything is home" in said) <= (beat is parts[-1]), said
        if more := re.search(r"(\S+) turns? more", said):
            assert more[1].lower() == number_word(len(beat.moves.split())), (said, beat.moves)
    assert len(parts) > 1


@pytest.mark.parametrize("name", ["graph:2+1+2", "rings:4+4,cross=1"])
def test_a_law_is_said_in_half_a_minute_and_without_a_list(name):
    """The law of six pieces that keep a programme: no piece is named, as nobody follows fifteen pairs by ear."""
    puzzle = load(name)
    one, other = puzzle.kinds[0].slots[1:3]
    found = answer(puzzle, puzzle.appearance(changed(puzzle, [f"swap {one} {other}"])), Budget(5.0))
    times = timeline(story_of(found), found)
    number = next(n for n, beat in enumerate(times.story.beats) if beat.chapter == "What everyone knows")
    first, last = times.span(number)
    said = " ".join(times.story.beats[number].says)
    assert last - first < 30 * times.frames_a_second, said
    assert not any(re.search(rf"\b{slot}\b", said) for slot in puzzle.slots if slot), said


def test_whose_copy_makes_half_turns_alone_hears_of_no_other_turn():
    """Two corners and two edges swapped: quarter turns could do it, and this copy makes none."""
    ticket = parse_ticket('puzzle = "cube:3"\ncopy = "half"\nchanges = ["swap UFR UFL", "swap UF UB"]')
    found = answer_to(ticket, Budget(5.0))
    story = story_of(found, reader=reader_of(ticket))
    said = " ".join(sentence for beat in story.beats for sentence in beat.says)
    assert found.verdict == "other turns" and not story.moves
    assert not re.search(r"\b[UDFBLR]\b|quarter", said), said


@pytest.mark.parametrize(
    "ticket",
    [THREE_SIDES, 'puzzle = "tiles:3x3"\nslots.r1c1 = "r1c2"\nslots.r1c2 = "r1c1"\nslots.r2c2 = "?"\nslots.r2c3 = "?"'],
    ids=["a corner", "a tile"],
)
def test_where_one_is_told_to_look_something_is_marked(ticket):
    found, reader = answered(ticket)
    stage = staged(found, WIDE, 270, reader)
    (number,) = (n for n, beat in enumerate(stage.times.story.beats) if "Look here." in beat.large)
    first, last = stage.times.span(number)
    seen = [frame for text, frame in heard(stage) for cue in stage.times.cues if cue.text == text and first < cue.last <= last]
    assert seen and all((np.abs(frame - rgb(HIGHLIGHT)).max(axis=2) < 40).sum() > 30 for frame in seen)
