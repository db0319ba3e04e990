"""The page and the track for those who do not hear or see a clip: a reader who knows only the words turns the puzzle home."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from io import StringIO

import pytest
import webvtt

from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.captions import as_webvtt
from oddswap.story.telling.timeline import timeline
from oddswap.story.transcript import described, transcript_page
from tests.story.stories import NOTE, TICKETS, told

SIDES = {"top": "U", "bottom": "D", "front": "F", "back": "B", "left": "L", "right": "R"}
AMOUNTS = {"clockwise": "", "anticlockwise": "'", "half a turn": "2"}


class Parts(HTMLParser):
    """The texts of a page, by the tag around them."""

    def __init__(self, page: str):
        super().__init__()
        self.parts: list[tuple[str, str]] = []
        self.within = ""
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        self.within = tag

    def handle_data(self, data):
        if data.strip():
            self.parts.append((self.within, data.strip()))


@pytest.mark.parametrize("case", TICKETS)
def test_all_that_is_said_is_on_the_page_in_order(case):
    found = told(case)
    times = timeline(story_of(found), found)
    page = transcript_page({times: found}, times.story.title)
    parts = Parts(page).parts
    assert [text for tag, text in parts if tag == "p"][1:] == [text for beat in times.story.beats for text in beat.says]
    assert [text.split(" ", 1)[1] for tag, text in parts if tag == "h2"] == [beat.chapter for beat in times.story.beats]
    assert (
        sum(tag == "li" for tag, _ in parts) == sum(shot.moving and not getattr(shot, "again", False) for shot in times.shots)
        and NOTE not in page
    )
    assert page.count("<em>") == len(times.story.beats)


@pytest.mark.parametrize("case", TICKETS)
def test_what_a_sentence_points_at_is_named_to_those_who_do_not_see_its_mark(case):
    found = told(case)
    times = timeline(story_of(found), found)
    for beat, (seen, *_) in zip(times.story.beats, described(found, times), strict=True):
        if re.search(r"[Tt]h(ese (two|three|four)|is (edge|corner|piece|tile))\b", " ".join(beat.says)):
            assert "marked: the " in seen.text, (beat.says, seen.text)


@pytest.mark.parametrize("case", ["ordinary", "lookalike"])
def test_the_moves_in_words_lead_home(case):
    found = told(case)
    times = timeline(story_of(found), found)
    told_of = [
        text.split(" layer, ") for tag, text in Parts(transcript_page({times: found}, times.story.title)).parts if tag == "li"
    ]
    moves = " ".join(SIDES[side] + AMOUNTS[amount] for side, amount in told_of)
    puzzle = found.turning
    held = f"{times.story.held} {moves}"
    assert moves and looks_solved(puzzle, puzzle.appearance(puzzle.follow(puzzle.read(held), found.diagnosis.explanation)))


@pytest.mark.parametrize("case", TICKETS)
def test_descriptions_follow_each_other_and_leave_the_voice_alone(case):
    found = told(case)
    times = timeline(story_of(found), found)
    cues = [cue for beat in described(found, times) for cue in beat]
    assert all(one.first < one.last <= two.first for one, two in zip(cues, cues[1:], strict=False))
    for cue in cues:
        assert not any(cue.first < said.last and said.first < cue.last for said in times.cues)
    read = list(webvtt.from_buffer(StringIO(as_webvtt(cues, 30))))
    assert [caption.text for caption in read] == [cue.text for cue in cues]
