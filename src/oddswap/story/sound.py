"""The sound of a clip: a voice where its beats are, as loud as platforms play it, or a quiet click for each turn."""

import re
from collections.abc import Mapping

import numpy as np

from oddswap.story.ffmpeg import RATE, filtered
from oddswap.story.telling.timeline import Timeline
from oddswap.story.voice import Spoken

LOUDNESS = -16.0
"""LUFS of a voice as a whole (ITU-R BS.1770), as spoken clips are published; within half a unit."""
LIMIT = "aresample=192000,alimiter=limit=0.75:level=false:attack=2:release=50,aresample=48000"
"""Peaks, true ones between the samples too, stay below -2.5 dB, so that encoding leaves them below -1 dBTP."""
PASSES = 3
EARLY = 0.03
"""Seconds of a take before its voice is heard that are kept, and after it, so that no word is cut; its picture is that early."""
SOFT = 480
"""Samples in which the voice of a beat comes up, and goes."""
CLICK, QUIET = 0.03, 0.05
"""How long a click is, in seconds, and how loud (1 is full scale)."""


def soundtrack(times: Timeline, spoken: Mapping[int, Spoken], clicks: bool) -> np.ndarray | None:
    """The samples of a whole clip; None where nothing sounds. Nothing but samples of a recording is in it."""
    track = np.zeros(round(times.seconds * RATE), np.float32)
    for number, voice in spoken.items():
        if voice.take:
            _lay(track, _cut(voice), times.starts[number] / times.frames_a_second)
    if track.any():
        track = as_loud(track)
    at = np.arange(round(CLICK * RATE)) / RATE
    click = QUIET * np.exp(-at / 0.004) * np.sin(2 * np.pi * 1800 * at)
    for shot in times.shots if clicks else ():
        if shot.moving:
            _lay(track, click, shot.last / times.frames_a_second)
    return track if track.any() else None


def as_loud(samples: np.ndarray) -> np.ndarray:
    """The voice at `LOUDNESS`: made louder, limited, and measured again for what the limiter took."""
    gain, heard = 0.0, samples
    for _ in range(PASSES):
        gain += LOUDNESS - loudness(heard)
        heard = filtered(samples, f"volume={gain}dB,{LIMIT}")[0]
    return heard[: len(samples)].copy()


def loudness(samples: np.ndarray) -> float:
    """LUFS of the whole, by ffmpeg's meter of EBU R 128."""
    return float(re.findall(r"I:\s+(-?[\d.]+) LUFS", filtered(samples, "ebur128")[1])[-1])


def _cut(voice: Spoken) -> np.ndarray:
    """The samples of a beat, with soft edges."""
    first, last = (round(second * RATE) for second in (voice.sentences[0] - EARLY, voice.end + EARLY))
    samples = voice.take.samples[max(0, first) : last]
    place = np.arange(len(samples))
    return samples * np.clip(np.minimum(place, place[::-1]) / SOFT, 0, 1)


def _lay(track: np.ndarray, samples: np.ndarray, second: float) -> None:
    start = round(second * RATE)
    room = track[start : start + len(samples)]
    room += samples[: len(room)]
