"""Clips with a voice, judged from the file alone: chapters, captions and pictures are where a known voice is heard.

The voice is found in the clip's own sound by correlation with what was spoken, not with the code that laid it there.
"""

from __future__ import annotations

import re
import subprocess
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pytest
import webvtt

from oddswap.errors import BadRecording
from oddswap.story import ffmpeg
from oddswap.story.clip import Film, write_clip
from oddswap.story.footage import Footage, check_footage
from oddswap.story.pacing import paced
from oddswap.story.sound import soundtrack
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.captions import READING
from oddswap.story.telling.timeline import timeline
from oddswap.story.voice import Voice, listen, speech_of
from tests.story.stories import told
from tests.story.voices import RATE, voice, write_wav

STEP = 0.08
"""Seconds that a beat may be beside its voice."""
MARKS = ("+48.1372", "Pocket Phone 7", "2026-05-01", "My kitchen")
"""Place, device, date and title that a phone writes into what it records."""


def ffmpeg_said(*arguments) -> str:
    return subprocess.run([ffmpeg.program(), "-hide_banner", *map(str, arguments)], capture_output=True, text=True).stderr


def marked(target, *inputs):
    """A recording as a phone writes it: with where, by what and when."""
    where, device, date, title = MARKS
    tags = [
        f"location={where}+011.5755/",
        f"com.apple.quicktime.model={device}",
        f"creation_time={date}T10:00:00Z",
        f"title={title}",
    ]
    said = [word for tag in tags for word in ("-metadata", tag)]
    ffmpeg_said(*inputs, *said, "-metadata:s:a:0", f"handler_name={device}", "-movflags", "use_metadata_tags", "-y", target)
    assert all(mark.encode() in target.read_bytes() for mark in MARKS[1:2]), "the marks are in what is given"
    return target


def read_by(story, seed: int, speed: float = 13.0):
    """A voice that speaks so many letters a second, with uneven pauses: samples, onsets of sentences, first of each beat."""
    rng, parts, first = np.random.default_rng(seed), [], []
    for beat in story.beats:
        first.append(len(parts))
        parts += [(len(sentence) / speed * rng.uniform(0.9, 1.2), rng.uniform(0.2, 0.45)) for sentence in beat.says]
        parts[-1] = parts[-1][0], rng.uniform(0.75, 2.2)
    samples, onsets = voice(parts, seed, level=(0.01, 0.05, 0.1, 0.3, 0.6)[seed % 5])
    return samples, onsets, first, [long for long, _ in parts]


def heard_in(clip, folder) -> np.ndarray:
    raw = folder / "heard.raw"
    ffmpeg_said("-i", clip, "-map", "0:a", "-ac", "1", "-ar", RATE, "-f", "f32le", "-y", raw)
    return np.fromfile(raw, np.float32)


def found_at(sound: np.ndarray, part: np.ndarray) -> float:
    """The second at which a part is heard in a sound: where they agree best."""
    size = 1 << int(len(sound) + len(part)).bit_length()
    agreement = np.fft.irfft(np.fft.rfft(sound, size) * np.conj(np.fft.rfft(part, size)))[: len(sound)]
    return int(agreement.argmax()) / RATE


@dataclass(frozen=True)
class Voiced:
    """A story read by a known voice: what was spoken and when, and what became of it."""

    film: Film
    samples: np.ndarray
    onsets: list[float]
    first: list[int]
    lengths: list[float]
    track: np.ndarray
    take: Path

    def heard(self, sound: np.ndarray) -> list[float]:
        """When each sentence is heard in a sound."""
        spans = zip(self.onsets, self.lengths, strict=True)
        return [found_at(sound, self.samples[round(onset * RATE) : round((onset + long) * RATE)]) for onset, long in spans]


@pytest.fixture(scope="module", params=range(5))
def voiced(request, tmp_path_factory) -> Voiced:
    seed, folder = request.param, tmp_path_factory.mktemp("voiced")
    found = told(("lookalike", "ordinary", "not by turning", "other turns", "twins")[seed])
    story = story_of(found)
    story = replace(story, beats=tuple(replace(beat, says=beat.says[:2]) for beat in story.beats[:4]), seconds_a_turn=0.2)
    samples, onsets, first, lengths = read_by(story, seed)
    take = marked(folder / "take.m4a", "-i", write_wav(samples, folder / "take.wav"))
    spoken = speech_of(story.beats, Voice((listen(take),)))
    times = paced(timeline(story, found, 30), spoken)
    return Voiced(Film(found, times, "wide", 90), samples, onsets, first, lengths, soundtrack(times, spoken, False), take)


def in_step(voiced: Voiced, sound: np.ndarray, chapters: list[float], cues: list[tuple[float, str]]) -> None:
    """Chapters begin where the voice of their beat does, and captions where that of their sentence does."""
    heard, story = voiced.heard(sound), voiced.film.times.story
    assert chapters == pytest.approx([heard[i] for i in voiced.first], abs=STEP)
    for sentence, second in zip((sentence for beat in story.beats for sentence in beat.says), heard, strict=True):
        near, text = min(cues, key=lambda cue: abs(cue[0] - second))
        assert abs(near - second) <= STEP and sentence.startswith(text), sentence


def is_loud_enough(path) -> None:
    said = ffmpeg_said("-i", path, "-af", "ebur128=peak=true:framelog=quiet", "-f", "null", "-")
    assert abs(float(re.findall(r"I:\s+(-[\d.]+) LUFS", said)[-1]) + 16) <= 0.5
    assert float(re.findall(r"Peak:\s+(-?[\d.]+) dBFS", said)[-1]) <= -1


def test_beats_and_captions_are_where_the_voice_is_heard(voiced, tmp_path):
    """In the track as it is laid into a clip, and loud enough when it is encoded as it is there."""
    voiced.track.tofile(tmp_path / "sound.raw")
    ffmpeg_said(
        "-f",
        "f32le",
        "-ar",
        "48000",
        "-ac",
        "1",
        "-i",
        tmp_path / "sound.raw",
        "-c:a",
        "aac",
        "-b:a",
        "192k",
        tmp_path / "sound.m4a",
    )
    is_loud_enough(tmp_path / "sound.m4a")
    times = voiced.film.times
    cues = [(cue.first / 30, cue.text) for cue in times.cues]
    in_step(voiced, heard_in(tmp_path / "sound.m4a", tmp_path), [start / 30 for start in times.starts], cues)


def test_a_clip_is_in_step_loud_enough_and_says_nothing_of_the_phone(tmp_path):
    found = told("ordinary")
    story = replace(story_of(found), seconds_a_turn=0.2)
    story = replace(story, beats=tuple(replace(beat, says=beat.says[:1]) for beat in story.beats))
    samples, onsets, first, lengths = read_by(story, 2)
    take = marked(tmp_path / "take.m4a", "-i", write_wav(samples, tmp_path / "take.wav"))
    spoken = speech_of(story.beats, Voice((listen(take),)))
    film = Film(found, paced(timeline(story, found, 30), spoken), "wide", 90)
    path = write_clip(film, tmp_path / "clip.mp4", None, soundtrack(film.times, spoken, True))
    voiced = Voiced(film, samples, onsets, first, lengths, np.zeros(0), take)
    chapters = [float(start) for start in re.findall(r"Chapter #0:\d+: start ([\d.]+)", ffmpeg_said("-i", path))]
    ffmpeg_said("-i", path, "-map", "0:s:0", tmp_path / "back.vtt")
    cues = [
        (cue.start_in_seconds + cue.start_time.milliseconds / 1000, " ".join(cue.lines))
        for cue in webvtt.read(tmp_path / "back.vtt")
    ]
    in_step(voiced, heard_in(path, tmp_path), chapters, cues)
    is_loud_enough(path)
    assert not [mark for mark in MARKS if mark.encode() in path.read_bytes()]


def test_pauses_stay_and_grow_only_where_turns_need_them():
    found = told("lookalike")
    story = story_of(found)
    samples, onsets, first, _ = read_by(story, 3)
    spoken = speech_of(story.beats, Voice((_take(samples),)))
    laid = timeline(story, found, 30)
    times = paced(laid, spoken)
    assert all(one.last == two.first and one.first < one.last for one, two in zip(times.shots, times.shots[1:], strict=False))
    assert times.frames == times.shots[-1].last and {shot.beat for shot in times.shots} == set(range(len(story.beats)))
    meant = np.diff([onsets[i] for i in first])
    got, busy = np.diff(times.starts) / 30, {shot.beat for shot in laid.shots if shot.animated}
    for number, (voiced, shown) in enumerate(zip(meant, got, strict=True)):
        assert abs(shown - voiced) < 0.05 or (number in busy and shown > voiced)
    turned = [shot for shot in times.shots if shot.moving and shot.move >= 0]
    before = [shot for shot in laid.shots if shot.moving and shot.move >= 0]
    assert [shot.last - shot.first for shot in turned] == pytest.approx([shot.last - shot.first for shot in before], abs=1)
    for cue in times.cues:
        assert len(cue.text) <= (READING + 1) * (cue.last - cue.first) / 30


def _take(samples):

    with TemporaryDirectory() as folder:
        return listen(write_wav(samples, Path(folder) / "take.wav"))


def test_a_second_take_moves_what_follows_and_nothing_before():
    found = told("lookalike")
    story = story_of(found)
    take, again = _take(read_by(story, 3)[0]), _take(voice([(9.0, 0.3)], 9)[0])
    laid = timeline(story, found, 30)
    one, two = (paced(laid, speech_of(story.beats, Voice((take,), retakes))) for retakes in ((), ((2, again),)))
    assert one.starts[:2] == two.starts[:2] and np.ptp(np.array(two.starts[2:]) - one.starts[2:]) <= 1
    track = soundtrack(two, speech_of(story.beats, Voice((take,), ((2, again),))), False)
    second = slice(round(again.bursts[0][0] * 48_000), round(again.bursts[0][1] * 48_000))
    size = 1 << 23
    agreement = np.fft.irfft(np.fft.rfft(track, size) * np.conj(np.fft.rfft(again.samples[second], size)))
    assert abs(agreement.argmax() / 48_000 - two.starts[1] / 30) <= STEP


def test_words_that_are_too_long_for_their_beat():
    found = told("ordinary")
    story = story_of(found)
    samples = voice([(0.9 if number == 1 else len(" ".join(beat.says)) / 13, 1.0) for number, beat in enumerate(story.beats)])[0]
    spoken = speech_of(story.beats, Voice((_take(samples),)))
    with pytest.raises(BadRecording, match=r"beat 2 has \d+ letters for 0.9 s of voice, and 17 a second can be read: give it"):
        paced(timeline(story, found, 30), spoken)


def test_without_a_voice_each_turn_may_click():
    found = told("ordinary")
    times = timeline(story_of(found), found, 30)
    assert soundtrack(times, {}, False) is None
    track = soundtrack(times, {}, True)
    loud = np.flatnonzero(np.abs(track) > 0.01) / 48_000
    begun = [loud[0], *(b for a, b in zip(loud, loud[1:], strict=False) if b - a > 0.2)]
    assert begun == pytest.approx([shot.last / 30 for shot in times.shots if shot.moving], abs=0.01)
    assert 20 * np.log10(np.abs(track).max()) < -20


def test_footage_is_seen_in_its_beat_and_nowhere_else(tmp_path):
    found = told("ordinary")
    story = story_of(found)
    story = replace(story, beats=tuple(replace(beat, says=beat.says[:1], moves="") for beat in story.beats[:3]))
    times = timeline(story, found, 10)
    red, green = (("-f", "lavfi", "-i", f"color={colour}:s=64x48:r=25:d=2") for colour in ("red", "lime"))
    tone = ("-f", "lavfi", "-i", "sine=d=4", "-filter_complex", "[0:v][1:v]concat[v]", "-map", "[v]", "-map", "2:a")
    hands = marked(tmp_path / "hands.mp4", *red, *green, *tone)
    path = write_clip(Film(found, times, "wide", 180), tmp_path / "clip.mp4", None, None, [Footage(2, hands, 2.2)])
    raw = tmp_path / "frames.raw"
    ffmpeg_said("-i", path, "-f", "rawvideo", "-pix_fmt", "rgb24", "-y", raw)
    frames = np.fromfile(raw, np.uint8).reshape(-1, 180, 320, 3).astype(int)
    assert len(frames) == times.frames
    green = [(frame[..., 1] - frame[..., 0] > 200).mean() for frame in frames]
    shown = [i for i, share in enumerate(green) if share > 0.02]
    assert shown == list(range(times.starts[1], times.starts[1] + len(shown))) and 16 <= len(shown) <= 18
    assert times.starts[1] + len(shown) < times.starts[2], "the footage ends before its beat, and the drawing is seen again"
    assert "Audio" not in ffmpeg_said("-i", path)
    assert not [mark for mark in MARKS if mark.encode() in path.read_bytes()]


def test_footage_that_cannot_be_shown(tmp_path):
    hands = tmp_path / "hands.mp4"
    ffmpeg_said("-f", "lavfi", "-i", "color=red:s=64x48:r=25:d=3", hands)
    sound = write_wav(voice([(2, 1)])[0], tmp_path / "take.wav")
    wrong = {
        "`hands.mp4` is 3.0 s long and ends before 12.5 s: give an earlier second": Footage(1, hands, 12.5),
        "there is no beat 4 to show `hands.mp4` in: the beats are numbered from 1 to 3": Footage(4, hands, 0),
        "`take.wav` has no pictures in it": Footage(1, sound, 0),
        "is there: name a file": Footage(1, tmp_path / "none.mp4", 0),
    }
    check_footage([Footage(3, hands, 2.5)], 3)
    for says, footage in wrong.items():
        with pytest.raises(BadRecording, match=re.escape(says)):
            check_footage([footage], 3)
