"""The map of the ways: which law classes of a closed box are reached by leaving the box and coming back, and in how few turns.

From the solved box, level by level, all states that its widest turns reach, told apart as far as the laws of the turns inside the
box tell (`box_levels`); an excursion goes out to one level and comes back as from another. Levels are exact, so
what was found is the shortest excursion, and a length at which nothing met is excluded. Closed boxes count however they
lie, with every piece as turns inside the box could have put it. Turns inside the box count only between those that open and
close it: before and after, they lead to the same family.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from oddswap.errors import BadOption, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import holdings
from oddswap.puzzles.boxes.box import BoxPuzzle, lowered
from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.budget import Budget, Clock, Finding, started
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.opening.box_levels import BoxLevels, round_trips
from oddswap.reasoning.opening.frames import Frame, frame_of
from oddswap.reasoning.opening.law_families import LawFamily, family_of, law_families
from oddswap.reasoning.search.kept_files import ThrownAway, fetch, key_of, store
from oddswap.reasoning.search.levels import Ending, MemoryUsedUp, TimeEnded, TimeUsedUp, keep_to
from oddswap.values.position import Arrangement

FOUND, BEYOND, OPEN, NEVER = "found", "not within this depth", "open", "never"
"""An excursion was found; none has at most the depth asked for; time or memory ended first; none at all."""

DEPTH = 12
"""So many turns an excursion may have, unless asked otherwise."""

KEPT = 400_000_000
"""Levels of more bytes are not kept on disk; those up to an earlier one are."""


class AllKnown(Ending):
    """For every family it is known how to come to it, or that nothing does."""


class DepthReached(Ending):
    """All excursions of as many turns as were asked for were looked at."""


class ReadBySign(Finding):
    """The readings are too many, so that orbits of four count by their sign alone."""


class MoreByLooking(Finding):
    """Looking tells ``classes`` apart, more than reading orbits without twins does."""

    classes: int


class Looking(Finding):
    """All excursions of ``length`` turns are being looked at; so many ``states`` were reached."""

    length: int
    states: int


Tell = Callable[[Looking, float], None]
"""Called with what is looked at, and the share of the levels that are done."""


@dataclass(frozen=True)
class MapEntry:
    """A family with its ``status`` and, where it was found, the ``moves`` of a shortest excursion to one of its classes.

    Any excursion to it has at least ``at_least`` turns; ``None`` where there is none.
    """

    family: LawFamily
    status: str
    moves: tuple[str, ...] | None
    at_least: int | None


@dataclass(frozen=True)
class WaysMap:
    """The map for ``puzzle``, whose turns keep the outline, within ``box``, whose turns do not.

    All excursions of up to ``complete`` turns were looked at, ``depth`` were asked for; ``ending`` is why it ended. ``states``
    were told apart in all; ``classes`` of them are classes of the closed box.
    """

    puzzle: Puzzle
    box: BoxPuzzle
    depth: int
    complete: int
    ending: Ending
    states: int
    classes: int
    ways: tuple[MapEntry, ...]
    notes: tuple[ReadBySign | ThrownAway | MoreByLooking, ...] = ()


def ways_map(puzzle: Puzzle, depth: int = DEPTH, budget: Budget | Clock | None = None, tell: Tell | None = None) -> WaysMap:
    """The map of a cuboid. `BadOption` for another puzzle, or where no turn leads out of the box.

    What was found is kept in the user's cache folder level by level, so that a map that was broken off, or that is asked for
    with a greater depth, goes on from there.

    >>> from oddswap import load
    >>> found = ways_map(load("cuboid:1x3x3"), 6)
    >>> [(way.family.words, way.status, len(way.moves)) for way in found.ways]
    [('two corners swapped', 'found', 5)]
    """
    puzzle, box = _sorts(puzzle)
    frame, clock = frame_of(box, tuple(puzzle.turns)), started(budget)
    families = law_families(frame, puzzle)
    walk = _Walk(frame, families, depth, clock, tell)
    ending = walk.run()
    ways = tuple(_way(puzzle, family, walk) for family in families[1:])
    classes = sum(family.classes for family in families)
    by_looking = law_book(puzzle).seen_index
    notes = (*walk.notes, *([] if by_looking in (None, classes) else [MoreByLooking(by_looking)]))
    return WaysMap(puzzle, box, depth, min(walk.proved, depth), ending, 1 + walk.levels.states, classes, ways, notes)


def back_in_the_box(puzzle: Puzzle, box: BoxPuzzle, moves: Iterable[str]) -> Arrangement | None:
    """What an excursion from the solved box makes of it, held as at home; ``None`` where the box does not come out closed.

    `UnknownMove` for a turn after which the cells would not hang together.
    """
    image = box.permutation(box.follow(" ".join(moves)))
    for _, whole in holdings(box):
        arrangement = box.arrangement(whole[image])
        if box.closed(arrangement) and (made := lowered(puzzle, box, arrangement)) is not None:
            return made
    return None


def _sorts(puzzle: Puzzle) -> tuple[Puzzle, BoxPuzzle]:
    """The box with all turns that keep its outline, and with all that close."""
    name = puzzle.name.removesuffix(",turns=all")
    if not name.startswith("cuboid:") or "," in name:
        raise BadOption(f"ways are mapped for boxes with all their turns, such as cuboid:2x3x4, not for {quoted(puzzle.name)}")
    inside = load(name)
    if (box := with_turns_out_of_the_box(inside)) is None:
        raise BadOption(f"no turn leads out of {quoted(name)}, or its grid is too large to follow: there are no ways to map")
    return inside, box


def _way(puzzle: Puzzle, family: LawFamily, walk: _Walk) -> MapEntry:
    frame, turns = walk.frame, walk.found.get(family.number)
    if turns is not None and len(turns) <= walk.depth:
        made = back_in_the_box(puzzle, frame.box, turns)
        if made is None or family_of(frame, puzzle, made) != family.number:
            raise AssertionError(f"{' '.join(turns)} does not lead to its class")
        return MapEntry(family, FOUND, turns, len(turns))
    if turns is None and walk.exhausted:
        return MapEntry(family, NEVER, None, None)
    return MapEntry(family, BEYOND if walk.proved >= walk.depth else OPEN, None, min(walk.proved, walk.depth) + 1)


class _Walk:
    """Levels around the solved box, grown to half the length of the excursions that are looked at.

    ``proved``: every excursion of up to so many turns was looked at.
    """

    def __init__(self, frame: Frame, families: tuple[LawFamily, ...], depth: int, clock: Clock, tell: Tell | None):
        self.frame, self.families, self.depth, self.clock, self.tell = frame, families, depth, clock, tell
        self.levels = BoxLevels(frame, frame.labelled.solved[None])
        self.found: dict[int, tuple[str, ...]] = {families[0].number: ()}
        self.proved, self.notes = 0, [ReadBySign()] if frame.by_sign else []
        self.key = _key(frame)
        self._restore()

    @property
    def sought(self) -> set[int]:
        """The families that are not found yet."""
        return {family.number for family in self.families} - self.found.keys()

    @property
    def exhausted(self) -> bool:
        """Whether there are no more states, and so no more excursions."""
        return not len(self.levels.edge)

    def run(self) -> Ending:
        """Go on until the depth is reached, all is found, or the budget ends: why it ended."""
        while self.sought and not self.exhausted:
            if self.proved >= self.depth:
                return DepthReached()
            try:
                self._longer()
            except TimeEnded:
                return TimeUsedUp(self.clock.budget.seconds)
            except MemoryError:
                return MemoryUsedUp(self.clock.budget.bytes)
            self._keep()
        return AllKnown()

    def _longer(self) -> None:
        """Look at all excursions of one turn more."""
        length = self.proved + 1
        if self.levels.depth < (length + 1) // 2:
            if self.levels.nbytes + self.levels.bytes_to_grow > self.clock.budget.bytes:
                raise MemoryError
            self.levels.grow(self._check)
        for family, turns in round_trips(self.levels, length // 2, self._check) if not self.exhausted else ():
            self.found.setdefault(family, turns)
        self.proved = length

    def _check(self) -> None:
        keep_to(self.clock)
        if self.tell:
            self.tell(Looking(self.proved + 1, self.levels.states), self.proved / self.depth)

    def _keep(self) -> None:
        if self.levels.states * 5 > KEPT:
            return
        held = io.BytesIO()
        words = {f"to {number}": np.array(turns, dtype=str) for number, turns in self.found.items()}
        np.savez(held, proved=self.proved, **words, **self.levels.arrays())
        store(self.key, held.getbuffer())

    def _restore(self) -> None:
        """Go on from what was kept."""
        data, note = fetch(self.key)
        self.notes += [note] if note else []
        if data is not None:
            kept = np.load(io.BytesIO(data), allow_pickle=False)
            self.proved = int(kept["proved"])
            self.found = {int(name[3:]): tuple(kept[name].tolist()) for name in kept.files if name.startswith("to ")}
            self.levels.restore({name: kept[name] for name in kept.files if name.startswith(("parents", "turns"))})


def _key(frame: Frame) -> bytes:
    """What a walk depends on."""
    told = frame.box.name, tuple(frame.box.turns), frame.inner, "ways map 3"
    return key_of(told, frame.moves.images, frame.box.neighbours, frame.families)
