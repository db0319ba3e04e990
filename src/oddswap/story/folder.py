"""All the files of a story or an episode in one folder: what is missing or has changed is made, each file whole or not at all."""

import os
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from hashlib import sha256
from pathlib import Path

from oddswap.describing.ticket import OwnCopy
from oddswap.errors import NoEncoder
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.budget import Budget, Clock, Limit, started
from oddswap.showing.pages.output_folder import HOME, OutputFolder, open_folder
from oddswap.story.footage import check_footage
from oddswap.story.prompter import prompter_page
from oddswap.story.story_files import SORTS, Maker, Told, Wishes, episode_files, story_files
from oddswap.story.telling.beats import Story, story_of
from oddswap.story.telling.story_file import fitting, read_story, write_story
from oddswap.story.telling.timeline import timeline
from oddswap.story.voice import speech_of
from oddswap.words.table import VISITOR, Reader, at_work

STORY, FILMED = "story.toml", "filming.toml"
"""The story that goes to the visitor, and the same for whoever films their hands with a copy of their own."""
LETTER = "letter_{}"
"""The folder of each letter in an episode."""
TEXTS = ".vtt", ".srt", ".md", ".txt", ".html"
"""The endings of files that nothing is drawn for: they take no time."""

LONG = Budget(600.0)
"""For a story where nobody says how long."""

Tell = Callable[[str, float], None]
"""Told which file is being made, and how far it is (0 to 1)."""


@dataclass(frozen=True)
class Made:
    """Files that were made now, files that were up to date, and what could not be made, each with a sentence."""

    written: tuple[Path, ...]
    kept: tuple[Path, ...]
    failed: tuple[str, ...]
    told: tuple[Told, ...] = ()


def write_story_files(
    answer: Answer,
    folder: Path,
    reader: Reader = VISITOR,
    only: Iterable[str] = SORTS,
    wishes: Wishes | None = None,
    tell: Tell | None = None,
    *,
    begin: Callable[..., Story] = story_of,
    budget: Limit = None,
    force: bool = False,
) -> Made:
    """Make the files of an answer's story in a folder; a ``story.toml`` that lies there is told as it was edited.

    Where none lies there, ``begin`` makes it of the answer and the ``reader``. An explainer with a copy of their own has
    ``filming.toml`` beside it, told for their hands; the prompter shows that, and so does the clip where there is ``footage``
    of them.

    ``force`` is as for an `OutputFolder`, and ``story.toml`` stays all the same. `BadStory` for a story that does not fit,
    `BadOption` for a folder that cannot be written. Where one file cannot be made the others are, and its sentence is in
    ``failed``. When the ``budget`` ends only text is still written: no picture is begun, and a clip that was begun is finished.
    """
    wishes, clock = wishes or Wishes(), started(budget or LONG)
    with open_folder(folder, force) as out:
        story = _story(answer, reader, out, STORY, begin)
        own, hands = at_work(answer, reader)
        filmed = _story(own, hands, out, FILMED, begin) if reader.mine != OwnCopy() else story
        page = partial(prompter_page, own, timeline(filmed, own, wishes.rate), hands)
        sent = [(write_story(one), sorted(who.colours.items()), who.holding) for one, who in ((story, reader), (filmed, hands))]
        digest = sha256(repr((sent, wishes, own.set_up)).encode()).hexdigest()
        shown = (own, hands, filmed) if wishes.footage else (answer, reader, story)
        told = Told(*shown, wishes, speech_of(shown[2].beats, wishes.voice), folder / HOME / "beats", digest)
        check_footage(wishes.footage, len(shown[2].beats))
        return replace(_made(out, story_files(answer, reader, page, told, set(only)), digest, clock, tell), told=(told,))


def write_episode(
    letters: Sequence[tuple[Answer, Reader]],
    folder: Path,
    only: Iterable[str] = SORTS,
    wishes: Sequence[Wishes] = (),
    tell: Tell | None = None,
    *,
    begin: Callable[..., Story] = story_of,
    budget: Limit = None,
    force: bool = False,
) -> Made:
    """Make one episode of the answers to several letters, a chapter each, with the ``wishes`` for each.

    Each letter has a folder in it with its files, where its story can be edited; see `write_story_files`.
    """
    clock, only, made = started(budget or LONG), set(only), []
    for number, ((answer, reader), wish) in enumerate(zip(letters, wishes or (Wishes(),) * len(letters), strict=True), 1):
        place = folder / LETTER.format(number)
        told = begin if number == len(letters) else partial(_going_on, begin)
        made.append(write_story_files(answer, place, reader, only, wish, tell, begin=told, budget=clock, force=force))
    with open_folder(folder, force) as out:
        parts = {one.told[0]: folder / LETTER.format(number) for number, one in enumerate(made, 1)}
        digest = sha256("".join(one.digest for one in parts).encode()).hexdigest()
        made.append(_made(out, episode_files(parts, only), digest, clock, tell))
    return Made(*(tuple(one for each in made for one in getattr(each, part)) for part in ("written", "kept", "failed", "told")))


def _going_on(begin: Callable[..., Story], answer: Answer, reader: Reader) -> Story:
    """A story that another one follows: the last beat, which asks for letters, is left to that."""
    story = begin(answer, reader=reader)
    return replace(story, beats=story.beats[:-1])


def _made(out: OutputFolder, files: Iterable[tuple[str, Maker]], digest: str, clock: Clock, tell: Tell | None) -> Made:
    """Make those of the files that are not up to date."""
    written, kept, failed = [], [], []
    for name, make in files:
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


def _story(answer: Answer, reader: Reader, out: OutputFolder, name: str, begin: Callable[..., Story]) -> Story:
    path, made = out.path / name, out.making / name
    story = begin(answer, reader=reader)
    if os.path.lexists(path):
        return fitting(read_story(path), answer, story)
    made.write_text(write_story(story), encoding="utf-8")
    os.replace(made, path)
    return story
