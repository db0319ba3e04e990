"""The board on which a story is edited: through its own widgets, as hands in a notebook use them."""

from __future__ import annotations

from dataclasses import replace
from html import escape

import pytest

from oddswap.story.storyboard import Storyboard
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from tests.story.stories import told


@pytest.fixture(scope="module")
def board() -> Storyboard:
    return Storyboard(told("lookalike"))


def test_words_are_edited_in_place_and_only_what_changed_is_drawn_again(board):
    """Each row holds its beat's still and words; what is typed is the story's, within the limits of every story."""
    before = [bytes(row.picture.value) for row in board.rows]
    assert len(set(before)) == len(board.rows) == len(board.story.beats) and all(value.startswith(b"\x89PNG") for value in before)
    made = len(board._made)
    board.rows[1].words.value = "It sits at home.\n\n But it is   flipped. "
    assert board.story.beats[1].says == ("It sits at home.", "But it is flipped.")
    assert len(board._made) <= made + 2 and bytes(board.rows[0].picture.value) == before[0]
    times = timeline(board.story, told("lookalike"), 30)
    assert all(len(cue.text) <= 17 * (cue.last - cue.first) / 30 for cue in times.cues)
    kept = board.story
    board.rows[1].words.value = "One and two and three and four and five and six and it's seven."
    assert board.said == "beat 2: `One and two and three and fou…` has 14 words: say it in 12 at most, or in two sentences."
    assert board.story == kept and board.rows[1].words.value.startswith("One and two"), "nothing typed is lost"
    board.rows[1].words.value = "It is flipped."
    assert board.story.beats[1].says == ("It is flipped.",) and "beats" in board.said


def test_beats_change_places_unless_the_moves_then_lead_astray(board):
    chapters = [beat.chapter for beat in board.story.beats]
    board.rows[2].later.click()
    assert [beat.chapter for beat in board.story.beats] == [*chapters[:2], chapters[3], chapters[2], *chapters[4:]]
    assert [row.chapter.value for row in board.rows] == [f"<b>{escape(beat.chapter)}</b>" for beat in board.story.beats]
    board.rows[3].earlier.click()
    assert [beat.chapter for beat in board.story.beats] == chapters
    parts = Storyboard(told("ordinary"), in_two(story_of(told("ordinary"))))
    whole = parts.story
    at = next(number for number, beat in enumerate(whole.beats) if beat.moves)
    parts.rows[at].later.click()
    assert "do not lead to solved" in parts.said and parts.story == whole
    parts.rows[at].later.click()
    assert "beats" in parts.said and parts.story == whole


def in_two(story):
    """The story with its moves in two beats."""
    at = next(number for number, beat in enumerate(story.beats) if beat.moves)
    first, *rest = story.beats[at].moves.split()
    halves = replace(story.beats[at], moves=first), replace(story.beats[at], moves=" ".join(rest))
    return replace(story, beats=(*story.beats[:at], *halves, *story.beats[at + 1 :]))


def test_a_beat_plays_alone(board):
    still = bytes(board.rows[0].picture.value)
    board.rows[0].play.click()
    assert bytes(board.rows[0].picture.value) != still and b"acTL" in bytes(board.rows[0].picture.value), "an animated PNG"
