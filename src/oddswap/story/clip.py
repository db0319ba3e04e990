"""The clip of a story: every frame drawn and piped straight into the encoder, on both cores, a beat at a time."""

from __future__ import annotations

import os
import signal
from collections import deque
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass, replace
from itertools import chain, islice, repeat
from multiprocessing import get_context
from multiprocessing.reduction import ForkingPickler
from multiprocessing.shared_memory import SharedMemory
from pathlib import Path
from tempfile import TemporaryDirectory
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np
from PIL.Image import fromarray

from oddswap.errors import NoEncoder
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.search.kept_files import key_of
from oddswap.showing.ink.widgets import Note
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
AHEAD = 6
"""So many frames are drawn ahead of the encoder at most; memory does not grow with the length of a clip."""
PIXELS = {"rgba": 8, "yuv420p": 3}
"""Half bytes that a pixel takes."""
LIGHTS, TINTS = [round(16 + value * 219 / 255) for value in range(256)], [round(16 + value * 224 / 255) for value in range(256)]
H264 = "-c:v libx264 -preset veryfast -crf 18 -pix_fmt yuv420p -threads 1 -x264-params rc-lookahead=3:bframes=1".split()
"""One thread and few frames ahead: 170 MB instead of 420, and drawing takes longer all the same."""
LAYOUTS = {"wide": WIDE, "tall": TALL, "square": SQUARE, "cover": COVER, "clear": CLEAR}

ForkingPickler.register(MappingProxyType, lambda view: (dict, (dict(view),)))
"""Colours, and slips with their colours, go to the processes that draw."""


@dataclass(frozen=True)
class Film:
    """What to draw: a story laid out in time, in which layout (a key of ``LAYOUTS``), how many pixels high, in whose colours.

    >>> import oddswap
    >>> from oddswap import draw
    >>> found = oddswap.answer("cube:2", "R U")
    >>> times = oddswap.timeline(oddswap.story_of(found), found)
    >>> draw.Film(found, times, "wide", 360).size
    (640, 360)
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


def draw_frames(film: Film, beats: Collection[int] | None = None, pixels: str = "rgba", workers: int = 2) -> Iterator[memoryview]:
    """Every frame of a film in order, or of some of its beats, as bytes: RGBA, or ``yuv420p`` in three planes.

    They are drawn by ``workers`` processes at once; what stands still is drawn once.
    """
    width, height = film.size
    size = width * height * PIXELS[pixels] // 2
    with ExitStack() as stack:
        memory = SharedMemory(create=True, size=AHEAD * size)
        stack.callback(memory.unlink)
        stack.callback(memory.close)
        pool = stack.enter_context(ProcessPoolExecutor(workers, get_context("spawn"), _begin, (film, pixels, memory.name)))
        drawn: deque[tuple[int, int, Future]] = deque()
        for number, job in enumerate(chain(_still_pictures(film, beats), [None] * AHEAD)):
            if len(drawn) == AHEAD or job is None and drawn:
                place, stands, picture = drawn.popleft()
                picture.result()
                with memory.buf[place * size : (place + 1) * size] as view:
                    yield from repeat(view, stands)
            if job is not None:
                shot, frame, stands = job
                with deaf_to_ctrl_c():
                    drawn.append((number % AHEAD, stands, pool.submit(_draw, shot, frame, number % AHEAD)))


def _still_pictures(film: Film, beats: Collection[int] | None) -> Iterator[tuple[int, int, int]]:
    """Each picture of a film: the number of its shot, its frame, and for how many frames it stands."""
    cuts = {frame for cue in film.times.cues for frame in (cue.first, cue.last)} if film.burnt else ()
    for number, shot in enumerate(film.times.shots):
        if beats is None or shot.beat in beats:
            starts = [frame for frame in range(shot.first, shot.last) if shot.animated or frame == shot.first or frame in cuts]
            yield from ((number, one, end - one) for one, end in zip(starts, [*starts[1:], shot.last], strict=True))


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


_at_work: dict = {}
"""What a worker process holds: its film, its stage, and the memory that it shares with the encoder's process."""


def _begin(film: Film, pixels: str, memory: str) -> None:
    shared = SharedMemory(name=memory)
    width, height = film.size
    _at_work.update(film=film, stage=film.stage(), pixels=pixels, memory=shared)
    _at_work["places"] = np.ndarray((AHEAD, width * height * PIXELS[pixels] // 2), dtype=np.uint8, buffer=shared.buf)


def _draw(number: int, frame: int, place: int) -> None:
    film: Film = _at_work["film"]
    stage: Stage = _at_work["stage"]
    picture = stage.picture(film.times.shots[number], frame)
    cue = next((cue for cue in film.times.cues if cue.first <= frame < cue.last), None) if film.burnt else None
    if cue is not None:
        strip = stage.caption(cue)
        picture[len(picture) - len(strip) :, : strip.shape[1]] = strip
    _at_work["places"][place] = picture.ravel() if _at_work["pixels"] == "rgba" else as_planes(picture)


def as_planes(picture: np.ndarray) -> np.ndarray:
    """An RGBA picture (height, width, 4) as the planes of yuv420p, in the range of broadcast (ITU-R BT.601)."""
    light, *tints = fromarray(picture, "RGBX").convert("YCbCr").split()
    planes = [light.point(LIGHTS), *(tint.reduce(2).point(TINTS) for tint in tints)]
    return np.concatenate([np.asarray(plane).ravel() for plane in planes])


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
        pieces = {number: (kept or Path(made)) / name_of_beat(film, stage, number, footage) for number in spans}
        lacking = [number for number, piece in pieces.items() if not piece.is_file()]
        with closing(draw_frames(film, lacking, "yuv420p")) as drawn:
            for number in lacking:
                first, last = spans[number]
                shown = [one for one in footage if one.beat == number + 1]
                hands, links = overlay(shown, film.layout, film.size, times.frames_a_second, last - first)
                how = [*hands, "-filter_complex", ";".join(links), "-map", "[v]", *H264, Path(made) / "beat.mp4"]
                _encode(film, enumerate(islice(drawn, last - first), first), how, progress, "yuv420p")
                pieces[number].parent.mkdir(exist_ok=True)
                os.replace(Path(made) / "beat.mp4", pieces[number])
        lengths = (last - first for first, last in spans.values())
        join_pieces([*zip(pieces.values(), lengths, strict=True)], outline_of([times]), path, sound)
        for old in {*pieces[0].parent.glob(f"{film.layout}_{film.height}_*.mp4")} - {*pieces.values()}:
            old.unlink()
    return path


def name_of_beat(film: Film, stage: Stage, number: int, footage: Sequence[Footage] = ()) -> str:
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


def _encode(
    film: Film, pictures: Iterable[tuple[int, memoryview]], arguments: list, tell: Progress | None, pixels: str = "rgba"
) -> None:
    """Give ffmpeg the numbered pictures."""
    with ffmpeg.encoding(film.size, film.times.frames_a_second, arguments, pixels) as take:
        for frame, picture in pictures:
            take(picture)
            if tell and frame % film.times.frames_a_second == 0:
                tell(frame, film.times.frames)
