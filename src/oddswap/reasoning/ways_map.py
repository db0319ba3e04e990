"""The map of the ways: which law classes of a closed box are reached by leaving the box and coming back, and in how few turns.

From the solved box, level by level, all states that its widest turns reach, told apart as far as the laws of the turns inside the
box tell (`fields`); where these get many, from the closed boxes of each family of classes, too, until they meet. Levels are
exact, so what was found is the shortest excursion, and a length at which nothing met is excluded. Closed boxes count however
they lie, with every piece as turns inside the box could have put it. Turns inside the box count only between those that open and
close it: before and after, they lead to the same family.
"""

from __future__ import annotations

import hashlib
import io
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from oddswap.errors import BadOption, quoted
from oddswap.puzzles.boxes import BoxPuzzle
from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.puzzles.changes import changed
from oddswap.puzzles.lifting import lowered
from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.excursions import Frame, frame_of, inverses, met
from oddswap.reasoning.fields import Field
from oddswap.reasoning.kept_files import fetch, store
from oddswap.reasoning.law_families import Family, family_of, family_of_row, law_families, packed
from oddswap.reasoning.search import Budget
from oddswap.values.arrangement import Arrangement

FOUND, BEYOND, OPEN, NEVER = "found", "not within this depth", "open", "never"
"""An excursion was found; none has at most the depth asked for; time or memory ended first; none at all."""

DEPTH = 10
"""So many turns an excursion may have, unless asked otherwise."""

NEAR = 20_000
"""A level around the solved box of more states is met from the families, too."""

KEPT = 400_000_000
"""A walk of more bytes is not kept on disk; an earlier level of it is."""

Tell = Callable[[str, float], None]
"""Called with what is being done, and the share of the levels that are done."""


@dataclass(frozen=True)
class Way:
    """A family with its ``status`` and, where it was found, the ``moves`` of a shortest excursion to one of its classes.

    Any excursion to it has at least ``at_least`` turns; ``None`` where there is none.
    """

    family: Family
    status: str
    moves: tuple[str, ...] | None
    at_least: int | None


@dataclass(frozen=True)
class WaysMap:
    """The map for ``puzzle``, whose turns keep the outline, within ``box``, whose turns do not.

    All excursions of up to ``complete`` turns were looked at, ``depth`` were asked for; ``reason`` says why it ended. ``states``
    were told apart in all; ``classes`` of them are classes of the closed box.
    """

    puzzle: Puzzle
    box: BoxPuzzle
    depth: int
    complete: int
    reason: str
    states: int
    classes: int
    ways: tuple[Way, ...]
    notes: tuple[str, ...] = ()


def ways_map(puzzle: Puzzle, depth: int = DEPTH, budget: Budget | None = None, tell: Tell | None = None) -> WaysMap:
    """The map of a cuboid. `BadOption` for another puzzle, or where no turn leads out of the box.

    What was found is kept in the user's cache folder level by level, so that a map that was broken off, or that is asked for
    with a greater depth, goes on from there.

    >>> from oddswap.puzzles.catalogue import load
    >>> found = ways_map(load("cuboid:1x3x3"), 6)
    >>> [(way.family.words, way.status, len(way.moves)) for way in found.ways]
    [('two corners exchanged', 'found', 5)]
    """
    puzzle, box = _sorts(puzzle)
    frame, budget = frame_of(box, tuple(puzzle.turns)), budget or Budget()
    families = law_families(frame, puzzle)
    walk = _Walk(frame, puzzle, families, depth, budget, tell)
    reason = walk.run()
    ways = tuple(_way(family, walk) for family in families[1:])
    classes = sum(family.classes for family in families)
    return WaysMap(puzzle, box, depth, min(walk.proved, depth), reason, walk.states, classes, ways, tuple(walk.notes))


def back_in_the_box(puzzle: Puzzle, box: BoxPuzzle, moves: Iterable[str]) -> Arrangement | None:
    """What an excursion from the solved box makes of it, held as at home; ``None`` where the box does not come out closed.

    `UnknownMove` for a turn after which the cells would not hang together.
    """
    queue, tried = [box.permutation(box.follow(" ".join(moves)))], set()
    for image in queue:
        arrangement = box.arrangement(image)
        if arrangement in tried:
            continue
        tried.add(arrangement)
        if box.closed(arrangement) and (made := lowered(puzzle, box, arrangement)) is not None:
            return made
        queue += [turn.permutation[image] for turn in box.rotations.values()]
    return None


def _sorts(puzzle: Puzzle) -> tuple[Puzzle, BoxPuzzle]:
    """The box with all turns that keep its outline, and with all that close."""
    name = puzzle.name.removesuffix(",turns=all")
    if not name.startswith("cuboid:") or "," in name:
        raise BadOption(f"ways are mapped for boxes with all their turns, such as cuboid:2x3x4, not for {quoted(puzzle.name)}")
    inside = load(name)
    box = with_turns_out_of_the_box(inside)
    if box is None:
        raise BadOption(f"no turn leads out of {quoted(name)}, or its grid is too large to follow: there are no ways to map")
    return inside, box


def _way(family: Family, walk: _Walk) -> Way:
    frame, puzzle, word = walk.frame, walk.puzzle, walk.found.get(family.number)
    if word is not None and len(word) <= walk.depth:
        names = list(frame.box.turns)
        moves = tuple(names[move] for move in word)
        made = back_in_the_box(puzzle, frame.box, moves)
        if made is None or family_of(frame, puzzle, made) != family.number:
            raise AssertionError(f"{' '.join(moves)} does not lead to its class")
        return Way(family, FOUND, moves, len(moves))
    if family.number in walk.never:
        return Way(family, NEVER, None, None)
    return Way(family, BEYOND if walk.proved >= walk.depth else OPEN, None, min(walk.proved, walk.depth) + 1)


ALL_FOUND = "for every family it is known"
DEEP_ENOUGH = "all excursions of that many turns were looked at"


BY_SIGN = "the readings of the pieces are too many, so that orbits of four count by their sign alone: pairing laws are left out"


class _TimeEnded(Exception):
    """The time of the budget is used up."""


class _Walk:
    """A field around the solved box and, once that is large, one around each family that is not found yet, until they meet.

    ``proved``: every excursion of up to so many turns was looked at.
    """

    def __init__(self, frame: Frame, puzzle: Puzzle, families: tuple[Family, ...], depth: int, budget: Budget, tell: Tell | None):
        self.frame, self.puzzle, self.families, self.depth = frame, puzzle, families, depth
        self.budget, self.tell, self.ended = budget, tell, time.monotonic() + budget.seconds
        self.out, self.back = Field(frame, frame.labelled.solved[None]), dict[int, Field]()
        self.found: dict[int, tuple[int, ...]] = {families[0].number: ()}
        self.never: set[int] = set()
        self.proved, self.notes = 0, [BY_SIGN] if frame.by_sign else []
        self.homes, self.inverse, self.key = homes(frame), inverses(frame), _key(frame)
        self._take_up()

    @property
    def states(self) -> int:
        return 1 + self.out.states + sum(field.states for field in self.back.values())

    @property
    def sought(self) -> list[Family]:
        """The families that may still be found."""
        return [family for family in self.families if family.number not in {*self.found, *self.never}]

    def run(self) -> str:
        """Go on until the depth is reached, all is found, or the budget ends: the reason."""
        while self.sought:
            if self.proved >= self.depth:
                return DEEP_ENOUGH
            try:
                self._longer()
            except _TimeEnded:
                return f"the time of {self.budget.seconds:g} s ended"
            except MemoryError:
                return f"longer excursions need more memory than {self.budget.memory_bytes / 1e9:g} GB"
            self._keep()
        return ALL_FOUND

    def _longer(self) -> None:
        """Look at all excursions of one turn more."""
        if not self.back and len(self.out.edge) > NEAR:
            self.back = {family.number: Field(self.frame, self._closed(family)) for family in self.sought}
        back = [self.back[family.number] for family in self.sought] if self.back else []
        if not back or len(self.out.edge) <= sum(len(field.edge) for field in back):
            self._grow(self.out)
        else:
            for field in back:
                if self.out.depth + field.depth == self.proved:
                    self._grow(field)
        if back:
            self._meet()
        else:
            self._look()
        self.proved += 1
        self.back = {family.number: self.back[family.number] for family in self.sought} if self.back else {}

    def _grow(self, field: Field) -> None:
        if field.bytes_to_grow + self.out.nbytes + sum(one.nbytes for one in self.back.values()) > self.budget.memory_bytes:
            raise MemoryError
        field.grow(self._check)

    def _check(self) -> None:
        if time.monotonic() > self.ended:
            raise _TimeEnded
        if self.tell:
            self.tell(f"excursions of {self.proved + 1} turns, {self.states:,} states so far", self.proved / self.depth)

    def _look(self) -> None:
        """Find the closed boxes of the new level."""
        solid, rows = self.frame.moves.solid, self.out.edge
        outlines = np.packbits(solid[np.arange(rows.shape[1]), rows], axis=1)
        for outline, back in self.homes.items():
            for place in np.flatnonzero((outlines == np.frombuffer(outline, dtype=np.uint8)).all(axis=1)).tolist():
                row = rows[place]
                for name in back:
                    row = self.frame.labelled.apply(row, name)
                if self.frame.in_place(row):
                    self.found.setdefault(family_of_row(self.frame, row), tuple(self.out.word(place)))
        if not len(rows):
            self.never = {family.number for family in self.sought}

    def _meet(self) -> None:
        for family in self.sought:
            field = self.back[family.number]
            word = next(met(self.out, field, self.inverse), None)
            if word is not None:
                self.found[family.number] = tuple(word)
            elif not len(field.edge) or not len(self.out.edge):
                self.never.add(family.number)

    def _closed(self, family: Family) -> np.ndarray:
        """The closed boxes of a family, lying on every side: all that turns inside the box make of one of them."""
        model, turns = self.frame.labelled, self.frame.inner
        queue = [packed(self.frame, self.puzzle, changed(self.puzzle, family.changes))]
        reached = {self.frame.keys(queue[0][None]).tobytes()}
        for row in queue:
            for name in turns:
                after = model.apply(row, name)
                key = self.frame.keys(after[None]).tobytes()
                if key not in reached:
                    reached.add(key)
                    queue.append(after)
        rows = np.array(queue)
        lying = []
        for back in self.homes.values():
            turned = rows
            for name in reversed(back):
                turned = model.apply(turned, str(self.frame.box.rotations[name].step.inverse()))
            lying.append(turned)
        return np.concatenate(lying)

    def _keep(self) -> None:
        fields = {"out": self.out, **{str(number): field for number, field in self.back.items()}}
        if sum(field.nbytes for field in fields.values()) > KEPT:
            return
        held = io.BytesIO()
        words = {f"to {number}": np.array(word, dtype=np.uint8) for number, word in self.found.items()}
        arrays = {f"field {name} {part}": array for name, field in fields.items() for part, array in field.arrays().items()}
        np.savez(held, proved=self.proved, never=np.array(sorted(self.never), dtype=np.int64), **words, **arrays)
        store(self.key, held.getbuffer())

    def _take_up(self) -> None:
        """Go on from what was kept."""
        data, note = fetch(self.key)
        self.notes += [note] if note else []
        if data is None:
            return
        kept = np.load(io.BytesIO(data), allow_pickle=False)
        fields: dict[str, dict[str, np.ndarray]] = {}
        for name in kept.files:
            match name.split():
                case "to", number:
                    self.found[int(number)] = tuple(kept[name].tolist())
                case "field", of, part:
                    fields.setdefault(of, {})[part] = kept[name]
        self.proved, self.never = int(kept["proved"]), set(kept["never"].tolist())
        taken = {of: Field.taken_up(self.frame, arrays) for of, arrays in fields.items()}
        self.out = taken.pop("out")
        self.back = {int(number): field for number, field in taken.items()}


def homes(frame: Frame) -> dict[bytes, tuple[str, ...]]:
    """The closed box as it lies on each side: its outline as packed bits, and the rotations that bring it back home."""
    model, solid = frame.labelled, frame.moves.solid
    found: dict[bytes, tuple[str, ...]] = {}
    queue: list[tuple[np.ndarray, tuple[str, ...]]] = [(model.solved, ())]
    for row, back in queue:
        outline = np.packbits(solid[np.arange(len(row)), row]).tobytes()
        if outline not in found:
            found[outline] = back
            queue += [(model.apply(row, str(turn.step.inverse())), (name, *back)) for name, turn in frame.box.rotations.items()]
    return found


def _key(frame: Frame) -> bytes:
    """What a walk depends on."""
    digest = hashlib.sha256(repr((frame.box.name, tuple(frame.box.turns), frame.inner, "ways map", NEAR)).encode())
    for part in (frame.moves.images, frame.moves.solid, frame.moves.neighbours, frame.families):
        digest.update(np.ascontiguousarray(part).tobytes())
    return digest.digest()
