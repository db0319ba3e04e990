"""Captions: sentences cut into cues that can be read, and files of cues as WebVTT (W3C) and as SRT.

One line of at most 58 characters, at least two seconds, at most 160 words a minute and 17 characters a second, no overlap
(see the captioning guidelines of DCMP and Ofcom).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from html import escape
from math import ceil
from time import gmtime, strftime

from oddswap.errors import BadStory, quoted

WIDE = 58
SHORTEST = 2.0
"""Seconds that a cue stays at least."""
FASTEST, READING = 160, 17.0
"""Words a minute, and characters a second, at most."""
ENDINGS = (",", ";", ":", ".")


@dataclass(frozen=True)
class Cue:
    """Lines that stand from frame ``first`` on, until before frame ``last``."""

    first: int
    last: int
    lines: tuple[str, ...]

    @property
    def text(self) -> str:
        return " ".join(self.lines)

    def later(self, frames: int) -> Cue:
        return Cue(self.first + frames, self.last + frames, self.lines)


def split_sentence(sentence: str) -> list[str]:
    """A sentence in lines that fit a caption each, of lengths as equal as can be, better broken after punctuation.

    `BadStory` for a word that does not fit on a line.

    >>> split_sentence("No turn changes what that counts. As it looks, it is broken.")
    ['No turn changes what that counts.', 'As it looks, it is broken.']
    """
    words = sentence.split()
    for word in words:
        if len(word) > WIDE:
            raise BadStory(f"the word {quoted(word)} is longer than a caption's line of {WIDE} characters: shorten it")
    count = 1
    while (lines := _in_lines(words, count)) is None:
        count += 1
    return [" ".join(line) for line in lines]


def _in_lines(words: list[str], count: int) -> list[list[str]] | None:
    """So many lines that fit, of lengths as equal as can be, better after punctuation; ``None`` if there are too few."""
    best: dict[tuple[int, int], tuple[float, list[list[str]]]] = {(0, 0): (0.0, [])}
    share = len(" ".join(words)) / count
    for done in range(1, count + 1):
        for end in range(done, len(words) + 1):
            options = []
            for start in range(done - 1, end):
                line = words[start:end]
                if (start, done - 1) in best and len(" ".join(line)) <= WIDE:
                    cost, before = best[start, done - 1]
                    broken = end < len(words) and not line[-1].endswith(ENDINGS)
                    options.append((cost + abs(len(" ".join(line)) - share) + 24 * broken, [*before, line]))
            if options:
                best[end, done] = min(options, key=lambda option: option[0])
    found = best.get((len(words), count))
    return found[1] if found else None


def frames_of(text: str, words_a_minute: int, frames_a_second: int) -> int:
    """How many frames a cue stays."""
    spoken = 60 * len(text.split()) / min(words_a_minute, FASTEST)
    return ceil(max(SHORTEST, spoken, len(text) / READING) * frames_a_second)


def as_webvtt(cues: Iterable[Cue], frames_a_second: int) -> str:
    """A WebVTT file (W3C, section Syntax); text is escaped, so that no tag can be in it."""
    return "\n\n".join(["WEBVTT", *_blocks(cues, frames_a_second, ".", lambda line: escape(line, quote=False))]) + "\n"


def as_srt(cues: Iterable[Cue], frames_a_second: int) -> str:
    """The same as SRT, as players read it (common practice: no standard); marks that players obey become others."""
    safe = str.maketrans("<>{}\\", "‹›()∖")
    return "\n\n".join(_blocks(cues, frames_a_second, ",", lambda line: line.translate(safe))) + "\n"


def _blocks(cues: Iterable[Cue], rate: int, mark: str, safe: Callable[[str], str]) -> Iterator[str]:
    """Each cue with its number and its times, ``mark`` before the thousandths, and lines that are ``safe``."""
    for number, cue in enumerate(cues, 1):
        times = f"{_clock(cue.first, rate, mark)} --> {_clock(cue.last, rate, mark)}"
        yield "\n".join([str(number), times, *map(safe, cue.lines)])


def _clock(frame: int, frames_a_second: int, mark: str) -> str:
    seconds, thousandths = divmod(round(1000 * frame / frames_a_second), 1000)
    return f"{strftime('%H:%M:%S', gmtime(seconds))}{mark}{thousandths:03}"


def clock(frame: int, frames_a_second: int) -> str:
    """A time for people: minutes and seconds.

    >>> clock(1845, 30)
    '1:01'
    """
    minutes, seconds = divmod(frame // frames_a_second, 60)
    return f"{minutes}:{seconds:02}"
