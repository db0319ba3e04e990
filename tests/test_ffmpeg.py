"""The encoder as a program that may be missing or fail: always one sentence."""

from __future__ import annotations

import sys

import pytest

from oddswap.errors import NoEncoder
from oddswap.showing import ffmpeg


def test_a_missing_program_says_how_to_get_it(monkeypatch):
    monkeypatch.setitem(sys.modules, "imageio_ffmpeg", None)
    ffmpeg.program.cache_clear()
    with pytest.raises(NoEncoder, match=r"install oddswap with its extra video"):
        ffmpeg.program()
    ffmpeg.program.cache_clear()


def test_a_failure_is_told_in_ffmpegs_own_last_line(tmp_path):
    with pytest.raises(NoEncoder, match="No such file"):
        ffmpeg.run(["-i", tmp_path / "none.vtt", tmp_path / "out.mp4"])


def test_an_encoder_that_stops_early_is_told(tmp_path):
    with pytest.raises(NoEncoder, match="could not make it"):
        with ffmpeg.encoding((16, 16), 10, ["-c:v", "no-such-encoder", tmp_path / "x.mp4"]) as take:
            for _ in range(2000):
                take(bytes(16 * 16 * 4))


def test_known_and_unknown_encoders():
    ffmpeg.check_encoder("libx264")
    with pytest.raises(NoEncoder, match="no encoder nothing264"):
        ffmpeg.check_encoder("nothing264")
