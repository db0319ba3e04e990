"""A place in the frame for somebody's own footage of their hands: in a beat, from a second of the file on."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from oddswap.errors import BadRecording, quoted
from oddswap.showing.ink.palette import PAPER
from oddswap.story.ffmpeg import probed, source

PLACES = {"wide": (0.98, 0.54, 0.41, 0.5), "tall": (0.98, 0.126, 0.6, 0.114), "square": (0.98, 0.24, 0.4, 0.22)}
"""Where it is laid, by layout: its right and lower edges, and the most that it is broad and high, as shares of the frame."""


@dataclass(frozen=True)
class Footage:
    """A file is shown in the beat of this number, from 1, from second ``start`` of the file on."""

    beat: int
    path: Path
    start: float


def check_footage(footage: Iterable[Footage], beats: int) -> None:
    """`BadRecording` for a beat that is not there, a file without pictures, or one that ends before its start."""
    for one in footage:
        name = quoted(one.path.name, 80)
        if not 1 <= one.beat <= beats:
            raise BadRecording(f"there is no beat {one.beat} to show {name} in: the beats are numbered from 1 to {beats}")
        said = probed(one.path)
        if "Video:" not in said:
            raise BadRecording(f"{name} has no pictures in it: give footage such as a phone's MP4 or MOV")
        long = re.search(r"Duration: (\d+):(\d+):([\d.]+)", said)
        seconds = sum(float(part) * unit for part, unit in zip(long.groups(), (3600, 60, 1), strict=True)) if long else 0.0
        if seconds <= one.start:
            raise BadRecording(f"{name} is {seconds:.1f} s long and ends before {one.start:.1f} s: give an earlier second")


def overlay(footage: Iterable[Footage], layout: str, size: tuple[int, int], rate: int, frames: int) -> tuple[list, list]:
    """What ffmpeg reads, and the links of its graph that lead from ``[0:v]``, so many frames, to ``[v]``.

    A print with a border of paper, uncut; where the footage ends before its beat, the drawing is seen again.
    """
    right, low, wide, high = (2 * round(share * length / 2) for share, length in zip(PLACES[layout], (*size, *size), strict=True))
    edge, read, links, under = 2 * (size[1] // 120), [], [], "0:v"
    for number, one in enumerate(footage, 1):
        read += ["-ss", f"{one.start}", "-t", f"{frames / rate}", *source(one.path)]
        fit = f"scale={wide - 2 * edge}:{high - 2 * edge}:force_original_aspect_ratio=decrease:force_divisible_by=2"
        fit += f",pad=iw+{2 * edge}:ih+{2 * edge}:{edge}:{edge}:0x{PAPER[1:]}"
        links.append(f"[{number}:v]fps={rate},setpts=PTS-STARTPTS,{fit},setsar=1[hands{number}]")
        links.append(f"[{under}][hands{number}]overlay={right}-w:{low}-h:eof_action=pass[v{number}]")
        under = f"v{number}"
    return read, [*links, f"[{under}]null[v]"]
