"""Beats in a recorded voice: whoever reads a story pauses between its beats, and the pauses are found in the sound."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path

import numpy as np

from oddswap.errors import BadRecording, quoted
from oddswap.story.ffmpeg import RATE, samples_of
from oddswap.story.telling.beats import Beat
from oddswap.story.telling.captions import SHORTEST
from oddswap.values.text_file import parse_toml, read_text

STEP = 0.01
"""Seconds in which loudness is told."""
BREATH, BLIP = 0.15, 0.08
"""A shorter silence is part of a word, and a shorter noise, such as that of a key, is no voice: in seconds."""
BELOW, ABOVE = 35.0, 10.0
"""A voice lies less than so many decibels below its loudest, and more than so many above the room's noise."""
PAUSE = 0.7
"""A silence of so many seconds ends a beat, unless somebody pauses less and still clearly longer there than elsewhere."""
CLEARLY = 1.25
"""How many times as long the shortest pause between beats is then as any other."""

Span = tuple[float, float]


@dataclass(frozen=True, eq=False)
class Take:
    """The sound of a file: ``samples`` are mono, `RATE` a second; ``bursts`` are the seconds in which a voice is heard."""

    name: str
    samples: np.ndarray = field(repr=False)
    bursts: tuple[Span, ...] = field(repr=False)
    digest: str = ""


@dataclass(frozen=True)
class Voice:
    """What somebody recorded: one take, or a take a beat; takes that replace those of single beats, which are counted from 1.

    ``timing`` says when each step of each beat was reached while they read, whether that was recorded as a take or not.
    """

    takes: tuple[Take, ...] = ()
    retakes: tuple[tuple[int, Take], ...] = ()
    timing: tuple[tuple[float, ...], ...] = ()


@dataclass(frozen=True, eq=False)
class Spoken:
    """The voice of one beat: ``sentences`` are where each of them begins, or the first alone, and ``end`` where the last ends.

    All are seconds of the ``take``, or of a reading that was not recorded. ``pause`` is the silence after it; None where nothing
    follows in the take.
    """

    take: Take | None
    sentences: tuple[float, ...]
    end: float
    pause: float | None

    @property
    def seconds(self) -> float:
        return self.end - self.sentences[0]


def listen(path: Path) -> Take:
    """What is heard in a file, of a phone or a microphone; `BadRecording` where that is no voice."""
    samples, name = samples_of(path), quoted(path.name, 80)
    size = round(STEP * RATE)
    power = np.square(samples[: len(samples) // size * size].reshape(-1, size)).mean(axis=1)
    level = 10 * np.log10(power + 1e-12)
    loud, quiet = (level.max(), np.percentile(level, 5)) if len(level) else (-120.0, -120.0)
    heard = level > min(max(loud - BELOW, quiet + ABOVE), loud - ABOVE)
    edges = (np.flatnonzero(np.diff(heard, prepend=False, append=False)) * STEP).tolist()
    bursts = [(run[0][0], run[-1][1]) for run in _runs(list(zip(edges[::2], edges[1::2], strict=True)), BREATH)]
    bursts = [(first, last) for first, last in bursts if last - first >= BLIP]
    if loud < -90 or not bursts:
        raise BadRecording(f"nobody is heard in {name}: give a recording of a voice")
    return Take(name, samples, tuple(bursts), sha256(samples.tobytes()).hexdigest())


def read_timing(path: Path) -> tuple[tuple[float, ...], ...]:
    """When each step of each beat was reached, as the prompter recorded it; `BadRecording` for anything else."""
    data = parse_toml(read_text(path, "the timing", BadRecording), quoted(path.name), BadRecording)
    beats = data.get("beats")
    lists = isinstance(beats, list) and all(isinstance(beat, list) for beat in beats)
    times = [time for beat in beats for time in beat] if lists else [None]
    if not all(type(time) in (int, float) and 0 <= time < 1e5 for time in times) or times != sorted(set(times)):
        raise BadRecording(f"the timing {quoted(path.name)} has no beats that follow each other: record it with the prompter")
    return tuple(tuple(map(float, beat)) for beat in beats)


def speech_of(beats: Sequence[Beat], voice: Voice) -> dict[int, Spoken]:
    """The voice of each beat that says something, by its number from 0; none where nobody speaks.

    `BadRecording` says which beat, counted from 1, is the first that does not fit.
    """
    told, takes = {number: beat for number, beat in enumerate(beats) if beat.says}, voice.takes
    if voice.timing:
        spoken = _as_timed(beats, told, takes, voice.timing)
    elif len(takes) == 1:
        spoken = _in_take(told, takes[0])
    elif takes and len(takes) != len(told):
        said = f"there are {len(takes)} recordings for {len(told)} beats"
        raise _misfit(said, told, min(len(takes), len(told)), "give one for all, or one for each")
    else:
        spoken = [_spoken(take, take.bursts, beat, None) for take, beat in zip(takes, told.values(), strict=False)]
    voices = dict(zip(told, spoken, strict=False))
    for number, take in voice.retakes:
        if number - 1 not in voices:
            raise BadRecording(f"beat {number} has no voice to replace: give a voice, and the number of a beat that it speaks")
        voices[number - 1] = _spoken(take, take.bursts, told[number - 1], voices[number - 1].pause)
    return voices


def _misfit(said: str, told: Mapping[int, Beat], first: int, advice: str) -> BadRecording:
    """What is said when the beats of a recording are not those of the story; ``first`` counts those that are spoken."""
    where = f"beat {[*told][first] + 1} is the first that does not fit" if first < len(told) else "there is more after the last"
    return BadRecording(f"{said}: {where}; {advice}")


def _spoken(take: Take, bursts: Sequence[Span], beat: Beat, pause: float | None) -> Spoken:
    """The voice of a beat in bursts; its sentences where it pauses as often as there are sentences, and clearly there."""
    parts = _parted(bursts, len(beat.says), BREATH) or [bursts]
    return Spoken(take, tuple(part[0][0] for part in parts), bursts[-1][1], pause)


def _in_take(told: Mapping[int, Beat], take: Take) -> list[Spoken]:
    heard = _runs(take.bursts, PAUSE)
    if len(heard) < len(told):
        heard = _parted(take.bursts, len(told), 2 * BREATH) or heard
    if len(heard) != len(told):
        said = f"{take.name} has {len(heard)} beats with pauses of {PAUSE} s between them, and the story has {len(told)}"
        raise _misfit(said, told, _out_of_step(heard, told), "pause longer between beats only, or give the prompter's --timing")
    return _follow(take, heard, told)


def _follow(take: Take, heard: Sequence[Sequence[Span]], told: Mapping[int, Beat]) -> list[Spoken]:
    pauses = [two[0][0] - one[-1][1] for one, two in zip(heard, heard[1:], strict=False)]
    return [_spoken(take, *each) for each in zip(heard, told.values(), [*pauses, None], strict=True)]


def _runs(bursts: Sequence[Span], pause: float) -> list[list[Span]]:
    """The bursts in runs with at least such a pause between two."""
    runs: list[list[Span]] = []
    for burst in bursts:
        if not runs or burst[0] - runs[-1][-1][1] >= pause:
            runs.append([])
        runs[-1].append(burst)
    return runs


def _parted(bursts: Sequence[Span], count: int, least: float) -> list[list[Span]] | None:
    """So many runs, where the pauses between them are clearly longer than all others; None where there are none such."""
    pauses = sorted((two[0] - one[1] for one, two in zip(bursts, bursts[1:], strict=False)), reverse=True)
    if len(pauses) < count - 1 or count < 2:
        return None
    shortest = pauses[count - 2]
    clear = shortest >= max([least, *(CLEARLY * pause for pause in pauses[count - 1 : count])])
    return _runs(bursts, shortest) if clear else None


def _out_of_step(heard: Sequence[Sequence[Span]], told: Mapping[int, Beat]) -> int:
    """The first beat whose voice is less than half or more than twice as long as its words take at the usual pace."""
    pace = [(run[-1][1] - run[0][0]) / len(" ".join(beat.says)) for run, beat in zip(heard, told.values(), strict=False)]
    usual = float(np.median(pace))
    return next((i for i, one in enumerate(pace) if not usual / 2 <= one <= 2 * usual), len(pace))


def _as_timed(beats: Sequence[Beat], told: Mapping[int, Beat], takes: Sequence[Take], timing: Sequence) -> list[Spoken]:
    """As the prompter recorded it; in a take, each beat begins with the burst that is nearest to its time."""
    fits = [len(times) >= len(beat.says) for times, beat in zip(timing, beats, strict=False)]
    if not all(fits) or len(timing) != len(beats):
        first = [*fits, False].index(False) + 1
        raise BadRecording(f"the timing is of another story: beat {first} is the first that does not fit; record it anew")
    reached = [timing[number] for number in told]
    if not takes:
        ends = [*(times[0] for times in reached[1:]), None]
        return [_read(*each) for each in zip(reached, told.values(), ends, strict=True)]
    if len(takes) > 1:
        raise BadRecording("a timing is of one reading: give one take with it, or leave the timing out")
    onsets = np.array([first for first, _ in takes[0].bursts])
    begun = [int(np.abs(onsets - onsets[0] - (times[0] - reached[0][0])).argmin()) for times in reached]
    for number, one, two in zip([*told][1:], begun, begun[1:], strict=False):
        if one == two:
            raise BadRecording(f"{takes[0].name} has no voice at the time of beat {number + 1}: give the take of that reading")
    return _follow(takes[0], [takes[0].bursts[i:j] for i, j in zip(begun, [*begun[1:], None], strict=True)], told)


def _read(times: Sequence[float], beat: Beat, following: float | None) -> Spoken:
    """A beat as it was read to oneself: its words end where its first move begins, or else the next beat."""
    count = len(beat.says)
    end = next(iter(times[count:]), following or times[count - 1] + SHORTEST)
    return Spoken(None, tuple(times[:count]), end, None if following is None else following - end)
