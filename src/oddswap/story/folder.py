"""All the files of a story in one folder: what is missing or has changed is made, each file whole or not at all."""

import os
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, partial
from hashlib import sha256
from itertools import chain
from pathlib import Path

import numpy as np

from oddswap.describing.copies import OwnCopy
from oddswap.errors import NoEncoder
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.budget import Budget, Limit, started
from oddswap.showing.ink.canvas import save
from oddswap.showing.ink.stand_ins import stand_ins
from oddswap.showing.pages.output_folder import OutputFolder, open_folder
from oddswap.showing.pages.report import reply_text
from oddswap.showing.pictures.prints import draw_prints
from oddswap.story.clip import LAYOUTS, Film, write_clip, write_loop
from oddswap.story.footage import Footage, check_footage
from oddswap.story.handout import write_handout
from oddswap.story.pacing import paced
from oddswap.story.prompter import prompter_page
from oddswap.story.script import chapters_text, script_markdown
from oddswap.story.sound import soundtrack
from oddswap.story.stage import Stage
from oddswap.story.telling.beats import Story, story_of
from oddswap.story.telling.captions import as_srt, as_webvtt
from oddswap.story.telling.story_file import fitting, read_story, write_story
from oddswap.story.telling.timeline import Timeline, timeline
from oddswap.story.transcript import described, transcript_page
from oddswap.story.voice import Spoken, Voice, speech_of
from oddswap.words.reader import VISITOR, Reader, at_work

SORTS = ("clip", "captions", "script", "prompter", "handout", "reply", "stills")
STORY, FILMED = "story.toml", "filming.toml"
"""The story that goes to the visitor, and the same for whoever films their hands with a copy of their own."""
CLIP_HEIGHT, LOOP_HEIGHT, LOOP_RATE = 1080, 480, 15
CLIPS = {"wide": CLIP_HEIGHT, "tall": CLIP_HEIGHT * 16 // 9, "square": CLIP_HEIGHT}
"""The layouts of the clip, and how many pixels high each is."""
PREVIEW_HEIGHT, PREVIEW_RATE = 360, 10
THUMBNAIL = 1280
PREVIEW = "preview"
"""The sort that is made only where it is asked for: the wide clip, small and coarse."""

TEXTS = ".vtt", ".srt", ".md", ".txt", ".html"
"""The endings of files that nothing is drawn for: they take no time."""

LONG = Budget(600.0)
"""For a story where nobody says how long."""

Tell = Callable[[str, float], None]
"""Told which file is being made, and how far it is (0 to 1)."""


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


@dataclass(frozen=True)
class Made:
    """Files that were made now, files that were up to date, and what could not be made, each with a sentence."""

    written: tuple[Path, ...]
    kept: tuple[Path, ...]
    failed: tuple[str, ...]


Maker = Callable[[Path, Callable[[int, int], None]], object]


def write_story_files(
    answer: Answer,
    folder: Path,
    reader: Reader = VISITOR,
    only: Iterable[str] = SORTS,
    wishes: Wishes | None = None,
    tell: Tell | None = None,
    *,
    budget: Limit = None,
    force: bool = False,
) -> Made:
    """Make the files of an answer's story in a folder; a ``story.toml`` that lies there is told as it was edited.

    An explainer with a copy of their own has ``filming.toml`` beside it, told for their hands; the prompter shows that, and so
    does the clip where there is ``footage`` of them.

    ``force`` is as for an `OutputFolder`, and ``story.toml`` stays all the same. `BadStory` for a story that does not fit,
    `BadOption` for a folder that cannot be written. Where one file cannot be made the others are, and its sentence is in
    ``failed``. When the ``budget`` ends only text is still written: no picture is begun, and a clip that was begun is finished.
    """
    wishes, clock = wishes or Wishes(), started(budget or LONG)
    with open_folder(folder, force) as out:
        story = _story(answer, reader, out, STORY)
        own, hands = at_work(answer, reader)
        filmed = _story(own, hands, out, FILMED) if reader.mine != OwnCopy() else story
        page = partial(prompter_page, own, timeline(filmed, own, wishes.rate), hands)
        sent = [(write_story(one), sorted(who.colours.items()), who.holding) for one, who in ((story, reader), (filmed, hands))]
        digest = sha256(repr((sent, wishes, own.set_up)).encode()).hexdigest()
        written, kept, failed = [], [], []
        shown = (own, hands, filmed) if wishes.footage else (answer, reader, story)
        voices = speech_of(shown[2].beats, wishes.voice)
        check_footage(wishes.footage, len(shown[2].beats))
        for name, make in _files(answer, reader, page, _Telling(*shown, wishes, voices), set(only)):
            by, made = f"story: {name}", out.making / name
            if there := out.up_to_date(by, digest):
                kept.append(there)
                continue
            if clock.spent and made.suffix not in TEXTS:
                failed.append(f"{name} was not made, because the time ended: give more seconds, or leave files out with --only")
                continue
            step = (lambda done, whole, name=name: tell(name, done / whole)) if tell else (lambda done, whole: None)
            step(0, 1)
            try:
                made.parent.mkdir(exist_ok=True)
                make(made, step)
            except NoEncoder as error:
                failed.append(f"{name} was not made: {error}")
                continue
            written += out.lay(by, {name: made}, digest)
    return Made(tuple(written), tuple(kept), tuple(failed))


def _story(answer: Answer, reader: Reader, out: OutputFolder, name: str) -> Story:
    path, made = out.path / name, out.making / name
    if os.path.lexists(path):
        return fitting(read_story(path), answer)
    story = story_of(answer, reader=reader)
    made.write_text(write_story(story), encoding="utf-8")
    os.replace(made, path)
    return story


@dataclass(frozen=True, eq=False)
class _Telling:
    """A story of an answer to whom it is told, at the pace of a voice if there is one."""

    answer: Answer
    reader: Reader
    story: Story
    wishes: Wishes
    voices: Mapping[int, Spoken]

    @property
    def colours(self) -> Mapping[str, str]:
        return stand_ins(self.reader.colours)[0]

    def times(self, rate: int) -> Timeline:
        times = timeline(self.story, self.answer, rate)
        return paced(times, self.voices) if self.voices else times

    def clip(self, times: Timeline, layout: str, height: int, sound: Callable[[], np.ndarray | None]) -> Maker:
        film = Film(self.answer, times, layout, height, self.colours, self.wishes.burnt)
        return lambda path, step: write_clip(film, path, step, sound(), self.wishes.footage)


def _files(
    answer: Answer, reader: Reader, page: Callable[[], str], told: _Telling, only: set[str]
) -> Iterator[tuple[str, Maker]]:
    """Every file's name and what makes it, quick ones first. The reply is of the ``answer`` to the ``reader``."""
    rate = told.wishes.rate
    times = told.times(rate)
    plain = {
        "captions": {
            "captions.vtt": lambda: as_webvtt(times.cues, rate),
            "captions.srt": lambda: as_srt(times.cues, rate),
            "descriptions.vtt": lambda: as_webvtt(chain(*described(told.answer, times)), rate),
            "transcript.html": lambda: transcript_page(told.answer, times),
        },
        "script": {"script.md": lambda: script_markdown(times), "chapters.txt": lambda: chapters_text(times)},
        "prompter": {"prompter.html": page},
        "reply": {"reply.md": lambda: reply_text(answer, reader)},
    }
    for sort, texts in plain.items():
        if sort in only:
            for name, text in texts.items():
                yield name, lambda path, _, text=text: path.write_text(text(), encoding="utf-8")
    if "reply" in only:
        shown = {"colours": stand_ins(reader.colours)[0], "holding": reader.holding}
        yield "reply.png", lambda path, _: save(draw_prints(answer.puzzle, answer.appearance, **shown), path, width=1200)
    if "handout" in only:
        yield "handout.pdf", lambda path, _: write_handout(told.answer, times, path, told.colours, told.wishes.paper)
    if "stills" in only:
        yield from _stills(told, times)
    if PREVIEW in only:
        coarse = told.times(PREVIEW_RATE)
        sound = partial(soundtrack, coarse, told.voices, told.wishes.clicks)
        yield "preview.mp4", told.clip(coarse, "wide", PREVIEW_HEIGHT, sound)
    if "clip" in only:
        yield from _clips(told, times)


def _stills(told: _Telling, times: Timeline) -> Iterator[tuple[str, Maker]]:
    layouts = (LAYOUTS[name] for name in ("wide", "clear", "cover"))
    stage, alone, cover = (Stage(told.answer, times, layout, told.colours, CLIP_HEIGHT) for layout in layouts)
    for number, beat in enumerate(times.story.beats):
        shot = next(shot for shot in reversed(times.shots) if shot.beat == number)
        name = f"stills/{number + 1}_{re.sub(r'[^a-z0-9]+', '_', beat.chapter.lower()).strip('_')}"
        for kind in ("png", "svg"):
            yield f"{name}.{kind}", lambda path, _, shot=shot: _still(stage, shot, path, told.wishes)
    first = times.shots[0]
    sight = next((shot for shot in times.shots if shot.marked), first)
    yield "thumbnail.png", lambda path, _: save(cover.figure(sight, sight.first), path, width=THUMBNAIL)
    for kind in ("png", "svg"):
        yield f"stills/puzzle.{kind}", lambda path, _: _still(alone, first, path, told.wishes)


def _still(stage: Stage, shot, path: Path, wishes: Wishes) -> Path:
    width = wishes.width if path.suffix == ".png" else None
    return save(stage.figure(shot, shot.last - 1), path, width=width, transparent=wishes.transparent)


def _clips(told: _Telling, times: Timeline) -> Iterator[tuple[str, Maker]]:
    sound = cache(partial(soundtrack, times, told.voices, told.wishes.clicks))
    for layout, height in CLIPS.items():
        yield f"clip_{layout}.mp4", told.clip(times, layout, height, sound)
    turned = {number for number, beat in enumerate(times.story.beats) if beat.moves}
    if turned:
        part = timeline(told.story, told.answer, LOOP_RATE).only(turned)
        loop = Film(told.answer, part, "clear", LOOP_HEIGHT, told.colours)
        for name in ("way_out.gif", "way_out.webm"):
            yield name, lambda path, step: write_loop(loop, path, step)
