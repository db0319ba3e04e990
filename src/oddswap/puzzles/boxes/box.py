"""Boxes that turn out of their box: ``cuboid:AxBxC,turns=all``.

About an axis whose two cross sides have the same parity a quarter turn closes, and takes layers out of the outline. So the box
lies in a larger grid (see `outlines.extended`), each cell of which holds a coloured piece, a *blank* inner one (they look
alike, but show once they are outside) or *air*; a turn takes one layer of that grid round, with whatever lies in it.
A turn that leaves the cells in more than one body is refused.

**Names of turns.** Layers have the place that they have in the closed box, whatever shape it has taken meanwhile: ``R`` is
the layer that is outermost on the right when the box is closed, ``2R`` the next one inwards. What stands out beyond it turns
under the doubled letter: ``RR`` is the layer one place beyond R, ``RRR`` the one beyond that. So a sequence of turns
that keep the outline is written as on the box that never leaves it.

The grid, its slots and their names are made in `grid`; which quarter turns close is said in `outlines`. An arrangement of the box
that keeps its outline is told as one of the box that may leave it by `lifted`, and back by `lowered`.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from oddswap.errors import UnknownMove
from oddswap.puzzles.base.puzzle import Puzzle, Turn, rotations_to
from oddswap.puzzles.base.shapes import Filled
from oddswap.puzzles.boxes.outlines import in_one_body, touching, why_not
from oddswap.values.position import START, Appearance, Arrangement, Holding, settle
from oddswap.values.sequence import FACES, ROTATIONS, Sequence, Step

Place = tuple[int, int, int]


@dataclass(frozen=True, eq=False, repr=False, kw_only=True)
class BoxPuzzle(Filled, Puzzle):
    """A box whose outline may change. ``places[b]`` is the cell of slot b in the grid, ``filled[b]`` whether the closed box
    has something there, ``blank_inside[b]`` whether that shows no colour.
    """

    sides: Place
    places: tuple[Place, ...]
    filled: np.ndarray
    blank_inside: np.ndarray

    leaves_outline = True
    shape_word = "outline"

    @cached_property
    def inner(self) -> frozenset[int]:
        """The blank cells inside, which nobody sees while the box is closed."""
        return frozenset(np.flatnonzero(self.blank_inside).tolist())

    def arrows(self, shapes: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """A turn can be made if there is something in the layer, and the cells still hang together afterwards."""
        cells = np.unpackbits(shapes, axis=1, count=len(self.slots))
        bits = np.packbits(cells.T, axis=1)
        held = self._hang_together(bits[self._sources.T].reshape(len(cells.T), -1)).reshape(len(self.turns), -1)
        held = np.unpackbits(held, axis=1, count=len(shapes)).astype(bool)
        turned = np.array([np.isin(np.arange(len(cells.T)), list(turn.slots)) for turn in self.turns.values()])
        return self._carried_bytes(shapes), held & (turned.astype(np.float32) @ cells.T.astype(np.float32) > 0)

    def may_stand(self, looks: np.ndarray, slots: np.ndarray) -> np.ndarray:
        """Whether the cells hang together; all other slots are as at home."""
        filled = np.repeat(self.filled[:, None], len(looks), axis=1)
        filled[slots] = self.solid(slots)[np.arange(len(slots))[:, None], looks.T]
        return np.unpackbits(self._hang_together(np.packbits(filled, axis=1)), count=len(looks)).astype(bool)

    def lets(self, looks: np.ndarray, slots: np.ndarray, moved: np.ndarray) -> np.ndarray:
        """Whether there is more than air in the layer that a turn moves."""
        at = np.flatnonzero(np.isin(slots, moved))
        return self.solid(slots[at])[np.arange(len(at)), looks[:, at]].any(axis=1)

    def torn(self, appearance: Appearance) -> str:
        """Cells that are seen, and do not hang together."""
        together = self.hangs_together(self.outline_seen(appearance))
        return "" if together else "the cells, as described, do not touch by whole faces"

    def for_viewer(self) -> dict:
        """Which pieces are more than air, and which slots touch, the core's last."""
        return {"sort": "outline", "filled": self.filled.tolist(), "near": self.neighbours.tolist()}

    @cached_property
    def neighbours(self) -> np.ndarray:
        """For each slot, and last for the core if all sides are odd, the slots that touch it or -1: shape (slots, 6)."""
        core = ((0, 0, 0),) if all(n % 2 for n in self.sides) else ()
        return touching((*self.places, *core))

    def hangs_together(self, outline: np.ndarray) -> bool:
        """Whether the filled slots, and the core, touch by whole faces."""
        return bool(self._hang_together(np.where(outline, np.uint8(1), np.uint8(0))[:, None])[0] & 1)

    def _hang_together(self, bits: np.ndarray) -> np.ndarray:
        core = np.full((len(self.neighbours) - len(bits), bits.shape[1]), 255, dtype=np.uint8)
        return in_one_body(np.concatenate([bits, core]), self.neighbours)

    def settled(self, moves: str | Sequence, start: Arrangement | None = None) -> tuple[tuple[Turn, ...], Holding]:
        """The elementary turns from ``start`` on, and the holding. `UnknownMove` for one that the shape does not allow."""
        turns, holding = self.unchecked(moves)
        outline = self.outline(start or self.solved)
        for i, turn in enumerate(turns):
            if (after := self._turned(outline, turn)) is None:
                raise UnknownMove(self._refusal(outline, turn, i + 1))
            outline = after
        return (*turns, *(self.rotations[name] for name in rotations_to(holding, tuple(self.rotations)))), holding

    def unchecked(self, moves: str | Sequence) -> tuple[tuple[Turn, ...], Holding]:
        """The turns that hands make, whatever the shape allows, and the holding; without rotations of the whole box."""
        turns, holding = [], START
        for step in self.read(moves).steps:
            made, holding = self._from_hands(step, holding)
            turns += made
        return tuple(turns), holding

    def outlines(self, moves: str | Sequence, start: Arrangement | None = None) -> tuple[np.ndarray, ...]:
        """The outline at the start and after each elementary turn."""
        found = [self.outline(start or self.solved)]
        for turn in self.settled(moves, start)[0]:
            found.append(self._carried(found[-1], turn))
        return tuple(found)

    def _from_hands(self, step: Step, holding: Holding) -> tuple[list[Turn], Holding]:
        if step.stem in FACES or step.stem in ROTATIONS or step.stem[0] not in FACES:
            settled, after = settle([step], self.alphabet.layers, start=holding)
            if after != holding and step.stem not in ROTATIONS and any(2 * part.stem in self.alphabet.names for part in settled):
                reason = f"{step} would turn the middle layer, which carries the core: turn the layers beside it instead"
                raise UnknownMove(reason)
            return [turn for part in settled for turn in self._elementary(part)], after
        own = holding.own(step.stem[0]) * len(step.stem)
        return [self._named(Step(own, 0, 0, step.amount))], holding

    def _named(self, step: Step) -> Turn:
        reason = "" if str(step) in self.turns else why_not(str(step), self.alphabet.layers)
        if reason:
            raise UnknownMove(f"{self.name} does not make the turn {step}: {reason}")
        return super()._named(step)

    def _turned(self, outline: np.ndarray, turn: Turn) -> np.ndarray | None:
        """The outline after a turn; ``None`` where nothing lies in the layer or the result falls apart."""
        after = self._carried(outline, turn)
        moves = turn.whole or outline[list(turn.slots)].any()
        return after if moves and self.hangs_together(after) else None

    def _refusal(self, outline: np.ndarray, turn: Turn, number: int) -> str:
        if not outline[list(turn.slots)].any():
            return f"turn {number}, {turn.name}, finds no layer there: nothing stands out so far at that moment"
        return f"turn {number}, {turn.name}, would leave cells that do not touch by a face: turn another layer first"


def lifted(puzzle: Puzzle, box: BoxPuzzle, arrangement: Arrangement) -> Arrangement:
    """An arrangement of the box that keeps its outline, as one of the box that may leave it."""
    geometry, pieces, twists = puzzle.geometry, list(box.solved.pieces), list(box.solved.twists)
    matrices = geometry.mechanism.rotations.matrices
    for slot, (piece, twist) in enumerate(zip(arrangement.pieces, arrangement.twists, strict=True)):
        if puzzle.slots[slot] not in box.slots:
            continue
        here, home = box.slot(puzzle.slots[slot]), box.slot(puzzle.slots[piece])
        turned = matrices[geometry.rotation_of(puzzle.base_label, puzzle.kind_of[slot].twist, piece, slot, twist)]
        wanted = box.geometry.mechanism.rotations.index(turned)
        ways = box.kind_of[here].twist
        fit = (box.geometry.rotation_of(box.base_label, ways, home, here, way) for way in range(ways))
        pieces[here], twists[here] = home, next(way for way, rotation in enumerate(fit) if rotation == wanted)
    return Arrangement(box.name, tuple(pieces), tuple(twists))


def lowered(puzzle: Puzzle, box: BoxPuzzle, arrangement: Arrangement) -> Arrangement | None:
    """The other way: ``None`` unless the outline is closed and every piece in a kind of slot, and turned in a way, that the box
    which keeps its outline knows. Of ways round that look alike, one that it knows is told.
    """
    pieces, twists = list(puzzle.solved.pieces), list(puzzle.solved.twists)
    number = {name: i for i, name in enumerate(puzzle.slots)}
    matrices, geometry = box.geometry.mechanism.rotations.matrices, puzzle.geometry
    if not box.closed(arrangement):
        return None
    for slot, name in enumerate(puzzle.slots):
        if name not in box.slots:
            continue
        here = box.slot(name)
        piece = arrangement.pieces[here]
        home = number.get(box.slots[piece])
        if home is None or puzzle.kind_of[home] is not puzzle.kind_of[slot]:
            return None
        ways = box.kind_of[here].twist
        twist, looks = arrangement.twists[here], box.looks[box.base_label[piece] + np.arange(ways)]
        alike = [twist, *np.flatnonzero(looks == looks[twist]).tolist()]
        turned = [matrices[box.geometry.rotation_of(box.base_label, ways, piece, here, way)] for way in alike]
        own = range(puzzle.kind_of[slot].twist)
        rotations = [geometry.rotation_of(puzzle.base_label, len(own), home, slot, way) for way in own]
        fit = [
            way
            for seen in turned
            for way, r in zip(own, rotations, strict=True)
            if np.abs(geometry.mechanism.rotations.matrices[r] - seen).max() < 1e-6
        ]
        if not fit:
            return None
        pieces[slot], twists[slot] = home, fit[0]
    return Arrangement(puzzle.name, tuple(pieces), tuple(twists))
