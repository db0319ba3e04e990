"""What the files of a story are, and of several that make an episode; and what makes each: texts, papers, stills, clips."""

import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, partial
from itertools import chain
from pathlib import Path

import numpy as np

from oddswap.errors import NoEncoder, quoted
from oddswap.reasoning.answers import Answer
from oddswap.showing.ink.canvas import save, write_pdf
from oddswap.showing.ink.stand_ins import stand_ins
from oddswap.showing.pages.report import reply_text
from oddswap.showing.pictures.prints import draw_prints
from oddswap.showing.pictures.strip import draw_strip, draw_turns
from oddswap.story.clip import LAYOUTS, Film, write_clip, write_loop
from oddswap.story.ffmpeg import RATE
from oddswap.story.footage import Footage
from oddswap.story.handout import PICTURED, handout_pages
from oddswap.story.joining import join_pieces, outline_of
from oddswap.story.pacing import paced
from oddswap.story.script import script_markdown
from oddswap.story.sound import soundtrack
from oddswap.story.stage import Stage
from oddswap.story.telling.beats import Story
from oddswap.story.telling.captions import as_srt, as_webvtt
from oddswap.story.telling.timeline import Timeline, timeline
from oddswap.story.transcript import described, transcript_page
from oddswap.story.voice import Spoken, Voice
from oddswap.words.table import Reader

SORTS = ("clip", "captions", "script", "prompter", "handout", "reply", "stills")
CLIP_HEIGHT, LOOP_HEIGHT, LOOP_RATE = 1080, 480, 15
CLIPS = {"wide": CLIP_HEIGHT, "tall": CLIP_HEIGHT * 16 // 9, "square": CLIP_HEIGHT}
"""The layouts of the clip, and how many pixels high each is."""
PREVIEW_HEIGHT, PREVIEW_RATE = 360, 10
THUMBNAIL = 1280
PREVIEW = "preview"
"""The sort that is made only where it is asked for: the wide clip, small and coarse."""


@dataclass(frozen=True)
class Wishes:
    """How the files are wanted: frames a second, pixels of a still, a transparent ground, captions drawn in, the paper.

    Where nobody speaks, ``clicks`` may be heard where turns end; ``footage`` is shown in beats.
    """

    rate: int = 30
    width: int = 1920
    transparent: bool = False
    burnt: bool = False
    paper: str = "A4"
    voice: Voice = Voice()
    clicks: bool = False
    footage: tuple[Footage, ...] = ()


Maker = Callable[[Path, Callable[[int, int], None]], object]


@dataclass(frozen=True, eq=False)
class Told:
    """A story of an answer to whom it is told, at the pace of a voice if there is one.

    ``kept`` is the folder in which the beats of its clips lie, and ``digest`` tells it from others.
    """

    answer: Answer
    reader: Reader
    story: Story
    wishes: Wishes
    voices: Mapping[int, Spoken]
    kept: Path
    digest: str

    @property
    def colours(self) -> Mapping[str, str]:
        return stand_ins(self.reader.colours)

    def times(self, rate: int) -> Timeline:
        times = timeline(self.story, self.answer, rate)
        return paced(times, self.voices) if self.voices else times

    def clip(self, times: Timeline, layout: str, height: int, sound: Callable[[], np.ndarray | None]) -> Maker:
        film = Film(self.answer, times, layout, height, self.colours, self.wishes.burnt)
        return lambda path, step: write_clip(film, path, step, sound(), self.wishes.footage, self.kept)

    def sound(self, times: Timeline) -> np.ndarray | None:
        return soundtrack(times, self.voices, self.wishes.clicks)


def papers(told: Mapping[Timeline, Told], only: Collection[str]) -> Iterator[tuple[str, Maker]]:
    """The texts and the handout of stories told one after another."""
    whole, answers = outline_of([*told]), {times: one.answer for times, one in told.items()}
    rate = whole.frames_a_second
    pages = (handout_pages(one.answer, times, one.colours, one.wishes.paper) for times, one in told.items())
    files = {
        "captions": {
            "captions.vtt": lambda: as_webvtt(whole.cues, rate),
            "captions.srt": lambda: as_srt(whole.cues, rate),
            "descriptions.vtt": lambda: as_webvtt(chain(*(cue for t, a in answers.items() for cue in described(a, t))), rate),
            "transcript.html": lambda: transcript_page(answers, whole.title),
        },
        "script": {"script.md": lambda: "\n".join(map(script_markdown, told)), "chapters.txt": lambda: whole.chapters_text},
    }
    yield from written(files, only)
    if "handout" in only:
        yield "handout.pdf", lambda path, _: write_pdf(chain.from_iterable(pages), path)


def written(texts: Mapping[str, Mapping[str, Callable[[], str]]], only: Collection[str]) -> Iterator[tuple[str, Maker]]:
    """The files of some sorts that are nothing but text."""
    for name, text in chain(*(files.items() for sort, files in texts.items() if sort in only)):
        yield name, lambda path, _, text=text: path.write_text(text(), encoding="utf-8")


def story_files(
    answer: Answer, reader: Reader, page: Callable[[], str], told: Told, only: set[str]
) -> Iterator[tuple[str, Maker]]:
    """Every file's name and what makes it, quick ones first. The reply is of the ``answer`` to the ``reader``."""
    times = told.times(told.wishes.rate)
    yield from papers({times: told}, only)
    shown, way = {"colours": stand_ins(reader.colours), "holding": reader.holding}, answer.easiest
    pictures = {"seen": partial(draw_prints, answer.puzzle, answer.appearance, **shown)}
    if not answer.turning.alphabet.is_box and way and way.length:
        if way.length <= PICTURED:
            pictures["strip"] = partial(draw_strip, answer.turning, answer.diagnosis.explanation, way.turns, **shown)
        elif answer.turning.steady:
            pictures["turns"] = partial(draw_turns, answer.turning, way.turns, colours=shown["colours"])
    names = dict(zip(pictures, ("reply.png", "reply_turns.png"), strict=False))
    reply = {"reply.md": lambda: reply_text(answer, reader, names)}
    yield from written({"prompter": {"prompter.html": page}, "reply": reply}, only)
    for what, draw in pictures.items() if "reply" in only else ():
        yield names[what], lambda path, _, draw=draw: save(draw(), path, width=1200)
    if "stills" in only:
        yield from _stills(told, times)
    if PREVIEW in only:
        coarse = told.times(PREVIEW_RATE)
        yield "preview.mp4", told.clip(coarse, "wide", PREVIEW_HEIGHT, partial(told.sound, coarse))
    if "clip" in only:
        yield from _clips(told, times)


def episode_files(letters: Mapping[Told, Path], only: set[str]) -> Iterator[tuple[str, Maker]]:
    """Every file's name and what makes it, of letters told one after another; their own files lie in these folders."""
    told = one_after_another(letters, next(iter(letters)).wishes.rate)
    yield from papers(told, only)
    if PREVIEW in only:
        yield "preview.mp4", partial(_joined, letters, PREVIEW_RATE)
    if "clip" in only:
        yield from ((f"clip_{layout}.mp4", partial(_joined, letters, next(iter(letters)).wishes.rate)) for layout in CLIPS)


def one_after_another(letters: Iterable[Told], rate: int) -> dict[Timeline, Told]:
    """Each letter's timeline, from where the last one ends."""
    found, frames = {}, 0
    for one in letters:
        times = one.times(rate).moved(frames)
        found[times], frames = one, times.frames
    return found


def _joined(letters: Mapping[Told, Path], rate: int, path: Path, _) -> Path:
    """The letters' clips of that name as one; `NoEncoder` where one of them is not there."""
    alone = {one: one.times(rate) for one in letters}
    pieces = [(letters[one] / path.name, times.frames) for one, times in alone.items()]
    for piece, _ in pieces:
        if not piece.is_file():
            raise NoEncoder(f"{quoted(piece, 200)} is not there to be joined: make that first")
    sounds = [one.sound(times) for one, times in alone.items()]
    still = (np.zeros(round(frames * RATE / rate), np.float32) for _, frames in pieces)
    laid = [none if sound is None else sound for sound, none in zip(sounds, still, strict=True)]
    outline = outline_of([*one_after_another(letters, rate)])
    return join_pieces(pieces, outline, path, None if all(sound is None for sound in sounds) else np.concatenate(laid))


def _stills(told: Told, times: Timeline) -> Iterator[tuple[str, Maker]]:
    layouts = (LAYOUTS[name] for name in ("wide", "clear", "cover"))
    stage, alone, cover = (Stage(told.answer, times, layout, told.colours, CLIP_HEIGHT) for layout in layouts)
    for number, beat in enumerate(times.story.beats):
        shot = next(shot for shot in reversed(times.shots) if shot.beat == number)
        name = f"stills/{number + 1}_{re.sub(r'[^a-z0-9]+', '_', beat.chapter.lower()).strip('_')}"
        for kind in ("png", "svg"):
            yield f"{name}.{kind}", lambda path, _, shot=shot: _still(stage, shot, path, told.wishes)
    first = times.shots[0]
    sight = next((shot for shot in times.shots if shot.marked), first)
    yield "thumbnail.png", lambda path, _: save(cover.figure(sight, sight.last - 1), path, width=THUMBNAIL)
    for kind in ("png", "svg"):
        yield f"stills/puzzle.{kind}", lambda path, _: _still(alone, first, path, told.wishes)


def _still(stage: Stage, shot, path: Path, wishes: Wishes) -> Path:
    width = wishes.width if path.suffix == ".png" else None
    return save(stage.figure(shot, shot.last - 1), path, width=width, transparent=wishes.transparent)


def _clips(told: Told, times: Timeline) -> Iterator[tuple[str, Maker]]:
    sound = cache(partial(told.sound, times))
    for layout, height in CLIPS.items():
        yield f"clip_{layout}.mp4", told.clip(times, layout, height, sound)
    turned = {number for number, beat in enumerate(times.story.beats) if beat.moves}
    if turned:
        part = timeline(told.story, told.answer, LOOP_RATE).only(turned)
        loop = Film(told.answer, part, "clear", LOOP_HEIGHT, told.colours)
        for name in ("way_out.gif", "way_out.webm"):
            yield name, lambda path, step: write_loop(loop, path, step)
