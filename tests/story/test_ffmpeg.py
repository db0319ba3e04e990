"""The encoder as a program that may be missing or fail: always one sentence."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest

from oddswap.errors import NoEncoder
from oddswap.story import ffmpeg

LESSON = Path(__file__).parents[2] / "notebooks" / "13_how_do_i_make_the_clip.ipynb"


def test_a_missing_program_says_how_to_get_it(monkeypatch):
    monkeypatch.setitem(sys.modules, "imageio_ffmpeg", None)
    ffmpeg.program.cache_clear()
    with pytest.raises(NoEncoder, match=r"install oddswap with its extra video"):
        ffmpeg.program()
    ffmpeg.program.cache_clear()


def test_a_failure_is_told_in_ffmpegs_own_last_line(tmp_path):
    with pytest.raises(NoEncoder, match="No such file"):
        with ffmpeg.encoding((16, 16), 10, ["-i", tmp_path / "none.vtt", tmp_path / "out.mp4"]):
            pass


def test_an_encoder_that_stops_early_is_told(tmp_path):
    with pytest.raises(NoEncoder, match="could not make it"):
        with ffmpeg.encoding((16, 16), 10, ["-c:v", "no-such-encoder", tmp_path / "x.mp4"]) as take:
            for _ in range(2000):
                take(bytes(16 * 16 * 4))


def test_known_and_unknown_encoders():
    ffmpeg.check_encoder("libx264")
    with pytest.raises(NoEncoder, match="no encoder nothing264"):
        ffmpeg.check_encoder("nothing264")


def test_without_the_encoder_the_lesson_runs_to_its_end_and_lacks_one_picture(tmp_path):
    """In a kernel of its own, in which the extra cannot be imported; every cell shows what it shows with it, except one."""
    (tmp_path / "imageio_ffmpeg.py").write_text('raise ImportError("left out")\n', encoding="utf-8")
    paths = os.pathsep.join(filter(None, [str(tmp_path), os.environ.get("PYTHONPATH")]))
    command = [sys.executable, "-m", "nbconvert", "--to", "notebook", "--execute", "--output-dir", str(tmp_path), str(LESSON)]
    run = subprocess.run(command, env=os.environ | {"PYTHONPATH": paths}, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    without, whole = (code_outputs(path) for path in (tmp_path / LESSON.name, LESSON))
    (missed,) = [here for here, there in zip(without, whole, strict=True) if sorts(here) != sorts(there)]
    assert sorts(missed) == {"text/plain", "text/html"}
    text = " ".join(missed[0].data["text/plain"].split())
    assert text.startswith("This clip is left out") and "extra video" in text and text.count(". ") == 0


def code_outputs(path):
    return [cell.outputs for cell in nbformat.read(path, as_version=4).cells if cell.cell_type == "code"]


def sorts(outputs):
    """What sorts of things a cell shows: media types, streams, errors."""
    return {sort for output in outputs for sort in output.get("data", [output.get("name", output.output_type)])}
