"""The script agrees with the clip to a frame, and nothing in it is markup from outside."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from oddswap.story.joining import outline_of
from oddswap.story.script import script_markdown
from oddswap.story.telling.beats import layer_story_of, story_of
from oddswap.story.telling.timeline import timeline
from tests.story.stories import NOTE, TICKETS, told


@pytest.mark.parametrize("case", TICKETS)
def test_times_are_those_of_the_clip_to_the_frame(case):
    times = timeline(story_of(told(case)), told(case))
    text = script_markdown(times)
    exact = [60 * int(m) * 30 + int(s) * 30 + int(f) for m, s, f in re.findall(r"`(\d+):(\d\d)\+(\d\d)`", text)]
    sentences = [cues[0].first for beat in times.spoken for cues in beat]
    shown = [((shot.beat, shot.move), shot.first) for shot in times.shots if shot.turns and not shot.moving]
    assert sorted(exact) == sorted([*sentences, *dict(reversed(shown)).values()])
    for beat in times.story.beats:
        assert beat.chapter in text and all(sentence.replace("(", "")[:12] in text.replace("(", "") for sentence in beat.says)
    assert NOTE not in text
    starts = [60 * int(m) + int(s) for m, s in re.findall(r"^(\d+):(\d\d) ", outline_of([times]).chapters_text, re.M)]
    assert starts == [start // 30 for start in times.starts] and starts[0] == 0


@pytest.mark.parametrize("tell", [story_of, layer_story_of])
def test_each_move_of_the_way_is_written_once(tell):
    """Where a mark comes on while an arrow shows, too, as in the parts of a way by layers."""
    story = tell(told("lookalike"))
    text = script_markdown(timeline(story, told("lookalike")))
    assert " ".join(re.findall(r"\*\*(\S+)\*\*", text)) == story.moves


def test_it_can_be_spoken():
    """Between 100 and 160 words a minute of talking time (Ofcom's and DCMP's limits for what is also to be read)."""
    times = timeline(story_of(told("lookalike")), told("lookalike"))
    talking = sum(cue.last - cue.first for cue in times.cues) / 30
    words = sum(len(cue.text.split()) for cue in times.cues)
    assert 100 <= 60 * words / talking <= 160


def test_markup_in_a_story_is_text():
    story = story_of(told("ordinary"))
    story = replace(story, title="<script>", beats=(replace(story.beats[0], says=("a <b>bold</b> | word",)), *story.beats[1:]))
    text = script_markdown(timeline(story, told("ordinary")))
    assert "<script>" not in text and "<b>" not in text and "\\<b\\>" in text
