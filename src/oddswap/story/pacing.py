"""A story at the pace of a voice: its pictures and captions are moved to where each beat is spoken."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from oddswap.errors import BadRecording
from oddswap.story.telling.captions import READING, SHORTEST, Cue
from oddswap.story.telling.timeline import Timeline
from oddswap.story.voice import Spoken


def paced(times: Timeline, spoken: Mapping[int, Spoken]) -> Timeline:
    """The timeline with every beat where it is spoken: words take as long as in the voice, and its pauses stay.

    A pause becomes longer only where turns need it. `BadRecording` for words that cannot be read in the time of their beat.
    """
    rate, ends = times.frames_a_second, (*times.starts[1:], times.frames)
    old, new, starts, laid, now = [], [], [], [], 0.0
    for number, (start, end, sentences) in enumerate(zip(times.starts, ends, times.spoken, strict=True)):
        starts.append(round(now * rate))
        old.append(start)
        new.append(now)
        laid.append(())
        if (voice := spoken.get(number)) is None:
            now += (end - start) / rate
            continue
        done = sentences[-1][-1].last
        tail = max(done, *(shot.first for shot in times.shots if shot.beat == number))
        rest = (end if voice.pause is None else tail) - done
        over = now + voice.seconds + max(rest / rate, voice.pause or 0.0)
        begun = [now + second - voice.sentences[0] for second in (*voice.sentences, voice.end)]
        onsets = _onsets(sentences, begun, number)
        old += [*(cue.first for cue in _flat(sentences)[1:]), done, tail]
        new += [*onsets[1:], begun[-1], min(begun[-1] + (tail - done) / rate, over)]
        frames = [round(onset * rate) for onset in (*onsets, min(max(begun[-1], onsets[-1] + SHORTEST), over))]
        when = iter(zip(frames, frames[1:], strict=False))
        laid[-1] = tuple(tuple(Cue(*next(when), cue.lines) for cue in sentence) for sentence in sentences)
        now = over
    at = lambda frame: round(np.interp(frame, [*old, times.frames], [*new, now]) * rate)  # noqa: E731
    moved = (replace(shot, first=at(shot.first), last=at(shot.last)) for shot in times.shots)
    shots = tuple(shot for shot in moved if shot.first < shot.last)
    cues = tuple(cue for beat in laid for cue in _flat(beat))
    return replace(times, shots=shots, cues=cues, starts=tuple(starts), spoken=tuple(laid))


def _flat(sentences: Sequence[Sequence[Cue]]) -> list[Cue]:
    return [cue for sentence in sentences for cue in sentence]


def _onsets(sentences: Sequence[Sequence[Cue]], begun: Sequence[float], number: int) -> list[float]:
    """When each cue of a beat is spoken, by its letters; each sentence where it begins, if that leaves time to read it."""
    cues = _flat(sentences)
    alike = len(begun) == len(sentences) + 1 and zip(sentences, begun, begun[1:], strict=False)
    ways = [[onset for each in alike or () for onset in _shares(*each)], _shares(cues, begun[0], begun[-1])]
    for onsets in ways:
        spans = np.diff([*onsets, begun[-1]])
        if len(onsets) == len(cues) and all(len(cue.text) <= READING * span + 1 for cue, span in zip(cues, spans, strict=True)):
            return onsets
    letters, seconds = sum(len(cue.text) for cue in cues), begun[-1] - begun[0]
    few = f"beat {number + 1} has {letters} letters for {seconds:.1f} s of voice, and {READING:g} a second can be read"
    raise BadRecording(f"{few}: give it fewer words in story.toml, or speak it more slowly")


def _shares(cues: Sequence[Cue], first: float, last: float) -> list[float]:
    """When each cue begins where all are spoken from ``first`` to ``last``, each as long as its letters are many."""
    letters = np.cumsum([0, *(len(cue.text) for cue in cues)])
    return list(first + (last - first) * letters[:-1] / letters[-1])
