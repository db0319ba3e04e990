"""What somebody says they see, as it is being put together: turned there, told piece by piece, or painted sticker by sticker.

The three ways mix. An arrangement underlies everything; slots may be covered as *not seen*; single stickers may be painted over.
Every step gives a new sketch, so that any of them can be undone.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from random import Random
from types import MappingProxyType

from oddswap.describing.changes import changed
from oddswap.describing.sights import every_look
from oddswap.describing.stickers import facet_on, paints_of, seen_stickers, stickers
from oddswap.errors import BadTicket, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.lookalikes import first_sight, surplus
from oddswap.reasoning.verdicts.counting import Count, count_explanations
from oddswap.reasoning.verdicts.explanations import drawn, in_place
from oddswap.reasoning.verdicts.findings import SeenTooOften
from oddswap.values.appearance import Appearance
from oddswap.values.arrangement import Arrangement
from oddswap.values.grammar import listed
from oddswap.words import say
from oddswap.words.products.desk import NOT_TOGETHER, STRANGE, left_words

Place = tuple[int, str]
"""A slot's number and one of the faces that it touches."""


@dataclass(frozen=True, eq=False)
class Sketch:
    """``covered`` are slots that were not seen; ``painted`` has the possible paints of sticker places, empty for not seen."""

    puzzle: Puzzle
    arrangement: Arrangement
    covered: frozenset[int] = frozenset()
    painted: Mapping[Place, frozenset[str]] = field(default_factory=lambda: MappingProxyType({}))

    @property
    def appearance(self) -> Appearance:
        """What it looks like."""
        base = self.puzzle.appearance(self.arrangement)
        sights = [every_look(self.puzzle, b) if b in self.covered else sight for b, sight in enumerate(base.sights)]
        if not self.painted:
            return Appearance(self.puzzle.name, tuple(sights))
        colours = self.colours
        read = seen_stickers(self.puzzle, colours).sights
        slots = {slot for slot, _ in self.painted}
        return Appearance(self.puzzle.name, tuple(read[b] if b in slots else sight for b, sight in enumerate(sights)), colours)

    @property
    def colours(self) -> tuple[frozenset[str], ...]:
        """The possible paints of every sticker place, empty where it was not seen; for puzzles that can be painted."""
        table, paints = stickers(self.puzzle), paints_of(self.puzzle, self.arrangement)
        return tuple(
            self.painted.get(place, frozenset() if place[0] in self.covered else frozenset((paint,)))
            for place, paint in zip(table.places, paints, strict=True)
        )

    def turned(self, arrangement: Arrangement) -> Sketch:
        """The same after turning; what was covered or painted is taken off, as it has moved."""
        return Sketch(self.puzzle, arrangement)

    def change(self, change: str) -> Sketch:
        """The same after a change by hand, such as ``swap UF UR`` or ``flip UF``; see `oddswap.describing.changes`."""
        return replace(self, arrangement=changed(self.puzzle, [change], self.arrangement))

    def exchanged(self, one: str, other: str) -> Sketch:
        """The same with what sits in two slots exchanged. `BadTicket` for one slot twice."""
        if one == other:
            raise BadTicket(f"{quoted(one)} was picked twice: pick the other piece, too")
        return self.change(f"swap {one} {other}")

    def twisted(self, slot: str) -> Sketch:
        """The same with the piece in a slot turned in its place by one step. `BadTicket` where it has one way round only."""
        kind = self.puzzle.kind_of[self.puzzle.slot(slot)]
        if kind.twist == 1:
            raise BadTicket(f"the piece at {slot} has one way round only: exchange it with another")
        return self.change(f"flip {slot}" if kind.twist == 2 else f"{'twist' if kind.twist == 3 else 'turn'} {slot} cw")

    def cover(self, slots: Iterable[str]) -> Sketch:
        """The same with slots covered as not seen, or seen again where they were; paint there is taken off."""
        numbers = frozenset(self.puzzle.slot(slot) for slot in slots)
        kept = {place: paints for place, paints in self.painted.items() if place[0] not in numbers}
        return replace(self, covered=self.covered ^ numbers, painted=MappingProxyType(kept))

    def nothing_seen(self) -> Sketch:
        """Everything covered, to begin with painting."""
        return Sketch(self.puzzle, self.puzzle.solved, frozenset(range(len(self.puzzle.slots))))

    def paint(self, slot: str, face: str, paints: Iterable[str]) -> Sketch:
        """The same with one sticker painted: one paint, several for *this or that*, none for *cannot see*.

        `BadTicket` for a puzzle without such stickers, or a place or paint that it does not have.
        """
        table = stickers(self.puzzle)
        if table is None:
            raise BadTicket(f"{self.puzzle.title} is told by its pieces, not by stickers: pick pieces instead")
        place, chosen = (self.puzzle.slot(slot), face), frozenset(paints)
        if place not in table.at:
            raise BadTicket(f"{slot} has no sticker on {quoted(face)}: pick one that it has")
        known = set(self.puzzle.geometry.paints.values())
        if not chosen <= known:
            strange, its = quoted(", ".join(sorted(chosen - known))), ", ".join(sorted(known))
            raise BadTicket(f"{strange} is no colour of this puzzle: it has {its}")
        return replace(self, painted=MappingProxyType({**self.painted, place: chosen}))


def place_of(puzzle: Puzzle, arrangement: Arrangement, slot: int, facet: str) -> Place:
    """The sticker place where a facet of the piece in a slot shows just now."""
    faces = puzzle.slots[slot].partition(".")[0]
    return next((slot, face) for face in faces if facet_at(puzzle, arrangement, slot, face) == facet)


def facet_at(puzzle: Puzzle, arrangement: Arrangement, slot: int, face: str) -> str:
    """The facet, of the piece that sits in a slot, that shows on a face of the cuts."""
    piece, twist = arrangement.pieces[slot], arrangement.twists[slot]
    rotation = puzzle.geometry.rotation_of(puzzle.base_label, puzzle.kind_of[slot].twist, piece, slot, twist)
    return facet_on(puzzle, rotation, face)


@dataclass(frozen=True)
class SketchCheck:
    """What is known of a sketch while it is made: ``complaints`` say what cannot be, ``left`` how much is still open."""

    complaints: tuple[str, ...]
    count: Count
    open_slots: int

    @property
    def left(self) -> str:
        """How many explanations remain, in words."""
        return left_words(not self.complaints, self.open_slots, self.count.appearances)


def check_sketch(sketch: Sketch) -> SketchCheck:
    """Counts, pieces that cannot exist, pieces seen twice; quick enough to go along with every stroke."""
    puzzle, seen = sketch.puzzle, sketch.appearance
    complaints = []
    if seen.foreign:
        names = listed(puzzle.slots[b] for b in seen.foreign[:6])
        complaints.append(STRANGE.format(names))
    too_many, _ = surplus(puzzle, seen)
    if too_many:
        complaints.append(say(SeenTooOften(tuple(puzzle.slots[p] for p in too_many[:6]))))
    count = count_explanations(puzzle, seen) if not seen.foreign else Count(puzzle, 0, 0, 0, {})
    if count.total == 0 and not complaints:
        complaints.append(NOT_TOGETHER)
    return SketchCheck(tuple(complaints), count, len(seen.uncertain))


def sketch_of(puzzle: Puzzle, seen: Appearance) -> Sketch:
    """A sketch that looks like an appearance; what no piece can show in a slot told by its piece alone is left uncovered."""
    if not seen.foreign:
        nearest = in_place(puzzle, seen)
        whole = nearest if nearest.complete else drawn(puzzle, nearest, Random(0))
        sighted = first_sight(puzzle, whole) if whole else None
        if sighted is not None:
            sketch = Sketch(puzzle, sighted[0], frozenset(seen.uncertain))
            if sketch.appearance.sights == seen.sights:
                return sketch
    if not seen.stickers:
        return Sketch(puzzle, puzzle.solved).cover(puzzle.slots[b] for b in (*seen.uncertain, *seen.foreign))
    places = zip(stickers(puzzle).places, seen.stickers, strict=True)
    return Sketch(puzzle, puzzle.solved, painted=MappingProxyType(dict(places)))
