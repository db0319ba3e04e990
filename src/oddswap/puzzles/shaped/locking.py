"""Two layers of wedges that lock each other: a half turn exchanges the right halves of both where no wedge lies across the cut.

**Turns.** Written as in the World Cube Association's Regulations, Article 12 (from memory): ``(x, y)`` turns the top layer
clockwise by x units and the bottom layer by y, each as seen from outside; ``/`` turns the right half by half a turn. The turn of
one layer, by however many units, counts as one, and so does ``/``: ``(1, -1) /`` are three turns. In words a layer's turn is
``top 3`` or ``bottom -2``, and ``/`` is ``half``.

**Slots.** For each width a wedge of that width may begin at every unit, so each width has as many slots as there are units, most
of them empty: ``U1`` is the first unit of the top layer, ``U2-3`` the two after it. Units are counted from the cut in front to the
right and round; the bottom's lie beneath those of the top. So where a turn takes a slot never depends on the shape.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from oddswap.errors import NotationError, UnknownMove, quoted
from oddswap.puzzles.base.filled import Filled
from oddswap.puzzles.base.named import NamedPuzzle
from oddswap.puzzles.base.puzzle import Turn
from oddswap.values import sequence
from oddswap.values.appearance import Appearance
from oddswap.values.arrangement import Arrangement
from oddswap.values.holding import START, Holding
from oddswap.values.sequence import Step

LAYERS = {"U": "top", "D": "bottom"}
WORD = re.compile(
    r"\(\s*([+-]?\d{1,4})\s*,\s*([+-]?\d{1,4})\s*\)|(top|bottom)\s+([+-]?\d{1,4})(?!\d)|(/|half\b)", re.ASCII | re.IGNORECASE
)


@dataclass(frozen=True, repr=False)
class WedgeStep(Step):
    """A turn of one layer by units, or of the right half, written as Article 12 does."""

    @property
    def name(self) -> str:
        return {"U": "(x,0)", "D": "(0,y)"}.get(self.stem, self.stem)

    def __str__(self) -> str:
        return {"U": f"({self.amount},0)", "D": f"(0,{self.amount})"}.get(self.stem, self.stem)


@dataclass(frozen=True, eq=False, repr=False, kw_only=True)
class WedgePuzzle(Filled, NamedPuzzle):
    """Two layers of ``units`` units. ``widths[b]`` is how many units slot b covers, 0 for the middle slab; ``across[b]`` whether
    it lies across the cut.
    """

    filled: np.ndarray
    widths: np.ndarray
    across: np.ndarray
    units: int

    def arrows(self, shapes: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """A layer turns always, and the right half where no wedge lies across the cut."""
        free = ~(shapes & np.packbits(self.across)).any(axis=1)
        halves = np.array([turn.step.stem == "/" for turn in self.turns.values()])
        return self._carried_bytes(shapes), free | ~halves[:, None]

    def covered(self, outline: np.ndarray) -> np.ndarray:
        """How many wedges lie on each unit of both layers when these slots are filled: ints, shape (2, units)."""
        count = np.zeros((2, self.units), dtype=int)
        for slot in np.flatnonzero(outline & (self.widths > 0)).tolist():
            layer, first = divmod((slot - self.kind_of[slot].start), self.units)
            count[layer, (first + np.arange(self.widths[slot])) % self.units] += 1
        return count

    def torn(self, appearance: Appearance) -> str:
        """Wedges that are seen and do not fill their layers."""
        wrong = (self.covered(self.outline_seen(appearance)) != 1).any(axis=1).tolist()
        layers = [name for name, there in zip(LAYERS.values(), wrong, strict=True) if there]
        return f"the wedges that the ticket tells do not fill the {' and the '.join(layers)} layer" if layers else ""

    def runs(self, outline: np.ndarray) -> str:
        """The name of a shape: the widths of both layers, each from the cut in front to the right and round; what lies across
        that cut comes last, with how far it reaches over.

        >>> from oddswap.puzzles.catalogue import load
        >>> box = load("wedges:12")
        >>> box.runs(box.filled), box.runs(box.outline(box.follow("(1, 0) /")))
        ('12121212 over 12121212', '21212112 over 12112121 2+1')
        """
        layers = []
        for layer in range(2):
            found = []
            for slot in np.flatnonzero(outline & (self.widths > 0)).tolist():
                of, first = divmod(slot - self.kind_of[slot].start, self.units)
                over = first + self.widths[slot] - self.units
                found += [(first, f"{self.widths[slot]}" if over < 1 else f" {self.widths[slot]}+{over}")] if of == layer else []
            layers.append("".join(text for _, text in sorted(found)))
        return " over ".join(layers)

    def read(self, moves: str | Iterable[str] | sequence.Sequence) -> sequence.Sequence:
        """Moves as a `Sequence`; `NotationError` for what is neither ``(x, y)`` nor ``/``, nor these in words."""
        if isinstance(moves, sequence.Sequence):
            return moves
        text, at, steps = sequence.as_text(moves).replace("−", "-"), 0, []
        while at < len(text):
            if text[at].isspace() or (text[at] == "," and at):
                at += 1
                continue
            word = WORD.match(text, at)
            if word is None:
                reason = f"{quoted(text[at:].split()[0], 20)} is no turn of this puzzle: write such as (1, -2) / or top 1, bottom -2, half"
                raise NotationError(text, at + 1, reason)
            both, layer = word[1] is not None, (word[3] or "").casefold()
            top, bottom = (word[1], word[2]) if both else (word[4] * (layer == "top"), word[4] * (layer == "bottom")) if layer else ("", "")
            turned = [(stem, int(amount or 0)) for stem, amount in (("U", top), ("D", bottom)) if int(amount or 0) % self.units]
            if not word[5] and not turned:
                raise NotationError(text, at + 1, f"{word[0]} turns nothing: leave it out")
            steps += [WedgeStep("/", 0, 0, 1, 2)] if word[5] else [WedgeStep(stem, 0, 0, n, self.units) for stem, n in turned]
            at = word.end()
        return sequence.Sequence(tuple(steps))

    def _elementary(self, step: Step) -> list[Turn]:
        return [self._named(step)]

    def settled(self, moves: str | sequence.Sequence, start: Arrangement | None = None) -> tuple[tuple[Turn, ...], Holding]:
        """The turns of single layers and of the right half. `UnknownMove` for a half turn that a wedge forbids."""
        outline, turns = self.outline(start or self.solved), super().settled(moves, start)[0]
        for number, turn in enumerate(turns, 1):
            if turn.step.stem == "/" and (outline & self.across).any():
                slot = self.slots[np.flatnonzero(outline & self.across)[0]]
                raise UnknownMove(
                    f"turn {number}, the half turn, is blocked by the wedge at {slot}, which lies across the cut of the shape "
                    f"{self.runs(outline)}: turn the {LAYERS[slot[0]]} layer first"
                )
            outline = self._carried(outline, turn)
        return turns, START
