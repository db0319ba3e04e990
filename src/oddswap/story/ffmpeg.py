"""The encoder: raw pictures in, a clip out; found at run time, with one clear sentence where it is missing."""

import subprocess
from collections.abc import Sequence
from contextlib import contextmanager, suppress
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryFile

from oddswap.errors import NoEncoder, quoted


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
def encoding(size: tuple[int, int], frames_a_second: int, arguments: Sequence[str | Path]):
    """A function that takes one picture after the other, RGBA bytes of ``size`` (width, height)."""
    width, height = size
    raw = ["-f", "rawvideo", "-pix_fmt", "rgba", "-s", f"{width}x{height}", "-r", str(frames_a_second), "-i", "-"]
    with TemporaryFile() as complaints:
        process = subprocess.Popen(
            [program(), "-hide_banner", "-loglevel", "error", "-y", *raw, *map(str, arguments)],
            stdin=subprocess.PIPE,
            stderr=complaints,
        )
        try:
            yield process.stdin.write
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


def _last_line(text: str) -> str:
    lines = [line for line in text.splitlines() if line.strip()]
    return quoted(lines[-1].strip(), 160) if lines else "it said nothing"
