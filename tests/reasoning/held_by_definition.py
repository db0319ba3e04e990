"""Verdicts by their definition where nothing fixes the holding, on stickers in integer cells: every holding is tried.

Nothing here knows of laws, labels, kinds or looks. A piece is a cell; an explanation is a permutation of places; pieces look
alike where one can be put where the other belongs, as some turns do, and shows the same colours there.

A sight is held so that the fewest cells look wrong. It is *ordinary* when some turns, and some holding, lead to an explanation
that differs from a first-sight one on free pieces only; else a *lookalike* when they lead to any explanation.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from tests.reasoning.stickers_by_cell import OUT, Box, Perm, Vector, closed, then

Pieces = frozenset[Vector]


@dataclass(frozen=True, eq=False)
class HeldByDefinition:
    """A box, the turns that its copy makes, and all that keep its outline, by name."""

    box: Box
    turns: list[str]
    wide: list[str]

    @cached_property
    def pieces(self) -> dict[Vector, tuple[int, ...]]:
        """The places of each cell, which are the stickers of the piece at home there."""
        found: dict[Vector, list[int]] = {}
        for number, (cell, _) in enumerate(self.box.places):
            found.setdefault(cell, []).append(number)
        return {cell: tuple(places) for cell, places in found.items()}

    @cached_property
    def made(self) -> set[Perm]:
        """All that the copy's turns do, held in one way."""
        return set(closed([self.box.turn(name) for name in self.turns], self.box.still))

    @cached_property
    def placements(self) -> dict[Vector, list[tuple[int, ...]]]:
        """Every way in which turns of any kind, and holding it otherwise, can put a piece: where its stickers come to lie."""
        steps = [*(self.box.turn(name) for name in self.wide), *self.box.rotations]
        found = {}
        for cell, stickers in self.pieces.items():
            known = {stickers}
            for now in (queue := [stickers]):
                for step in steps:
                    if (after := tuple(step[place] for place in now)) not in known:
                        known.add(after)
                        queue.append(after)
            found[cell] = queue
        return found

    def like(self, among: Pieces) -> list[Perm]:
        """Every way in which these pieces can be put for one another at home so that nothing shows."""
        every = [[(self._cell(put), put) for put in self.placements[cell] if self._alike(cell, put)] for cell in among]
        return [self._put(among, puts) for puts in _apart([[one for one in each if one[0] in among] for each in every])]

    def _put(self, cells: Iterable[Vector], puts: Iterable[tuple[int, ...]]) -> Perm:
        """These pieces put so, all others as they are."""
        image = list(self.box.still)
        for cell, put in zip(cells, puts, strict=True):
            for sticker, place in zip(self.pieces[cell], put, strict=True):
                image[sticker] = place
        return tuple(image)

    def _cell(self, put: tuple[int, ...]) -> Vector:
        return self.box.places[put[0]][0]

    def _alike(self, cell: Vector, put: tuple[int, ...]) -> bool:
        return all(self.box.colours[a] == self.box.colours[b] for a, b in zip(self.pieces[cell], put, strict=True))

    @cached_property
    def hidden(self) -> list[Perm]:
        return self.like(frozenset(self.pieces))

    def wrong(self, image: Perm) -> Pieces:
        """The cells that do not show their own colours."""
        shown, own = self.box.seen(image), self.box.colours
        return frozenset(cell for cell, places in self.pieces.items() if any(shown[p] != own[p] for p in places))

    def away(self, image: Perm) -> int:
        """How many pieces are not at home."""
        return sum(any(image[p] != p for p in places) for places in self.pieces.values())

    @cached_property
    def traces(self) -> list[tuple[Pieces, Pieces, Pieces]]:
        """For each turn the cells that it moves, those that show it, and those in which it turns a piece unseen."""
        found = []
        for turn in map(self.box.turn, self.turns):
            touched = frozenset(cell for cell, places in self.pieces.items() if any(turn[p] != p for p in places))
            still = frozenset(cell for cell in touched if self.box.places[turn[self.pieces[cell][0]]][0] == cell)
            found.append((touched, self.wrong(turn), still - self.wrong(turn)))
        return found

    def free(self, wrong: Pieces) -> Pieces:
        """Pieces that look wrong, that a turn touching these turns unseen, or that are quiet in a turn which is seen enough."""
        found = set(wrong)
        for touched, showing, unseen in self.traces:
            if touched & wrong:
                found |= unseen
            if len(showing & wrong) >= 3 and 2 * len(showing & wrong) >= len(showing):
                found |= touched - showing
        return frozenset(found)

    def is_reached(self, image: Perm) -> bool:
        return any(then(image, rotation) in self.made for rotation in self.box.rotations)

    def verdict(self, image: Perm) -> str | None:
        """*Ordinary*, *lookalike*, or ``None``: the turns of this copy lead to nothing that looks like this."""
        explanations = [then(unseen, image) for unseen in self.hidden]
        if not any(map(self.is_reached, explanations)):
            return None
        held = {rotation: self.wrong(then(image, rotation)) for rotation in self.box.rotations}
        fewest = min(map(len, held.values()))
        for rotation, wrong in held.items():
            if len(wrong) == fewest and self._is_ordinary([then(one, rotation) for one in explanations], wrong):
                return "ordinary"
        return "lookalike"

    def _is_ordinary(self, explanations: list[Perm], wrong: Pieces) -> bool:
        least = min(map(self.away, explanations))
        firsts, unseen = [one for one in explanations if self.away(one) == least], self.like(self.free(wrong))
        return any(self.is_reached(then(hidden, first)) for first in firsts for hidden in unseen)

    def swap(self, one: str, other: str) -> Perm:
        """Two pieces exchanged by hand, the sticker on the first-named face of the one slot on that of the other."""
        found = []
        for here, there in ((one, other), (other, one)):
            puts = [put for put in self.placements[self.cell(here)] if self._cell(put) == self.cell(there)]
            (put,) = [put for put in puts if len(puts) == 1 or self._faces(self.cell(here), put, here[0], there[0])]
            found.append(put)
        return self._put((self.cell(one), self.cell(other)), found)

    def _faces(self, cell: Vector, put: tuple[int, ...], was: str, now: str) -> bool:
        sticker = next(s for s, place in zip(put, self.pieces[cell], strict=True) if self.box.places[place][1] == OUT[was])
        return self.box.places[sticker][1] == OUT[now]

    def cell(self, slot: str) -> Vector:
        """The cell of a slot: at its faces, in the layers counted from others, and half way where neither says anything."""
        faces, _, layers = slot.partition(".")
        found = [0, 0, 0]
        for face, depth in [*((face, "1") for face in faces), *re.findall(r"([a-z])(\d+)", layers)]:
            way = OUT[face.upper()]
            axis = next(a for a in range(3) if way[a])
            found[axis] = way[axis] * (self.box.sides[axis] + 1 - 2 * int(depth))
        return (found[0], found[1], found[2])


def _apart(choices: list[list[tuple[Vector, tuple[int, ...]]]]) -> Iterator[tuple[tuple[int, ...], ...]]:
    """One of each list, no two in one cell."""
    if not choices:
        yield ()
        return
    for cell, put in choices[0]:
        rest = [[other for other in each if other[0] != cell] for each in choices[1:]]
        if all(rest):
            for puts in _apart(rest):
                yield (put, *puts)
