"""The encoder: pictures in, a clip out, sound both ways; found at run time, with one clear sentence where it is missing."""

import subprocess
from collections.abc import Sequence
from contextlib import contextmanager, suppress
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryFile

import numpy as np

from oddswap.errors import BadRecording, NoEncoder, quoted

RATE = 48_000
"""Samples a second of all sound here, which is mono: numbers from -1 to 1."""
LONGEST = 1200
"""Seconds of a recording at most: 20 minutes take 230 MB."""
SOUND = ["-f", "f32le", "-ar", str(RATE), "-ac", "1"]


@lru_cache(maxsize=1)
def program() -> str:
    """The path of ffmpeg. `NoEncoder` says how to get it."""
    try:
        import imageio_ffmpeg

        return imageio_ffmpeg.get_ffmpeg_exe()
    except (ImportError, RuntimeError):
        how = 'install oddswap with its extra video, as in pip install -e ".[video]"'
        raise NoEncoder(f"clips need ffmpeg, which is not here: {how}") from None


@lru_cache(maxsize=8)
def check_encoder(name: str) -> None:
    """`NoEncoder` unless this ffmpeg has the encoder."""
    listed = subprocess.run([program(), "-hide_banner", "-encoders"], capture_output=True, text=True, check=False).stdout
    if not any(line.split()[1:2] == [name] for line in listed.splitlines()):
        raise NoEncoder(f"this ffmpeg has no encoder {name}: install the extra video anew, or leave the clip out with --only")


@contextmanager
def encoding(size: tuple[int, int], frames_a_second: int, arguments: Sequence[str | Path], pixels: str = "rgba"):
    """A function that takes one picture after the other, as bytes of ``size`` (width, height) in a format of ``pixels``."""
    width, height = size
    shape = f"-pix_fmt {pixels} -s {width}x{height} -r {frames_a_second}"
    with running([*f"-thread_queue_size 1 -f rawvideo {shape} -i -".split(), *arguments]) as process:
        yield process.stdin.write


def run(arguments: Sequence[str | Path]) -> None:
    """Have ffmpeg make a file of files."""
    with running(arguments):
        pass


@contextmanager
def running(arguments: Sequence[str | Path]):
    """ffmpeg at work; `NoEncoder` where it fails."""
    with TemporaryFile() as complaints:
        process = subprocess.Popen(
            [program(), "-hide_banner", "-loglevel", "error", "-y", *map(str, arguments)],
            stdin=subprocess.PIPE,
            stderr=complaints,
        )
        try:
            yield process
        except BrokenPipeError:
            pass
        except BaseException:
            process.kill()
            raise
        finally:
            with suppress(BrokenPipeError):
                process.stdin.close()
            process.wait()
        if process.returncode:
            complaints.seek(0)
            reason = _last_line(complaints.read().decode(errors="replace"))
            raise NoEncoder(f"ffmpeg could not make it ({reason}): give it room on the disk, or leave the clip out with --only")


def source(path: Path) -> list[str]:
    """A recording that somebody names, as an input; `BadRecording` where no file lies there."""
    if not path.is_file():
        raise BadRecording(f"no recording {quoted(path, 200)} is there: name a file with sound or pictures")
    return ["-i", f"file:{path}"]


def _run(arguments: Sequence[str], data: bytes = b"") -> tuple[np.ndarray, str]:
    """The samples that ffmpeg puts out, if any, and what it says."""
    asked = [program(), "-hide_banner", "-nostats", *arguments]
    run = subprocess.run(asked, input=data, capture_output=True, check=False)
    return np.frombuffer(run.stdout, np.float32), run.stderr.decode(errors="replace")


def probed(path: Path) -> str:
    """What ffmpeg says of a recording: its length and its tracks."""
    return _run(source(path))[1]


def samples_of(path: Path) -> np.ndarray:
    """The sound of a recording; `BadRecording` where there is none."""
    samples, name = _run([*source(path), "-map", "0:a:0", "-t", str(LONGEST), *SOUND, "-"])[0], quoted(path.name, 80)
    if not len(samples):
        raise BadRecording(f"{name} has no sound in it: give a recording with a voice, such as a WAV or a phone's M4A")
    if len(samples) >= LONGEST * RATE:
        raise BadRecording(f"{name} is longer than {LONGEST // 60} minutes: cut it, or give one recording a beat")
    return samples


def filtered(samples: np.ndarray, filters: str) -> tuple[np.ndarray, str]:
    """The sound after ffmpeg's filters, and what these say."""
    changed, said = _run([*SOUND, "-i", "-", "-af", filters, *SOUND, "-"], samples.astype(np.float32).tobytes())
    if not len(changed):
        raise NoEncoder(f"ffmpeg could not change the sound ({_last_line(said)}): leave the voice out")
    return changed, said


def _last_line(text: str) -> str:
    lines = [line for line in text.splitlines() if line.strip()]
    return quoted(lines[-1].strip(), 160) if lines else "it said nothing"
