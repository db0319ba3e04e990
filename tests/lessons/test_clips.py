"""The picture of one beat: its blocks lie where the timeline has them.

Exercises on stories accept every right answer, and tell what a wrong one overlooked.
"""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.patches import Rectangle

from oddswap.errors import BadOption
from oddswap.lessons.clips import LONG, MOVE, VOICE, check_caption, check_cut, draw_one_beat
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from tests.story.stories import told


@pytest.mark.parametrize("case", ["ordinary", "tiles"])
def test_blocks_are_as_long_as_what_they_stand_for(case):
    found = told(case)
    times = timeline(story_of(found), found)
    number = next(i for i, beat in enumerate(times.story.beats) if beat.moves)
    figure = draw_one_beat(found, times, number)
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
    with pytest.raises(BadOption, match="numbered from 0 to 5"):
        draw_one_beat(found, timeline(story_of(found), found), 6)


FOUND = told("lookalike")
WAY = FOUND.way_out.moves.split()


def right(note) -> bool:
    return note.text.startswith("Yes")


def test_just_the_four_culprits_are_accepted_in_a_caption():
    """The four middle edges: those that have a hidden half turn, as the lesson on false parity counts them."""
    named = {slot for slot in FOUND.puzzle.slots if right(check_caption(f"Look at the piece {slot}.", FOUND))}
    assert named == {"FL", "FR", "BL", "BR"}
    assert "flipped edges is always even" in check_caption("It is UF.", FOUND).text
    assert "2 captions" in check_caption("The piece at FL " + "is the other way round " * 4, FOUND).text
    assert "Name one piece" in check_caption("One of them is it.", FOUND).text


def test_a_cut_keeps_the_moves_and_the_reason():
    chapters = [beat.chapter for beat in story_of(FOUND).beats]
    needed = {"What everyone knows", "Who could be the culprit", "The way out"}
    accepted = []
    for count in range(1, len(chapters) + 1):
        for kept in combinations(chapters, count):
            note = check_cut(", ".join(kept), FOUND, 70)
            if right(note):
                accepted.append(set(kept))
            if not needed <= set(kept):
                assert not right(note) and any(f'"{chapter}"' in note.text for chapter in needed - set(kept))
    assert len(accepted) > 1 and all(needed <= kept for kept in accepted)
    assert "Leave something out" in check_cut(", ".join(chapters), FOUND, 60).text
    assert right(check_cut(", ".join(chapters), FOUND, 1000))


ANYTHING = st.one_of(
    st.none(),
    st.integers(),
    st.text(max_size=30).filter(lambda text: not {*text.split()} & {*FOUND.puzzle.slots}),
    st.lists(st.text(max_size=3), max_size=2),
)


@given(ANYTHING)
def test_nonsense_gets_a_kind_sentence(text):
    for note in (check_caption(text, FOUND), check_cut(text, FOUND, 80)):
        assert note.text and not right(note) and "\n" not in note.text


def test_an_empty_answer_is_neutral():
    for note in (check_caption(" ", FOUND), check_cut(" , ", FOUND, 80)):
        assert note.text.startswith("Nothing written yet")
