"""The plainest puzzle that works as another does, and two positions of it: one that a law allows, and one that it never does."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from oddswap.describing.changes import changed
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.laws.law_book import law_book
from oddswap.showing.ink.camera import cameras
from oddswap.story.views import sides_of
from oddswap.values.arrangement import Arrangement
from oddswap.values.holding import Holding

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
    family: str
    kept: Arrangement
    broken: Arrangement


@lru_cache(maxsize=64)
def examples(puzzle: Puzzle, law: Law, holding: Holding) -> Examples | None:
    """Two small positions that show what a law allows and what it does not; ``None`` where it is none of the plain sorts."""
    parts = [part for part in getattr(law, "parts", ()) if len(part.sector.slots) > 1]
    if not parts or len(parts) < len(law.parts) or {part.what for part in parts} not in ({"twist"}, {"sign"}):
        return None
    shown_on = plain_of(puzzle) or puzzle
    best = [_seen_best(shown_on, part.sector.slots, holding) for part in parts]
    kind = parts[0].sector.kind
    for sort, *changes in _tried(parts[0].what, kind.twist, best):
        kept, broken = (changed(shown_on, some) for some in changes)
        if law_book(shown_on).reaches(kept) and not law_book(shown_on).reaches(broken):
            return Examples(shown_on, sort, kind.family, kept, broken)
    return None


def _tried(what: str, twist: int, best: list[list[str]]) -> Iterator[tuple[str, list[str], list[str]]]:
    """Sorts of examples, each with the changes that a law allows and those that it does not."""
    one, other, *more = best[0]
    if what == "twist" and twist < 4:
        did, back = ("flip {}", "flip {}") if twist == 2 else ("twist {} cw", "twist {} ccw")
        yield FLIPS if twist == 2 else TWISTS, [did.format(one), back.format(other)], [did.format(one)]
    elif what == "sign" and len(best) > 1:
        yield PAIRS, [f"swap {slots[0]} {slots[1]}" for slots in best[:2]], [f"swap {one} {other}"]
    elif what == "sign" and more:
        yield RINGS, [f"cycle {one} {other} {more[0]}"], [f"swap {one} {other}"]


def _seen_best(puzzle: Puzzle, slots: tuple[int, ...], holding: Holding) -> list[str]:
    """The names of the slots, those first that one sees best."""
    if puzzle.geometry is None:
        return [puzzle.slots[slot] for slot in slots]
    way = cameras(puzzle, holding)[0].direction
    sides = zip(slots, sides_of(puzzle, puzzle.solved, slots), strict=True)
    shown = {slot: float(np.clip(normals @ way, -0.5, 0.6).sum()) for slot, normals in sides}
    return [puzzle.slots[slot] for slot in sorted(slots, key=lambda slot: -shown[slot])]
