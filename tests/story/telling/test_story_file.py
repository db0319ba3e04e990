"""Story files: read back as written, edits are kept, and every mistake is one sentence that says where."""

from __future__ import annotations

from dataclasses import replace

import pytest

from oddswap.errors import BadStory
from oddswap.story.telling.beats import Beat, story_of
from oddswap.story.telling.story_file import fitting, read_story, write_story
from tests.story.stories import TICKETS, told


@pytest.fixture
def file(tmp_path):
    def made(text: str):
        path = tmp_path / "story.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return made


@pytest.mark.parametrize("case", TICKETS)
def test_a_story_reads_back_as_it_was_written(case, file):
    story = story_of(told(case))
    assert read_story(file(write_story(story))) == story == fitting(story, told(case))


def test_edits_are_kept(file):
    story = story_of(told("lookalike"))
    other = told("lookalike").diagnosis.culprits[1].pieces
    edited = replace(story, beats=(*story.beats[::-1], Beat("Thanks", "seen", ("Come again!",))), culprit=other)
    edited = replace(edited, words_a_minute=100, seconds_a_turn=1.5, colours="lesson")
    assert fitting(read_story(file(write_story(edited))), told("lookalike")) == edited


SPOILT = {
    "not TOML": (lambda text: text + "[[", "is not TOML"),
    "another key": (lambda text: "mood = 'merry'\n" + text, "`mood` is no key"),
    "wrong type": (lambda text: text.replace("minute = 160", "minute = 'fast'"), "words_a_minute is `fast`: give it a whole"),
    "too fast": (lambda text: text.replace("= 160", "= 400"), "words_a_minute is `400`: give it a whole number from 60 to 160"),
    "too slow a turn": (lambda text: text.replace("seconds_a_turn = 0.6", "seconds_a_turn = 60.0"), "from 0.2 to 5"),
    "no such picture": (lambda text: text.replace('picture = "xray"', 'picture = "photo"'), "beat 6: picture is `photo`: give"),
    "no such colours": (lambda text: text.replace('"visitor"', '"loud"'), "colours is `loud`: give it visitor or lesson"),
    "a missing key": (lambda text: text.replace('chapter = "What is seen"\n', ""), "beat 1 has no chapter"),
    "nothing said": (lambda text: text.replace('"No turn can change that."', '" "'), "says: ` ` is no text"),
    "a list of numbers": (lambda text: text.replace("culprit = [", "culprit = [\n    7,"), "culprit: `7` is no text"),
}


@pytest.mark.parametrize("spoil", SPOILT)
def test_nonsense_in_a_file_is_one_sentence(spoil, file):
    change, says = SPOILT[spoil]
    ticket = told("lookalike") if spoil != "nothing said" else told("slip")
    text = write_story(story_of(ticket))
    spoilt = change(text)
    assert spoilt != text
    with pytest.raises(BadStory) as caught:
        read_story(file(spoilt))
    assert says in str(caught.value) and "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"position": "0" * 16}, "of another ticket"),
        ({"culprit": ("UF",)}, "is none of this ticket's"),
        ({"beats": (Beat("x", "way", ("Go.",), "R U"),)}, "do not lead to solved"),
        ({"beats": (Beat("x", "way", ("Go.",), "Q"),)}, "cannot be made"),
    ],
)
def test_a_story_that_does_not_fit_is_refused(change, says):
    with pytest.raises(BadStory, match=says):
        fitting(replace(story_of(told("lookalike")), **change), told("lookalike"))


def test_moves_where_no_turning_helps_are_refused():
    story = story_of(told("not by turning"))
    with pytest.raises(BadStory, match="no turning leads out"):
        fitting(replace(story, beats=(Beat("x", "way", ("Go.",), "R"),)), told("not by turning"))


def test_a_missing_file_is_one_sentence(tmp_path):
    with pytest.raises(BadStory, match="cannot be read"):
        read_story(tmp_path / "none.toml")


def test_a_sentence_of_ones_own_has_twelve_words_at_most():
    """The story's own, such as how to hold it by many colours, may be longer; nobody is refused for what they did not write."""
    story = story_of(told("ordinary"))
    long = " ".join(["word"] * 13) + "."
    edited = replace(story, beats=(replace(story.beats[0], says=(long,)), *story.beats[1:]))
    with pytest.raises(BadStory, match="beat 1: .* has 13 words: say it in 12 at most"):
        fitting(edited, told("ordinary"))
    assert fitting(edited, told("ordinary"), edited) == edited
