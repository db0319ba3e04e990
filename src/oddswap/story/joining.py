"""Pieces of a clip, joined as they are into one file, with chapters, captions and sound over the whole."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np

from oddswap.story import ffmpeg
from oddswap.story.telling.captions import Cue, as_srt, clock
from oddswap.story.telling.timeline import Timeline
from oddswap.words.products.stories import episode_title


@dataclass(frozen=True)
class Outline:
    """What is said and when in a whole clip: ``chapters`` are names with the frames in which they begin."""

    title: str
    frames_a_second: int
    frames: int
    chapters: tuple[tuple[str, int], ...]
    cues: tuple[Cue, ...]

    @property
    def chapters_text(self) -> str:
        """The chapters as a list of times, the way descriptions of clips have them (common practice)."""
        return "".join(f"{clock(start, self.frames_a_second)} {name}\n" for name, start in self.chapters)


def outline_of(stories: Sequence[Timeline]) -> Outline:
    """The outline of stories told one after another, with a chapter for each; of one story, with a chapter for each beat."""
    (first, *more), last = stories, stories[-1]
    beats = zip((beat.chapter for beat in first.story.beats), first.starts, strict=True)
    chapters = ((times.story.title, times.starts[0]) for times in stories) if more else beats
    title, cues = episode_title(len(stories)) if more else first.story.title, chain(*(times.cues for times in stories))
    return Outline(title, first.frames_a_second, last.frames, tuple(chapters), tuple(cues))


def join_pieces(pieces: Sequence[tuple[Path, int]], outline: Outline, path: Path, sound: np.ndarray | None = None) -> Path:
    """An MP4 of pieces that were encoded alike, each so many frames long, with captions as a track that can be switched on.

    The file appears complete or not at all. Nothing but chapters and a title is said in it of what it was made from. `NoEncoder`
    where it cannot be made.
    """
    rate = outline.frames_a_second
    with TemporaryDirectory(dir=path.parent, prefix=".making-") as made:
        folder = Path(made)
        quoted = ((str(piece.resolve()).replace("'", r"'\''"), frames) for piece, frames in pieces)  # as ffmpeg reads paths
        lines = (f"file '{piece}'\nduration {frames / rate:.6f}\n" for piece, frames in quoted)
        (folder / "pieces.txt").write_text("ffconcat version 1.0\n" + "".join(lines), encoding="utf-8")
        (folder / "captions.srt").write_text(as_srt(outline.cues, rate), encoding="utf-8")  # of others ffmpeg keeps its escapes
        (folder / "chapters.txt").write_text(_chapters(outline), encoding="utf-8")
        texts = ["-i", folder / "captions.srt", "-i", folder / "chapters.txt"]
        read = [*"-f concat -safe 0 -i".split(), folder / "pieces.txt", *texts]
        tracks = "-map 0:v -c:v copy -map 1:s -map_metadata 2 -map_chapters 2 -map_metadata:s -1".split()
        if sound is not None:
            sound.tofile(folder / "sound.raw")
            read += [*ffmpeg.SOUND, "-i", folder / "sound.raw"]
            tracks += "-map 3:a -c:a aac -b:a 192k".split()
        words = "-c:s mov_text -metadata:s:s:0 language=eng -disposition:s:0 0 -movflags +faststart".split()
        ffmpeg.run([*read, *tracks, *words, folder / "clip.mp4"])
        os.replace(folder / "clip.mp4", path)
    return path


def _chapters(outline: Outline) -> str:
    """The chapters in ffmpeg's plain format for them."""
    lines = [";FFMETADATA1", f"title={_plain(outline.title)}"]
    ends = (*(start for _, start in outline.chapters[1:]), outline.frames)
    for (name, start), end in zip(outline.chapters, ends, strict=True):
        lines += ["[CHAPTER]", f"TIMEBASE=1/{outline.frames_a_second}", f"START={start}", f"END={end}", f"title={_plain(name)}"]
    return "\n".join(lines) + "\n"


def _plain(text: str) -> str:
    return "".join(f"\\{letter}" if letter in "=;#\\\n" else letter for letter in text)
