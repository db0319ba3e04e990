"""The plainest puzzle that works as another does, and two positions of it: one that a law allows, and one that it never does."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import permutations, product

import numpy as np

from oddswap.describing.changes import changed
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.sectors import Law
from oddswap.showing.ink.camera import cameras
from oddswap.showing.ink.sight import sides_of
from oddswap.values.position import Arrangement, Holding

PLAIN = ("cube:2", "cube:3", "cube:4")
FLIPS, TWISTS, PAIRS, RINGS = "flips", "twists", "pairs", "rings"
"""What is counted: pieces turned over; twisted; swaps of two sorts at once; swaps of one sort."""


def plain_of(puzzle: Puzzle) -> Puzzle | None:
    """A cube with the same slots and turns of pieces, if there is one; ``None`` for that cube itself.

    >>> plain_of(load("shape-mod:prism8")).name
    'cube:3'
    """
    if puzzle.geometry is None or puzzle.name.startswith("cube:"):
        return None
    slots = puzzle.slots, [kind.twist for kind in puzzle.kind_of]
    return next((cube for cube in map(load, PLAIN) if (cube.slots, [kind.twist for kind in cube.kind_of]) == slots), None)


def on_plain(plain: Puzzle, shown: Arrangement) -> Arrangement:
    """The same arrangement of the plain puzzle."""
    return Arrangement(plain.name, shown.pieces, shown.twists)


@dataclass(frozen=True)
class Examples:
    """``kept`` is an arrangement that turns reach, ``broken`` one that they never reach; ``sort`` is what both are about."""

    puzzle: Puzzle
    sort: str
    kept: Arrangement
    broken: Arrangement


def sort_of(law: Law) -> str:
    """What a law counts, as one tells it; empty where it is none of the plain sorts."""
    parts = getattr(law, "parts", ())
    whats, twist = {part.what for part in parts}, parts[0].sector.kind.twist if parts else 0
    if whats == {"twist"} and twist in (2, 3):
        return FLIPS if twist == 2 else TWISTS
    return {1: RINGS, 2: PAIRS}.get(len(parts), "") if whats == {"sign"} else ""


@lru_cache(maxsize=64)
def examples(puzzle: Puzzle, law: Law, holding: Holding) -> Examples | None:
    """Two small positions that show what a law allows and what it does not; ``None`` where it is none of the plain sorts."""
    sort, shown_on = sort_of(law), plain_of(puzzle) or puzzle
    slots = [_seen_best(shown_on, part.sector.slots, holding) for part in law.parts] if sort else []
    if not sort or min(map(len, slots)) < 2 + (sort == RINGS):
        return None

    def told(state: Arrangement) -> bool:
        return any(law.seen for law in law_book(shown_on).broken(state))

    for tried in product(*(permutations(some[:4], 2 + (sort == RINGS)) for some in slots)):
        one, other, *_ = tried[0]
        kept, broken = {
            FLIPS: ([f"flip {one}", f"flip {other}"], [f"flip {one}"]),
            TWISTS: ([f"twist {one} cw", f"twist {other} ccw"], [f"twist {one} cw"]),
            PAIRS: ([f"swap {' '.join(pair)}" for pair in tried], [f"swap {one} {other}"]),
            RINGS: ([f"cycle {' '.join(tried[0])}"], [f"swap {one} {other}"]),
        }[sort]
        if not told(state := changed(shown_on, kept)) and told(lone := changed(shown_on, broken)):
            return Examples(shown_on, sort, state, lone)
    return None


def _seen_best(puzzle: Puzzle, slots: tuple[int, ...], holding: Holding) -> list[str]:
    """The names of the slots, those first that one sees best."""
    if puzzle.geometry is None:
        return [puzzle.slots[slot] for slot in slots]
    way = cameras(puzzle, holding)[0].direction
    sides = zip(slots, sides_of(puzzle, puzzle.solved, slots), strict=True)
    shown = {slot: float(np.clip(normals @ way, -0.5, 0.6).sum()) for slot, normals in sides}
    return [puzzle.slots[slot] for slot in sorted(slots, key=lambda slot: -shown[slot])]
