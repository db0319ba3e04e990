"""The picture of one beat: its blocks lie where the timeline has them."""

from __future__ import annotations

import pytest
from matplotlib.patches import Rectangle

from oddswap.errors import BadOption
from oddswap.lessons.pictures.one_beat import LONG, MOVE, VOICE, one_beat
from oddswap.story.beats import story_of
from oddswap.story.timeline import timeline
from tests.story.stories import told


@pytest.mark.parametrize("case", ["ordinary", "tiles"])
def test_blocks_are_as_long_as_what_they_stand_for(case):
    found = told(case)
    times = timeline(story_of(found), found)
    number = next(i for i, beat in enumerate(times.story.beats) if beat.moves)
    figure = one_beat(found, times, number)
    shots = [shot for shot in times.shots if shot.beat == number]
    scale = LONG / (shots[-1].last - shots[0].first)
    blocks = [patch for patch in figure.axes[0].patches if isinstance(patch, Rectangle)]
    voice = sorted((b.get_x(), b.get_width()) for b in blocks if b.get_height() == VOICE)
    cues = [cue for sentence in times.spoken[number] for cue in sentence]
    assert [wide for _, wide in voice] == pytest.approx([scale * (cue.last - cue.first) for cue in cues])
    turned = sorted((b.get_x(), b.get_width()) for b in blocks if b.get_height() == MOVE)
    assert [wide for _, wide in turned] == pytest.approx([scale * (shot.last - shot.first) for shot in shots if shot.turns])
    starts = [scale * (shot.first - cues[0].first) for shot in shots if shot.turns]
    assert [x - voice[0][0] for x, _ in turned] == pytest.approx(starts)
    words = " ".join(text.get_text().replace("\n", " ") for text in figure.axes[0].texts)
    assert all(cue.text in words for cue in cues) and all(name in words.split() for name in times.names[number])


def test_a_beat_that_is_not_there_is_one_sentence():
    found = told("ordinary")
    with pytest.raises(BadOption, match="numbered from 0 to 3"):
        one_beat(found, timeline(story_of(found), found), 4)
