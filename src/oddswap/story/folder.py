"""All the files of a story in one folder: what is missing or has changed is made, each file whole or not at all."""

import os
import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from hashlib import sha256
from pathlib import Path

from oddswap.describing.copies import OwnCopy
from oddswap.errors import NoEncoder
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.budget import Budget, Limit, started
from oddswap.showing.ink.canvas import save
from oddswap.showing.ink.stand_ins import stand_ins
from oddswap.showing.pages.output_folder import OutputFolder, open_folder
from oddswap.showing.pages.report import reply_text
from oddswap.showing.pictures.prints import draw_prints
from oddswap.story.beats import Story, story_of
from oddswap.story.captions import as_srt, as_webvtt
from oddswap.story.clip import LAYOUTS, Film, write_clip, write_loop
from oddswap.story.handout import write_handout
from oddswap.story.prompter import prompter_page
from oddswap.story.script import chapters_text, script_markdown
from oddswap.story.stage import Stage
from oddswap.story.story_file import fitting, read_story, write_story
from oddswap.story.timeline import Timeline, timeline
from oddswap.words.reader import VISITOR, Reader, at_work

SORTS = ("clip", "captions", "script", "prompter", "handout", "reply", "stills")
STORY, FILMED = "story.toml", "filming.toml"
"""The story that goes to the visitor, and the same for whoever films their hands with a copy of their own."""
CLIP_HEIGHT, LOOP_HEIGHT, LOOP_RATE = 1080, 480, 15

TEXTS = ".vtt", ".srt", ".md", ".txt", ".html"
"""The endings of files that nothing is drawn for: they take no time."""

LONG = Budget(600.0)
"""For a story where nobody says how long."""

Tell = Callable[[str, float], None]
"""Told which file is being made, and how far it is (0 to 1)."""


@dataclass(frozen=True)
class Wishes:
    """How the files are wanted: frames a second, pixels of a still, a transparent ground, captions drawn in, the paper."""

    rate: int = 30
    width: int = 1920
    transparent: bool = False
    burnt: bool = False
    paper: str = "A4"


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

    An explainer with a copy of their own has ``filming.toml`` beside it, told for their hands, and the prompter shows that.

    ``force`` is as for an `OutputFolder`, and ``story.toml`` stays all the same. `BadStory` for a story that does not fit,
    `BadOption` for a folder that cannot be written. Where one file cannot be made the others are, and its sentence is in
    ``failed``. When the ``budget`` ends only text is still written: no picture is begun, and a clip that was begun is finished.
    """
    wishes, clock = wishes or Wishes(), started(budget or LONG)
    with open_folder(folder, force) as out:
        story, colours = _story(answer, reader, out, STORY), stand_ins(reader.colours)[0]
        times = timeline(story, answer, wishes.rate)
        own, hands = at_work(answer, reader)
        filmed = _story(own, hands, out, FILMED) if reader.mine != OwnCopy() else story
        page = partial(prompter_page, own, timeline(filmed, own, wishes.rate), hands)
        told = [(write_story(one), sorted(who.colours.items()), who.holding) for one, who in ((story, reader), (filmed, hands))]
        digest = sha256(repr((told, wishes, own.set_up)).encode()).hexdigest()
        written, kept, failed = [], [], []
        for name, make in _files(answer, times, page, reader, colours, set(only), wishes):
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


def _files(
    answer: Answer, times: Timeline, page: Callable[[], str], reader: Reader, colours, only: set[str], wishes: Wishes
) -> Iterator[tuple[str, Maker]]:
    """Every file's name and what makes it, quick ones first."""
    rate = times.frames_a_second
    plain = {
        "captions": {"captions.vtt": lambda: as_webvtt(times.cues, rate), "captions.srt": lambda: as_srt(times.cues, rate)},
        "script": {"script.md": lambda: script_markdown(times), "chapters.txt": lambda: chapters_text(times)},
        "prompter": {"prompter.html": page},
        "reply": {"reply.md": lambda: reply_text(answer, reader)},
    }
    for sort, texts in plain.items():
        if sort in only:
            for name, text in texts.items():
                yield name, lambda path, _, text=text: path.write_text(text(), encoding="utf-8")
    if "reply" in only:
        shown = {"colours": colours, "holding": reader.holding}
        yield "reply.png", lambda path, _: save(draw_prints(answer.puzzle, answer.appearance, **shown), path, width=1200)
    if "handout" in only:
        yield "handout.pdf", lambda path, _: write_handout(answer, times, path, colours, wishes.paper)
    if "stills" in only:
        yield from _stills(answer, times, colours, wishes)
    if "clip" in only:
        yield from _clips(answer, times, colours, wishes)


def _stills(answer: Answer, times: Timeline, colours, wishes: Wishes) -> Iterator[tuple[str, Maker]]:
    stage = Stage(answer, times, LAYOUTS["wide"], colours, CLIP_HEIGHT)
    alone = Stage(answer, times, LAYOUTS["clear"], colours, CLIP_HEIGHT)
    for number, beat in enumerate(times.story.beats):
        shot = next(shot for shot in reversed(times.shots) if shot.beat == number)
        name = f"stills/{number + 1}_{re.sub(r'[^a-z0-9]+', '_', beat.chapter.lower()).strip('_')}"
        for kind in ("png", "svg"):
            yield f"{name}.{kind}", lambda path, _, shot=shot: _still(stage, shot, path, wishes)
    first = times.shots[0]
    for kind in ("png", "svg"):
        yield f"stills/puzzle.{kind}", lambda path, _: _still(alone, first, path, wishes)


def _still(stage: Stage, shot, path: Path, wishes: Wishes) -> Path:
    width = wishes.width if path.suffix == ".png" else None
    return save(stage.figure(shot, shot.last - 1), path, width=width, transparent=wishes.transparent)


def _clips(answer: Answer, times: Timeline, colours, wishes: Wishes) -> Iterator[tuple[str, Maker]]:
    for name, layout, height in (("clip_wide.mp4", "wide", CLIP_HEIGHT), ("clip_tall.mp4", "tall", CLIP_HEIGHT * 16 // 9)):
        film = Film(answer, times, layout, height, colours, wishes.burnt)
        yield name, lambda path, step, film=film: write_clip(film, path, step)
    turned = {number for number, beat in enumerate(times.story.beats) if beat.moves}
    if turned:
        part = timeline(times.story, answer, LOOP_RATE).only(turned)
        loop = Film(answer, part, "clear", LOOP_HEIGHT, colours)
        for name in ("way_out.gif", "way_out.webm"):
            yield name, lambda path, step: write_loop(loop, path, step)
