"""Clips read back by ffmpeg's own probe: length, size, format, chapters and captions; drawn the same by one and two workers."""

from __future__ import annotations

import pickle
import re
import subprocess
from dataclasses import replace
from multiprocessing.reduction import ForkingPickler

import numpy as np
import pytest
import webvtt

from oddswap.describing.tickets import parse_ticket
from oddswap.errors import NoEncoder
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.story import ffmpeg
from oddswap.story.clip import Film, draw_frames, write_clip, write_loop
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from tests.story.stories import NOTE, told


def run_ffmpeg(arguments):
    """Run ffmpeg to its end."""
    subprocess.run([ffmpeg.program(), "-loglevel", "error", "-y", *map(str, arguments)], stdin=subprocess.DEVNULL, check=True)


@pytest.fixture(scope="module")
def film() -> Film:
    """Two short beats, one of them with two turns, at ten frames a second."""
    found = told("ordinary")
    story = story_of(found)
    beats = tuple(replace(beat, says=beat.says[:1]) for beat in story.beats if beat.chapter in ("What is seen", "The way out"))
    story = replace(story, beats=beats, seconds_a_turn=0.4)
    return Film(found, timeline(story, found, 10), "wide", 180)


def probed(path) -> str:
    """What ffmpeg says of a file."""
    return subprocess.run([ffmpeg.program(), "-hide_banner", "-i", str(path)], capture_output=True, text=True).stderr


@pytest.fixture(scope="module")
def clip(film, tmp_path_factory):
    told_of = []
    path = write_clip(film, tmp_path_factory.mktemp("clip") / "clip.mp4", lambda done, whole: told_of.append((done, whole)))
    assert told_of[0] == (0, film.times.frames) and len(told_of) > 3
    assert [file.name for file in path.parent.iterdir()] == ["clip.mp4"]
    return path


def test_the_probe_reads_what_was_meant(film, clip):
    text = probed(clip)
    hours, minutes, seconds = re.search(r"Duration: (\d+):(\d+):([\d.]+)", text).groups()
    assert abs(int(hours) * 3600 + int(minutes) * 60 + float(seconds) - film.times.seconds) <= 0.1
    assert re.search(r"Video: h264 .*yuv420p.*, 320x180", text) and "10 fps" in text
    assert "Subtitle: mov_text" in text and "(eng)" in text
    chapters = re.findall(r"Chapter #0:\d+: start ([\d.]+), end ([\d.]+)", text)
    starts = [start / 10 for start in film.times.starts]
    assert [float(start) for start, _ in chapters] == pytest.approx(starts, abs=0.001)
    assert re.findall(r"title\s+: (What is seen|The way out)", text) == ["What is seen", "The way out"]
    assert NOTE not in text


def test_a_film_with_slips_reaches_the_processes_that_draw_it():
    """A slip knows colours by a view of a mapping, which no process can send as it is."""
    ticket = parse_ticket('puzzle = "cube:2"\nafter = "R U F2"\nchanges = ["twist UBL ccw"]')
    found = answer(ticket.puzzle, ticket.appearance, Budget(20.0, 500_000_000))
    assert found.diagnosis.slips
    sent = Film(found, timeline(story_of(found), found, 2), "wide", 90, {"U": "#FFFFFF"})
    assert pickle.loads(ForkingPickler.dumps(sent)).times.frames == sent.times.frames


def test_the_captions_come_back_unchanged(film, clip, tmp_path):
    """The track is taken out again as WebVTT and parsed by a reader that is not ours."""
    run_ffmpeg(["-i", clip, "-map", "0:s:0", tmp_path / "back.vtt"])
    found = list(webvtt.read(tmp_path / "back.vtt"))
    assert [caption.lines for caption in found] == [list(cue.lines) for cue in film.times.cues]
    for caption, cue in zip(found, film.times.cues, strict=True):
        assert caption.start_in_seconds == cue.first // 10 and caption.end_in_seconds == cue.last // 10


def test_frames_are_the_same_however_many_draw_them(film):
    stage = film.stage()
    pictures = draw_frames(film, workers=1)
    for shot in film.times.shots:
        for frame in range(shot.first, shot.last):
            got = np.frombuffer(bytes(next(pictures)), dtype=np.uint8)
            assert (got == stage.picture(shot, frame).ravel()).all(), frame
    assert next(pictures, None) is None


def test_captions_are_drawn_only_when_asked(film, tmp_path):
    plain, burnt = tmp_path / "plain.mp4", tmp_path / "burnt.mp4"
    first = film.times.cues[0]
    frames = {}
    for path, one in ((plain, film), (burnt, replace(film, burnt=True))):
        write_clip(one, path)
        at = (first.first + first.last) / 20
        raw = ["-ss", f"{at}", "-i", path, "-frames:v", "1", "-f", "rawvideo", "-pix_fmt", "rgb24", tmp_path / f"{path.stem}.raw"]
        run_ffmpeg(raw)
        frames[path.stem] = np.fromfile(tmp_path / f"{path.stem}.raw", dtype=np.uint8).reshape(180, 320, 3).astype(int)
    apart = np.abs(frames["plain"] - frames["burnt"]).max(axis=2) > 60
    assert apart[150:].any() and not apart[:140].any()


@pytest.mark.parametrize("suffix", ["gif", "png", "webm"])
def test_a_loop_has_a_transparent_ground(film, tmp_path, suffix):
    part = film.times.only({1})
    path = write_loop(Film(film.answer, part, "clear", 90), tmp_path / f"way.{suffix}")
    decoder = ["-c:v", "libvpx-vp9"] if suffix == "webm" else []
    run_ffmpeg([*decoder, "-i", path, "-frames:v", "1", "-f", "rawvideo", "-pix_fmt", "rgba", tmp_path / "one.raw"])
    picture = np.fromfile(tmp_path / "one.raw", dtype=np.uint8).reshape(90, 90, 4)
    assert picture[0, 0, 3] == 0 and picture[45, 45, 3] == 255


def test_no_encoder_is_one_sentence_and_leaves_nothing(film, tmp_path, monkeypatch):
    monkeypatch.setattr(ffmpeg, "program", lambda: "/bin/false")
    ffmpeg.check_encoder.cache_clear()
    with pytest.raises(NoEncoder, match="has no encoder libx264"):
        write_clip(film, tmp_path / "clip.mp4")
    ffmpeg.check_encoder.cache_clear()
    assert list(tmp_path.iterdir()) == []


def test_a_disk_that_fills_is_one_sentence_and_leaves_nothing(film, tmp_path, monkeypatch):
    """An ffmpeg that may write 2000 bytes and is then told that there is no room."""
    little = tmp_path / "ffmpeg"
    little.write_text(f"#!/bin/sh\ntrap '' XFSZ\nulimit -f 4\nexec {ffmpeg.program()} \"$@\"\n")
    little.chmod(0o755)
    monkeypatch.setattr(ffmpeg, "program", lambda: str(little))
    (tmp_path / "out").mkdir()
    with pytest.raises(NoEncoder, match="give it room on the disk") as caught:
        write_clip(film, tmp_path / "out" / "clip.mp4")
    assert "\n" not in str(caught.value) and not list((tmp_path / "out").iterdir())
