"""The law classes of a closed box, gathered into families, each with the least that a hand would change to get there.

A class is all that turns inside the box make of one closed box; they never lead to another. Who turns inside the box before
leaving it comes to other classes by the same excursion: these together are a *family*. Pieces of one orbit that look alike,
and twists that do not show, count as one. See `frames.Frame`, which tells classes and families apart by reading the pieces.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from oddswap.puzzles.changes import changed
from oddswap.puzzles.lifting import lifted
from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.alarms import alarms
from oddswap.reasoning.frames import Frame
from oddswap.reasoning.laws import law_book
from oddswap.reasoning.statements import listed, sector_name
from oddswap.values.arrangement import Arrangement


@dataclass(frozen=True)
class Family:
    """``number`` is the frame's for it, ``classes`` how many classes it has.

    ``changes`` by hand lead from solved to one of them, ``words`` say so, and ``broken`` names the laws broken there; no changes,
    with empty words, for the family of the solved box; ``None`` where no few small changes lead there.
    """

    number: int
    classes: int
    changes: tuple[str, ...] | None
    words: str
    broken: tuple[str, ...]


def family_of(frame: Frame, puzzle: Puzzle, arrangement: Arrangement) -> int:
    """The number of the family of an arrangement of the box that keeps its outline."""
    model = frame.labelled
    row = model.pack(model.puzzle.appearance(lifted(puzzle, frame.box, arrangement)))
    return int(frame.families[frame.read(row[None])[0]])


def law_families(frame: Frame, puzzle: Puzzle) -> tuple[Family, ...]:
    """All families, that of the solved box first, then those to which the fewest small changes lead.

    >>> from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
    >>> from oddswap.reasoning.frames import frame_of
    >>> puzzle = load("cuboid:1x3x3")
    >>> frame = frame_of(with_turns_out_of_the_box(puzzle), tuple(puzzle.turns))
    >>> [family.words for family in law_families(frame, puzzle)]
    ['', 'two corners exchanged']
    """
    numbers, sizes = np.unique(frame.families[np.unique(frame.classes)], return_counts=True)
    counts = dict(zip(numbers.tolist(), sizes.tolist(), strict=True))
    told: dict[int, tuple[tuple[str, ...], tuple[str, ...]]] = {family_of(frame, puzzle, puzzle.solved): ((), ())}
    single = _told_once(frame, puzzle)
    edge = list(told.values())
    while edge and len(told) < len(counts):
        following = []
        for changes, words in edge:
            for more, said in single:
                if set(_slots(changes)) & set(_slots(more)):
                    continue
                both = (*changes, *more)
                number = family_of(frame, puzzle, changed(puzzle, both))
                if number not in told:
                    told[number] = both, (*words, said)
                    following.append(told[number])
        edge = following
    found = [_family(puzzle, n, counts[n], changes, words) for n, (changes, words) in told.items()]
    return (*found, *(Family(n, counts[n], None, "", ()) for n in counts if n not in told))


def _family(puzzle: Puzzle, number: int, classes: int, changes: tuple[str, ...], words: tuple[str, ...]) -> Family:
    broken = law_book(puzzle).broken(changed(puzzle, changes))
    return Family(number, classes, changes, listed(words) if words else "", tuple(law.name for law in broken))


def _told_once(frame: Frame, puzzle: Puzzle) -> list[tuple[tuple[str, ...], str]]:
    """Small changes, one for each family that one of them leads to."""
    found: dict[int, tuple[tuple[str, ...], str]] = {}
    for changes, words in _small(puzzle):
        found.setdefault(family_of(frame, puzzle, changed(puzzle, changes)), (changes, words))
    return list(found.values())


def _small(puzzle: Puzzle) -> Iterator[tuple[tuple[str, ...], str]]:
    """The changes of each alarm, and three pieces of a sector that change places in a cycle."""
    for alarm in alarms(puzzle):
        yield alarm.changes, alarm.words
    for sector in law_book(puzzle).sectors:
        if len(sector.slots) > 2:
            names = " ".join(puzzle.slots[slot] for slot in sector.slots[:3])
            yield (f"cycle {names}",), f"three {sector_name(sector)} in a cycle"


def _slots(changes: tuple[str, ...]) -> list[str]:
    return [name for change in changes for name in change.split()[1:]]


