"""Voices made of noise for tests: no person speaks, so nothing hangs on a recording, and every onset is known to the sample.

A voice is a hum with overtones and breath, in syllables as uneven as speech, with pauses as uneven as a reader's.
"""

from __future__ import annotations

import wave
from pathlib import Path

import numpy as np

RATE = 44_100
"""On purpose not the rate that the package works with."""


def syllables(seconds: float, pitch: float, rng: np.random.Generator) -> np.ndarray:
    """Sound of about four syllables a second with no gap of a breath or more; peaks well above its mean."""
    at = np.arange(round(seconds * RATE)) / RATE
    phase = 2 * np.pi * np.cumsum(pitch * (1 + 0.1 * np.sin(2 * np.pi * 0.6 * at))) / RATE
    hum = sum(np.sin(k * phase) / k for k in range(1, 16))
    beat = 0.15 + np.clip(np.sin(2 * np.pi * (3.6 * at + 0.3 * np.sin(at))), 0, None)
    beat[: RATE // 50] = beat[-RATE // 50 :] = 0.6
    return (hum + 0.4 * rng.standard_normal(len(at))) * beat


def voice(
    parts: list[tuple[float, float]], seed: int = 1, level: float = 0.1, noise: float = 3e-4, lead: float = 0.6
) -> tuple[np.ndarray, list[float]]:
    """Samples, and the second at which each part begins: parts are seconds of speech, and seconds of silence after it."""
    rng = np.random.default_rng(seed)
    pitch, pieces, onsets = 90 + 30 * seed % 140, [np.zeros(round(lead * RATE))], []
    for speech, pause in parts:
        onsets.append(sum(map(len, pieces)) / RATE)
        pieces += [syllables(speech, pitch, rng), np.zeros(round(pause * RATE))]
    whole = level * np.concatenate(pieces)
    return np.clip(whole + noise * rng.standard_normal(len(whole)), -1, 1), onsets


def write_wav(samples: np.ndarray, path: Path, channels: int = 1) -> Path:
    with wave.open(str(path), "wb") as file:
        file.setnchannels(channels)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes((np.repeat(samples, channels) * 32767).astype("<i2").tobytes())
    return path
