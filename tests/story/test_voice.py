"""Beats found in voices whose onsets are known; every recording that does not fit is one sentence that names the first beat."""

from __future__ import annotations

import subprocess

import numpy as np
import pytest

from oddswap.errors import BadRecording
from oddswap.story import ffmpeg
from oddswap.story.telling.beats import Beat
from oddswap.story.voice import Voice, listen, read_timing, speech_of
from tests.story.voices import voice, write_wav

WORDS = "The quick way out takes twelve turns and no way is shorter."


def beats(*sentences: int) -> list[Beat]:
    return [Beat(f"part {i}", "seen", (WORDS,) * count) for i, count in enumerate(sentences)]


def read_aloud(counts, seed: int, shortest: float = 0.8):
    """A voice that reads so many sentences in each beat: samples, the onsets of all sentences, and those that begin a beat."""
    rng = np.random.default_rng(seed)
    parts = []
    for count in counts:
        parts += [(rng.uniform(2.5, 4.5), rng.uniform(0.2, 0.5)) for _ in range(count)]
        parts[-1] = parts[-1][0], rng.uniform(shortest, 2.5)
    samples, onsets = voice(parts, seed, level=rng.choice([0.01, 0.1, 0.4]), noise=rng.choice([0, 3e-5, 3e-4]))
    return samples, onsets, [onsets[i] for i in np.cumsum([0, *counts])[:-1]]


@pytest.mark.parametrize("seed", range(6))
def test_uneven_pauses_are_found_in_one_take(seed, tmp_path):
    counts = np.random.default_rng(seed).integers(1, 4, 5)
    samples, onsets, begun = read_aloud(counts, seed)
    take = listen(write_wav(samples, tmp_path / "take.wav", channels=1 + seed % 2))
    spoken = speech_of(beats(*counts), Voice((take,)))
    assert [one.sentences[0] for one in spoken.values()] == pytest.approx(begun, abs=0.03)
    assert [second for one in spoken.values() for second in one.sentences] == pytest.approx(onsets, abs=0.03)
    ends = [one.end + one.pause for one in list(spoken.values())[:-1]]
    assert ends == pytest.approx(begun[1:], abs=0.03) and spoken[4].pause is None


def test_a_quick_reader_pauses_less_and_still_clearly(tmp_path):
    samples, _ = voice([(3, 0.5), (2, 0.2), (2, 0.45), (3, 0.5)])
    spoken = speech_of(beats(1, 2, 1), Voice((listen(write_wav(samples, tmp_path / "take.wav")),)))
    assert [round(one.seconds, 1) for one in spoken.values()] == [3.0, 4.2, 3.0]


def test_a_phones_file_and_a_key_that_is_pressed_while_reading(tmp_path):
    """The tap of a key in a pause, as loud as the voice, begins no beat."""
    samples, onsets = voice([(3, 1.5), (2, 1.5), (4, 0.5)])
    tap = round((onsets[1] - 0.7) * 44_100)
    samples[tap : tap + 900] = 0.5 * np.random.default_rng(1).standard_normal(900)
    wav = write_wav(np.clip(samples, -1, 1), tmp_path / "take.wav")
    phone = tmp_path / "take.m4a"
    subprocess.run([ffmpeg.program(), "-loglevel", "error", "-i", wav, "-c:a", "aac", phone], check=True)
    spoken = speech_of(beats(1, 1, 1), Voice((listen(phone),)))
    assert [one.sentences[0] for one in spoken.values()] == pytest.approx(onsets, abs=0.05)


def test_a_recording_for_each_beat_and_a_second_take_of_one(tmp_path):
    files = [write_wav(voice([(long, 0.3)], long)[0], tmp_path / f"{long}.wav") for long in (3, 2, 4)]
    takes = tuple(map(listen, files))
    spoken = speech_of(beats(1, 1), Voice(takes[:2], ((2, takes[2]),)))
    assert [(one.take, round(one.seconds)) for one in spoken.values()] == [(takes[0], 3), (takes[2], 4)]
    assert listen(files[0]).digest == takes[0].digest != takes[1].digest


def test_a_beat_without_words_needs_no_voice(tmp_path):
    silent = [*beats(1), Beat("look", "seen", ()), *beats(1)]
    samples, _ = voice([(3, 1), (3, 1)])
    assert set(speech_of(silent, Voice((listen(write_wav(samples, tmp_path / "a.wav")),)))) == {0, 2}
    assert speech_of(silent, Voice()) == {}


TOO_FEW = [(4, 1), (4, 1), (9, 1), (4, 1)]
TOO_MANY = [(4, 1), (4, 1), (4, 1), (1, 1), (3, 1), (4, 1)]


@pytest.mark.parametrize(
    ("parts", "says"),
    [
        (TOO_FEW, "has 4 beats .* the story has 5: beat 3 is the first that does not fit"),
        (TOO_MANY, "has 6 beats .* the story has 5: beat 4 is the first that does not fit"),
        (TOO_MANY[:3], "has 3 beats .* the story has 5: beat 4 is the first that does not fit"),
        ([(4, 1)] * 6, "has 6 beats .* the story has 5: there is more after the last"),
    ],
)
def test_too_few_and_too_many_beats(parts, says, tmp_path):
    take = listen(write_wav(voice(parts)[0], tmp_path / "take.wav"))
    with pytest.raises(BadRecording, match=says) as caught:
        speech_of(beats(1, 1, 1, 1, 1), Voice((take,)))
    assert "\n" not in str(caught.value)


def test_other_voices_that_do_not_fit(tmp_path):
    take = listen(write_wav(voice([(3, 1), (3, 1)])[0], tmp_path / "take.wav"))
    with pytest.raises(BadRecording, match="2 recordings for 3 beats: beat 3 is the first"):
        speech_of(beats(1, 1, 1), Voice((take, take)))
    with pytest.raises(BadRecording, match="beat 3 has no voice to replace"):
        speech_of(beats(1, 1), Voice((take,), ((3, take),)))
    with pytest.raises(BadRecording, match="beat 1 has no voice to replace"):
        speech_of(beats(1, 1), Voice((), ((1, take),)))
    silent = write_wav(np.zeros(44_100), tmp_path / "silent.wav")
    for path, says in ((silent, "nobody is heard"), (tmp_path / "none.wav", "no recording"), (tmp_path, "no recording")):
        with pytest.raises(BadRecording, match=says):
            listen(path)
    (tmp_path / "text.wav").write_text("no sound at all")
    with pytest.raises(BadRecording, match="`text.wav` has no sound in it: give"):
        listen(tmp_path / "text.wav")


def test_a_timing_finds_beats_that_no_pause_divides(tmp_path):
    """The second beat begins after a shorter pause than one within the first."""
    samples, onsets = voice([(3, 0.9), (2, 0.4), (4, 1.2), (3, 0.5)])
    take = listen(write_wav(samples, tmp_path / "take.wav"))
    timing = ((0.0, 3.9), (onsets[2] - onsets[0] + 0.25,), (onsets[3] - onsets[0] - 0.3, onsets[3] + 3))
    spoken = speech_of(beats(2, 1, 1), Voice((take,), (), timing))
    assert [one.sentences[0] for one in spoken.values()] == pytest.approx([onsets[0], onsets[2], onsets[3]], abs=0.03)
    alone = speech_of(beats(2, 1, 1), Voice((), (), timing))
    assert [one.take for one in alone.values()] == [None] * 3
    assert alone[0].end == timing[1][0] and alone[2].end == timing[2][1]
    with pytest.raises(BadRecording, match="of another story: beat 2 is the first"):
        speech_of(beats(2, 2, 1), Voice((take,), (), timing))
    with pytest.raises(BadRecording, match="no voice at the time of beat 3"):
        speech_of(beats(2, 1, 1), Voice((take,), (), (timing[0], timing[1], (timing[1][0] + 0.2,))))


@pytest.mark.parametrize("text", ["beats = 3", "beats = [[1.0], 2]", "beats = [[2.0], [1.0]]", "beats = [['x']]", "x = [", ""])
def test_a_timing_that_is_none(text, tmp_path):
    (tmp_path / "timing.toml").write_text(text)
    with pytest.raises(BadRecording) as caught:
        read_timing(tmp_path / "timing.toml")
    assert "timing.toml" in str(caught.value) and "\n" not in str(caught.value)
