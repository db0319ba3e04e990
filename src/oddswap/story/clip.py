"""The clip of a story: every frame drawn and piped straight into the encoder, on both cores; captions as a track of their own."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from multiprocessing import get_context
from multiprocessing.shared_memory import SharedMemory
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import numpy as np

from oddswap.errors import NoEncoder
from oddswap.reasoning.answers import Answer
from oddswap.showing.ink.notes import Note
from oddswap.story import ffmpeg
from oddswap.story.footage import Footage, overlay
from oddswap.story.large_words import CLEAR, COVER, SQUARE, TALL, WIDE, Format
from oddswap.story.stage import Stage
from oddswap.story.telling.captions import as_webvtt
from oddswap.story.telling.timeline import Timeline
from oddswap.words.products.stories import LEFT_OUT

if TYPE_CHECKING:
    from IPython.display import Image

Progress = Callable[[int, int], None]
AHEAD = 12
"""So many frames are drawn ahead of the encoder at most; memory does not grow with the length of a clip."""
LAYOUTS = {"wide": WIDE, "tall": TALL, "square": SQUARE, "cover": COVER, "clear": CLEAR}


@dataclass(frozen=True)
class Film:
    """What to draw: a story laid out in time, in which layout (a key of ``LAYOUTS``), how many pixels high, in whose colours.

    >>> import oddswap
    >>> from oddswap import draw
    >>> found = oddswap.answer("cube:2", "R U")
    >>> times = oddswap.timeline(oddswap.story_of(found), found)
    >>> figure = draw.draw_storyboard(draw.Film(found, times, "wide", 360), [1.0, 8.0])
    """

    answer: Answer
    times: Timeline
    layout: str
    height: int
    colours: Mapping[str, str] | None = None
    burnt: bool = False
    """Whether captions are drawn into the picture."""

    @property
    def size(self) -> tuple[int, int]:
        """Width and height in pixels, both even."""
        layout: Format = LAYOUTS[self.layout]
        return round(self.height * layout.width / layout.height / 2) * 2, self.height

    def stage(self) -> Stage:
        return Stage(self.answer, self.times, LAYOUTS[self.layout], self.colours, self.height)


def draw_frames(film: Film, workers: int = 2) -> Iterator[memoryview]:
    """Every frame of a film in order, as RGBA bytes. Turns on their way are drawn by ``workers`` processes at once."""
    width, height = film.size
    stage, bytes_each = film.stage(), width * height * 4
    with ExitStack() as stack:
        memory = SharedMemory(create=True, size=AHEAD * bytes_each)
        stack.callback(memory.unlink)
        stack.callback(memory.close)
        pool = stack.enter_context(ProcessPoolExecutor(workers, get_context("spawn"), _begin, (_portable(film), memory.name)))
        for number, shot in enumerate(film.times.shots):
            if not shot.animated:
                picture = memoryview(np.ascontiguousarray(stage.picture(shot, shot.first))).cast("B")
                for _ in range(shot.first, shot.last):
                    yield picture
                continue
            for start in range(shot.first, shot.last, AHEAD):
                frames = range(start, min(start + AHEAD, shot.last))
                share = -(-len(frames) // workers)
                jobs = [(number, frames[i : i + share], i) for i in range(0, len(frames), share)]
                with deaf_to_ctrl_c():
                    drawn = pool.map(_draw, jobs)
                list(drawn)
                for place in range(len(frames)):
                    with memory.buf[place * bytes_each : (place + 1) * bytes_each] as view:
                        yield view


@contextmanager
def deaf_to_ctrl_c() -> Iterator[None]:
    """Processes that start meanwhile hear no Ctrl-C: whoever started them does, and ends them."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _portable(film: Film) -> Film:
    """The same, ready to be sent to another process."""
    return replace(film, colours=None if film.colours is None else dict(film.colours))


_at_work: dict = {}
"""What a worker process holds: its stage and the memory that it shares with the encoder's process."""


def _begin(film: Film, memory: str) -> None:
    shared = SharedMemory(name=memory)
    width, height = film.size
    _at_work["stage"], _at_work["memory"] = film.stage(), shared
    _at_work["pictures"] = np.ndarray((AHEAD, height, width, 4), dtype=np.uint8, buffer=shared.buf)


def _draw(job: tuple[int, range, int]) -> None:
    number, frames, place = job
    stage: Stage = _at_work["stage"]
    shot = stage.times.shots[number]
    for i, frame in enumerate(frames):
        _at_work["pictures"][place + i] = stage.picture(shot, frame)


def write_clip(
    film: Film, path: Path, progress: Progress | None = None, sound: np.ndarray | None = None, footage: Sequence[Footage] = ()
) -> Path:
    """An MP4 (H.264, yuv420p) with chapters, with captions as a track that can be switched on, and with samples of ``sound``.

    The file appears complete or not at all. Nothing but chapters and a title is said in it of what it was made from. `NoEncoder`
    where there is no ffmpeg or no H.264.
    """
    ffmpeg.check_encoder("libx264")
    with TemporaryDirectory(dir=path.parent, prefix=".making-") as made:
        folder = Path(made)
        (folder / "captions.vtt").write_text(as_webvtt(film.times.cues, film.times.frames_a_second), encoding="utf-8")
        (folder / "chapters.txt").write_text(_chapters(film.times), encoding="utf-8")
        read = ["-i", folder / "captions.vtt", "-i", folder / "chapters.txt"]
        tracks = ["-map", "1:s", "-map_metadata", "2", "-map_chapters", "2", "-map_metadata:s", "-1"]
        if sound is not None:
            sound.tofile(folder / "sound.raw")
            read += [*ffmpeg.SOUND, "-i", folder / "sound.raw"]
            tracks += ["-map", "3:a", "-c:a", "aac", "-b:a", "192k"]
        hands, links = overlay(footage, film.times, film.layout, film.size, 3 + (sound is not None))
        video = ["-filter_complex", ";".join(links), "-map", "[v]"]
        video += ["-c:v", "libx264", "-preset", "veryfast", "-crf", "18", "-pix_fmt", "yuv420p"]
        words = ["-c:s", "mov_text", "-metadata:s:s:0", "language=eng", "-disposition:s:0", "0", "-movflags", "+faststart"]
        _encode(film, [*read, *hands, *video, *tracks, *words, folder / "clip.mp4"], progress)
        os.replace(folder / "clip.mp4", path)
    return path


def write_loop(film: Film, path: Path, progress: Progress | None = None) -> Path:
    """A GIF, a looping PNG or a WebM by the path's suffix, of the whole film; a clear layout has a transparent ground."""
    clear = film.layout == "clear"
    with TemporaryDirectory(dir=path.parent, prefix=".making-") as made:
        target = Path(made) / path.name
        if path.suffix in (".gif", ".png"):
            palette = "palettegen=reserve_transparent=1" if clear else "palettegen"
            how = ["-filter_complex", f"split[a][b];[a]{palette}[p];[b][p]paletteuse=alpha_threshold=128"]
            how += ["-f", "apng", "-plays", "0"] if path.suffix == ".png" else []
        else:
            ffmpeg.check_encoder("libvpx-vp9")
            how = ["-c:v", "libvpx-vp9", "-crf", "30", "-b:v", "0", "-deadline", "realtime", "-cpu-used", "6"]
            how += ["-pix_fmt", "yuva420p" if clear else "yuv420p"]
        _encode(film, [*how, target], progress)
        os.replace(target, path)
    return path


def loop_of(film: Film) -> Image | Note:
    """A film as a looping picture for a notebook; where it cannot be encoded, the sentence that says what is missing.

    >>> import oddswap
    >>> from oddswap import draw
    >>> found = oddswap.answer("cube:2", "R U")
    >>> times = oddswap.timeline(oddswap.story_of(found), found, 8)
    >>> loop = draw.loop_of(draw.Film(found, times.only({0}), "wide", 90))
    """
    from IPython.display import Image

    with TemporaryDirectory() as folder:
        try:
            return Image(write_loop(film, Path(folder) / "loop.png").read_bytes())
        except NoEncoder as missing:
            return Note(LEFT_OUT.format(missing))


def _encode(film: Film, arguments: list, progress: Progress | None) -> None:
    times = film.times
    with ffmpeg.encoding(film.size, times.frames_a_second, arguments) as take:
        captioned = _captioned(film) if film.burnt else lambda frame, picture: picture
        for frame, picture in enumerate(draw_frames(film)):
            take(captioned(frame, picture))
            if progress and frame % times.frames_a_second == 0:
                progress(frame, times.frames)


def _captioned(film: Film) -> Callable[[int, memoryview], memoryview]:
    """What lays the cue of a frame over its picture."""
    stage, (width, height) = film.stage(), film.size
    strips = {cue: stage.caption(cue).copy() for cue in film.times.cues}

    def over(frame: int, picture: memoryview) -> memoryview:
        for cue, strip in strips.items():
            if cue.first <= frame < cue.last:
                whole = np.frombuffer(picture, dtype=np.uint8).reshape(height, width, 4).copy()
                lower = whole[height - len(strip) :, : strip.shape[1]]
                share = strip[..., 3:].astype(float) / 255
                lower[..., :3] = (strip[..., :3] * share + lower[..., :3] * (1 - share)).astype(np.uint8)
                return memoryview(whole).cast("B")
        return picture

    return over


def _chapters(times: Timeline) -> str:
    """The beats as chapters, in ffmpeg's plain format for them."""
    lines = [";FFMETADATA1", f"title={_plain(times.story.title)}"]
    for beat, start, end in zip(times.story.beats, times.starts, (*times.starts[1:], times.frames), strict=True):
        lines += ["[CHAPTER]", f"TIMEBASE=1/{times.frames_a_second}", f"START={start}", f"END={end}"]
        lines.append(f"title={_plain(beat.chapter)}")
    return "\n".join(lines) + "\n"


def _plain(text: str) -> str:
    return "".join(f"\\{letter}" if letter in "=;#\\\n" else letter for letter in text)
