"""The clip of a story: every frame drawn and piped straight into the encoder, on both cores, a beat at a time."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass, replace
from functools import cache
from itertools import chain, islice
from multiprocessing import get_context
from multiprocessing.shared_memory import SharedMemory
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import numpy as np

from oddswap.errors import NoEncoder
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.search.kept_files import key_of
from oddswap.showing.ink.notes import Note
from oddswap.story import ffmpeg
from oddswap.story.footage import Footage, overlay
from oddswap.story.joining import join_pieces, outline_of
from oddswap.story.large_words import CLEAR, COVER, SQUARE, TALL, WIDE, Format
from oddswap.story.stage import Stage
from oddswap.story.telling.timeline import Timeline
from oddswap.values.position import Arrangement
from oddswap.words.products.stories import LEFT_OUT

if TYPE_CHECKING:
    from IPython.display import Image

Progress = Callable[[int, int], None]
AHEAD = 12
"""So many frames are drawn ahead of the encoder at most; memory does not grow with the length of a clip."""
H264 = "-c:v libx264 -preset veryfast -crf 18 -pix_fmt yuv420p".split()
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


def draw_frames(film: Film, workers: int = 2, beats: Collection[int] | None = None) -> Iterator[memoryview]:
    """Every frame of a film in order, or of some of its beats, as RGBA bytes.

    Turns on their way are drawn by ``workers`` processes at once.
    """
    width, height = film.size
    stage, bytes_each = film.stage(), width * height * 4
    with ExitStack() as stack:
        memory = SharedMemory(create=True, size=AHEAD * bytes_each)
        stack.callback(memory.unlink)
        stack.callback(memory.close)
        pool = stack.enter_context(ProcessPoolExecutor(workers, get_context("spawn"), _begin, (_portable(film), memory.name)))
        for number, shot in enumerate(film.times.shots):
            if beats is not None and shot.beat not in beats:
                continue
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
    film: Film,
    path: Path,
    progress: Progress | None = None,
    sound: np.ndarray | None = None,
    footage: Sequence[Footage] = (),
    kept: Path | None = None,
) -> Path:
    """An MP4 (H.264, yuv420p), with samples of ``sound``; see `join_pieces`.

    Its beats are encoded one by one, and lie in the folder ``kept`` afterwards; one that lies there already is not made again.
    """
    ffmpeg.check_encoder("libx264")
    times, stage = film.times, film.stage()
    with TemporaryDirectory(dir=path.parent, prefix=".making-") as made:
        spans = {number: times.span(number) for number in range(len(times.story.beats))}
        pieces = {number: (kept or Path(made)) / _name(film, stage, number, footage) for number in spans}
        lacking = [number for number, piece in pieces.items() if not piece.is_file()]
        with closing(draw_frames(film, beats=lacking)) as drawn:
            pictures = zip(chain(*(range(*spans[number]) for number in lacking)), drawn, strict=True)
            pictures = _captioned(film, pictures) if film.burnt else pictures
            for number in lacking:
                first, last = spans[number]
                shown = [one for one in footage if one.beat == number + 1]
                hands, links = overlay(shown, film.layout, film.size, times.frames_a_second, last - first)
                how = [*hands, "-filter_complex", ";".join(links), "-map", "[v]", *H264, Path(made) / "beat.mp4"]
                _encode(film, islice(pictures, last - first), how, progress)
                pieces[number].parent.mkdir(exist_ok=True)
                os.replace(Path(made) / "beat.mp4", pieces[number])
        lengths = (last - first for first, last in spans.values())
        join_pieces([*zip(pieces.values(), lengths, strict=True)], outline_of([times]), path, sound)
        for old in {*pieces[0].parent.glob(f"{film.layout}_{film.height}_*.mp4")} - {*pieces.values()}:
            old.unlink()
    return path


def _name(film: Film, stage: Stage, number: int, footage: Sequence[Footage]) -> str:
    """A name for the file of a beat, by all that decides how it looks."""
    times = film.times.only({number})
    story, beat, names = times.story, times.story.beats[number], times.names[number]
    shots = [(replace(shot, beat=0, made=0, shown=None, turns=()), [turn.name for turn in shot.turns]) for shot in times.shots]
    shown = [shot.shown if isinstance(shot.shown, Arrangement) else story.position for shot in times.shots]
    laid = [(one.start, one.path, one.path.stat()) for one in footage if one.beat == number + 1]
    colours = story.colours, sorted((film.colours or {}).items())
    clip = times.frames_a_second, stage.reach.tolist(), story.culprit, colours
    digest = key_of(clip, story.position, beat, names, film.burnt and times.cues, shots, shown, laid)
    return f"{film.layout}_{film.height}_{digest.hex()[:32]}.mp4"


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
        _encode(film, enumerate(draw_frames(film)), [*how, target], progress)
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


def _encode(film: Film, pictures: Iterable[tuple[int, memoryview]], arguments: list, progress: Progress | None) -> None:
    """Give ffmpeg the numbered pictures."""
    with ffmpeg.encoding(film.size, film.times.frames_a_second, arguments) as take:
        for frame, picture in pictures:
            take(picture)
            if progress and frame % film.times.frames_a_second == 0:
                progress(frame, film.times.frames)


def _captioned(film: Film, pictures: Iterable[tuple[int, memoryview]]) -> Iterator[tuple[int, memoryview]]:
    """The numbered pictures with what is said then on their foot."""
    stage, (width, height) = film.stage(), film.size
    strips = cache(lambda cue: stage.caption(cue).copy())
    for frame, picture in pictures:
        cue = next((cue for cue in film.times.cues if cue.first <= frame < cue.last), None)
        if cue is not None:
            whole, strip = np.frombuffer(picture, dtype=np.uint8).reshape(height, width, 4).copy(), strips(cue)
            whole[height - len(strip) :, : strip.shape[1]] = strip
            picture = memoryview(whole).cast("B")
        yield frame, picture
