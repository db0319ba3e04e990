"""A storyboard shows the clip's own pictures, with the words of their time."""

from __future__ import annotations

import numpy as np
import pytest

from oddswap.errors import BadOption
from oddswap.story.clip import Film
from oddswap.story.storyboard import draw_storyboard
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from tests.story.stories import told


@pytest.fixture(scope="module")
def film() -> Film:
    found = told("ordinary")
    return Film(found, timeline(story_of(found), found, 10), "wide", 180)


def test_pictures_and_words_are_those_of_the_time(film):
    moments = [1.0, film.times.starts[2] / 10 + 1.5, film.times.seconds - 0.1]
    figure = draw_storyboard(film, moments)
    stage, ax = film.stage(), figure.axes[0]
    for second, image in zip(moments, ax.images, strict=True):
        frame = int(second * 10)
        assert (np.asarray(image.get_array()) == stage.picture(film.times.shot_at(frame), frame)[..., :3]).all()
    words = [text.get_text() for text in ax.texts]
    for second in moments[:2]:
        assert next("\n".join(cue.lines) for cue in film.times.cues if cue.first <= second * 10 < cue.last) in words


@pytest.mark.parametrize("seconds", [[], [-1], [10_000]])
def test_times_that_are_not_there_are_one_sentence(film, seconds):
    with pytest.raises(BadOption, match="seconds"):
        draw_storyboard(film, seconds)
