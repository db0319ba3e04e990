"""Captions within the reading limits of CHECKVALUES, and read back by readers that are not ours."""

from __future__ import annotations

from io import StringIO

import pytest
import webvtt
from hypothesis import given
from hypothesis import strategies as st

from oddswap.errors import BadStory
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.captions import FASTEST, SHORTEST, WIDE, Cue, as_srt, as_webvtt, clock, frames_of, split_sentence
from oddswap.story.telling.timeline import timeline
from tests.story.stories import NOTE, TICKETS, told

WORDS = st.lists(st.text("abcdefghij,;.é", min_size=1, max_size=14), min_size=1, max_size=60)


@given(WORDS)
def test_every_sentence_is_cut_within_the_limits(words):
    """At most 58 characters on one line, and no word is lost."""
    lines = split_sentence(" ".join(words))
    assert " ".join(lines).split() == " ".join(words).split()
    assert all(0 < len(line) <= 58 for line in lines)


def test_a_break_comes_after_punctuation_where_it_can():
    assert split_sentence("Turn it slowly, and look at the tally, where nothing changes that the law counts.")[0].endswith(",")


def test_a_word_too_long_is_one_sentence():
    with pytest.raises(BadStory, match=f"longer than a caption's line of {WIDE} characters"):
        split_sentence("un" * 30)


@pytest.mark.parametrize("case", TICKETS)
@pytest.mark.parametrize("rate", [30, 60])
def test_every_demo_ticket_is_captioned_within_the_limits(case, rate):
    """Two seconds at least, 160 words a minute and 17 characters a second at most, no overlap (DCMP and Ofcom), no note."""
    times = timeline(story_of(told(case)), told(case), rate)
    assert times.cues
    for cue, following in zip(times.cues, (*times.cues[1:], None), strict=True):
        seconds = (cue.last - cue.first) / rate
        assert seconds >= SHORTEST and 60 * len(cue.text.split()) / seconds <= FASTEST and len(cue.text) / seconds <= 17
        assert following is None or cue.last <= following.first
        assert len(cue.lines) == 1 and len(cue.text) <= WIDE
    text = as_webvtt(times.cues, rate)
    assert not any(word in text for word in NOTE.split() if len(word) > 4)


@pytest.mark.parametrize("case", TICKETS)
def test_an_independent_reader_reads_the_same_cues(case):
    """webvtt-py's parsers of WebVTT and of SRT; times agree to a thousandth of a second."""
    times = timeline(story_of(told(case)), told(case))
    for read, text in ((webvtt.from_buffer, as_webvtt(times.cues, 30)), (_srt, as_srt(times.cues, 30))):
        found = list(read(StringIO(text)))
        assert [caption.lines for caption in found] == [list(cue.lines) for cue in times.cues]
        for caption, cue in zip(found, times.cues, strict=True):
            assert abs(caption.start_in_seconds - cue.first / 30) < 1.0 and caption.start == _clock(cue.first)


def _srt(buffer):
    return webvtt.from_buffer(buffer, format="srt")


def _clock(frame: int) -> str:
    return f"00:{frame // 1800:02}:{frame // 30 % 60:02}.{round(frame % 30 / 30 * 1000):03}"


def test_markup_in_a_caption_is_text():
    (caption,) = webvtt.from_buffer(StringIO(as_webvtt([Cue(0, 60, ("a <b>red</b> & --> piece",))], 30)))
    assert "<b>" not in caption.raw_text and "&lt;b&gt;" in caption.raw_text and "-->" not in caption.raw_text


def test_times():
    assert frames_of("one two", 140, 30) == 60 and frames_of(" ".join("word" for _ in range(14)), 140, 30) == 180
    assert frames_of("nevertheless unquestionably unanswerable", 140, 30) == 71
    assert clock(30 * 75, 30) == "1:15"
