"""The law classes of a closed box, gathered into families, each with the least that a hand would change to get there.

A class is all that turns inside the box make of one closed box; they never lead to another. Who turns inside the box before
leaving it comes to other classes by the same excursion: these together are a *family*. Pieces of one orbit that look alike,
and twists that do not show, count as one. See `frames.Frame`, which tells classes and families apart by reading the pieces.
"""

from dataclasses import dataclass

import numpy as np

from oddswap.describing.changes import changed
from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.boxes.box import lifted
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.sectors import Law
from oddswap.reasoning.opening.frames import Frame
from oddswap.reasoning.verdicts.alarms import Cycled, Sort, alarms
from oddswap.values.position import Arrangement


@forwarded
@dataclass(frozen=True)
class LawFamily:
    """``number`` is the frame's for it, ``classes`` how many classes it has.

    ``changes`` by hand lead from solved to one of them, ``sorts`` are what they are, and ``broken`` the laws broken there; no
    changes for the family of the solved box; ``None`` where no few small changes lead there.
    """

    number: int
    classes: int
    changes: tuple[str, ...] | None
    sorts: tuple[Sort, ...] = ()
    broken: tuple[Law, ...] = ()


def family_of(frame: Frame, puzzle: Puzzle, arrangement: Arrangement) -> int:
    """The number of the family of an arrangement of the box that keeps its outline."""
    model = frame.labelled
    row = model.pack(model.puzzle.appearance(lifted(puzzle, frame.box, arrangement)))
    return int(frame.families[frame.read(row[None])[0]])


def law_families(frame: Frame, puzzle: Puzzle) -> tuple[LawFamily, ...]:
    """All families, that of the solved box first, then those to which the fewest small changes lead.

    >>> from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
    >>> from oddswap.reasoning.opening.frames import frame_of
    >>> puzzle = load("cuboid:1x3x3")
    >>> frame = frame_of(with_turns_out_of_the_box(puzzle), tuple(puzzle.turns))
    >>> [family.words for family in law_families(frame, puzzle)]
    ['', 'two corners swapped']
    """
    numbers, sizes = np.unique(frame.families[np.unique(frame.classes)], return_counts=True)
    counts = dict(zip(numbers.tolist(), sizes.tolist(), strict=True))
    found: dict[int, tuple[tuple[str, ...], tuple[Sort, ...]]] = {family_of(frame, puzzle, puzzle.solved): ((), ())}
    single = _once_each(frame, puzzle)
    edge = list(found.values())
    while edge and len(found) < len(counts):
        following = []
        for changes, sorts in edge:
            for more, sort in single:
                if set(_slots(changes)) & set(_slots(more)):
                    continue
                both = (*changes, *more)
                number = family_of(frame, puzzle, changed(puzzle, both))
                if number not in found:
                    found[number] = both, (*sorts, sort)
                    following.append(found[number])
        edge = following
    broken = law_book(puzzle).broken
    reached = [LawFamily(n, counts[n], each, sorts, broken(changed(puzzle, each))) for n, (each, sorts) in found.items()]
    return (*reached, *(LawFamily(n, counts[n], None) for n in counts if n not in found))


def _once_each(frame: Frame, puzzle: Puzzle) -> list[tuple[tuple[str, ...], Sort]]:
    """Small changes, one for each family that one of them leads to: those of each alarm, and three pieces in a cycle."""
    small = [(alarm.changes, alarm.sort) for alarm in alarms(puzzle)]
    sectors = (sector for sector in law_book(puzzle).sectors if len(sector.slots) > 2)
    small += [((f"cycle {' '.join(sector.names[:3])}",), Cycled(sector)) for sector in sectors]
    found: dict[int, tuple[tuple[str, ...], Sort]] = {}
    for changes, sort in small:
        found.setdefault(family_of(frame, puzzle, changed(puzzle, changes)), (changes, sort))
    return list(found.values())


def _slots(changes: tuple[str, ...]) -> list[str]:
    return [name for change in changes for name in change.split()[1:]]
