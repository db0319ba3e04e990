"""Stories of every verdict: which beats there are, that their moves lead home, and that nothing private is in them."""

from __future__ import annotations

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.teaching.phases import phases, written
from oddswap.reasoning.teaching.tool_ways import TaughtWay
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.story.telling.beats import PICTURES, fingerprint, sticking_out, story_of
from oddswap.words.table import visitor
from tests.story.stories import NOTE, TICKETS, told

REPAIR = ["How it came to that", "Before you open anything", "The repair by hand"]
END = ["What to remember", "Send me yours"]
CHAPTERS = {
    "ordinary": ["What is seen", "What is wrong", "Why it can happen", "The way out", *END],
    "lookalike": [
        *["What is seen", "What is wrong", "Who is who", "What everyone knows", "What one can't see", "Who could be the culprit"],
        *["The way out", "How it came to that", *END],
    ],
    "not by turning": ["What is seen", "What is wrong", "What everyone knows", "Look once more", *REPAIR, *END],
    "cannot tell yet": ["What is seen", "What is wrong", "What is not seen decides", "What to look at next", *END],
}


@pytest.mark.parametrize("case", TICKETS)
def test_a_story_leads_home_and_says_nothing_private(case):
    found, story = told(case), story_of(told(case))
    text = " ".join(sentence for beat in story.beats for sentence in beat.says) + story.title
    assert all(beat.says and beat.picture in PICTURES for beat in story.beats)
    assert not any(word in text for word in NOTE.split() if len(word) > 4)
    assert all(sentence[-1] in ".:?…" and sentence[0] == sentence[0].upper() for beat in story.beats for sentence in beat.says)
    if found.way_out is not None and found.way_out.length:
        puzzle = found.turning
        after = puzzle.follow(story.moves, found.diagnosis.explanation)
        assert looks_solved(puzzle, puzzle.appearance(after))
    else:
        assert story.moves == ""


@pytest.mark.parametrize(("case", "chapters"), CHAPTERS.items())
def test_every_verdict_has_its_beats(case, chapters):
    found = [beat.chapter for beat in story_of(told(case)).beats]
    assert [chapter for chapter in found if chapter in chapters] == found
    assert set(found) >= set(chapters) - {"Look once more"}


def test_a_way_made_of_a_tool_is_told_in_its_phases():
    """`[F: L' F' L2 U L2]`: a set-up, what it is for, and the set-up backwards, which is told so."""
    puzzle = load("cube:2")
    moves = "F L' F' L2 U L2 F'"
    found = answer(puzzle, puzzle.appearance(puzzle.follow(puzzle.undone(moves))))
    way = TaughtWay((), "", moves, 7, 6, 0, 0, phases(puzzle, found.diagnosis.explanation, written(puzzle, moves)))
    story = story_of(found, way)
    parts = [beat for beat in story.beats if beat.moves]
    assert [beat.chapter.split(": ")[1] for beat in parts] == ["set up", "exchange", "undo"]
    assert story.moves == moves and [bool(beat.hard) for beat in parts] == [False, True, False]
    after = puzzle.follow(parts[0].moves + " " + parts[2].moves)
    assert after == puzzle.solved


def test_the_law_and_a_culprit_are_named():
    story = story_of(told("lookalike"))
    text = " ".join(sentence for beat in story.beats for sentence in beat.says)
    assert "Flipped edges come in pairs, never alone." in text
    called = " ".join({"F": "front", "B": "back", "L": "left", "R": "right"}[face] for face in story.culprit[0])
    assert f"For instance: the {called} edge is flipped" in text


def test_repairs_by_hand_come_with_the_cautions_and_accuse_nobody():
    text = " ".join(sentence for beat in story_of(told("not by turning")).beats for sentence in beat.says)
    assert "by accident" in text and "nobody's fault" in text and "owner" in text and "children" in text


def test_fingerprints_tell_positions_apart():
    assert len({fingerprint(told(case).appearance) for case in TICKETS}) == len(TICKETS)


def test_an_open_box_is_told_by_what_sticks_out():
    """A layer of 2 by 4 lies across the box after a quarter turn, one cell beyond its left and one beyond its right."""
    box = load("cuboid:2x3x4,turns=all")
    assert sticking_out(box, box.follow("U")) == ("L", "R") and sticking_out(box, box.follow("U2 R2")) == ()
    closed = load("cuboid:2x3x4,turns=half")
    found = answer(closed, closed.appearance(changed(closed, ["swap UFR UBL"])), Budget(20.0))
    parts = [beat for beat in story_of(found).beats if beat.moves]
    said = [any("sticks out at the left and the right" in sentence for sentence in beat.says) for beat in parts]
    assert said == [True] + [False] * (len(parts) - 1) and len(parts) > 1, "said again only where it sticks out elsewhere"


def test_a_colour_with_any_signs_in_its_name_is_never_cut():
    """Only edges of the middle layer have one colour, by which they are called."""
    colours = {facet: f"{facet.lower()}; as of old. So, {facet.lower()} and pale" for facet in ("FR", "FL", "BR", "BL")}
    prism = load("shape-mod:prism8")
    found = answer(prism, prism.appearance(changed(prism, ["flip UF"])), Budget(20.0, 500_000_000))
    said = [sentence for beat in story_of(found, reader=visitor(prism, colours)).beats for sentence in beat.says]
    assert all(sentence.count("; as of old") == sentence.count("and pale") for sentence in said)
    assert not any("\xa0" in sentence for sentence in said)
    short = {facet: f"{facet.lower()}; pale" for facet in colours}
    said = " ".join(sentence for beat in story_of(found, reader=visitor(prism, short)).beats for sentence in beat.says)
    assert "(fr; pale)" in said and "Pale" not in said
