"""Two layers of wedges that lock each other: a half turn exchanges the right halves of both where no wedge lies across the cut.

**Turns.** Written as in the World Cube Association's Regulations, Article 12 (from memory): ``(x, y)`` turns the top layer
clockwise by x units and the bottom layer by y, each as seen from outside; ``/`` turns the right half by half a turn. The turn of
one layer, by however many units, counts as one, and so does ``/``: ``(1, -1) /`` are three turns. In words a layer's turn is
``top 3`` or ``bottom -1``, and ``/`` is ``half``.

**Slots.** A wedge may begin at every unit, so each width has as many slots as there are units, most of them empty: ``U1`` is the
first unit of the top layer, ``U2-3`` the two after it. Units are counted from the cut in front to the right and round;
the bottom's lie beneath those of the top. So where a turn takes a slot never depends on the shape.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np

from oddswap.errors import NotationError, UnknownMove, quoted
from oddswap.puzzles.base.named import NamedPuzzle
from oddswap.puzzles.base.puzzle import Turn
from oddswap.puzzles.base.shape_tree import STAGES, around_home
from oddswap.puzzles.base.shapes import Filled
from oddswap.values.position import START, Appearance, Arrangement, Holding, Sight
from oddswap.values.sequence import Sequence, Step, as_text

LAYERS = {"U": "top", "D": "bottom"}
NUMBER = r"([+-]?\d{1,4})"
WORD = re.compile(
    rf"(?:\(\s*{NUMBER}\s*,\s*{NUMBER}\s*\)|(top|bottom)\s+{NUMBER}(?!\d)|(/|half\b))[\s,]*", re.ASCII | re.IGNORECASE
)


@dataclass(frozen=True, repr=False)
class WedgeStep(Step):
    """A turn of one layer by units, or of the right half, written as Article 12 does."""

    @property
    def name(self) -> str:
        return {"U": "(x,0)", "D": "(0,y)"}.get(self.stem, self.stem)

    @property
    def key(self) -> str:
        return self.stem

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
        for layer in range(2):
            for first, width in self._lying(outline, layer):
                count[layer, (first + np.arange(width)) % self.units] += 1
        return count

    def lets(self, looks: np.ndarray, slots: np.ndarray, moved: np.ndarray) -> np.ndarray:
        """Whether no wedge lies across the cut, for a turn that moves both layers."""
        if len({self.slots[slot][0] for slot in moved.tolist()} & set(LAYERS)) < 2:
            return np.ones(len(looks), dtype=bool)
        at = np.flatnonzero(self.across[slots])
        return ~self.solid(slots[at])[np.arange(len(at)), looks[:, at]].any(axis=1)

    def for_viewer(self) -> dict:
        """Which pieces are wedges or the middle slab, and between which slots a wedge forbids the half turn."""
        return {"sort": "wedges", "filled": self.filled.tolist(), "across": self.across.tolist()}

    def narrowed(self, sights: tuple[Sight, ...]) -> tuple[Sight, ...]:
        """Without wedges where there is no room for one, or none is left; with one where nothing else fills a unit."""
        solid = self._solid_looks
        sure = np.array([bool(sight) and sight <= looks for sight, looks in zip(sights, solid, strict=True)])
        open_to, before = np.array([bool(sight & looks) for sight, looks in zip(sights, solid, strict=True)]), None
        while before != (open_to.tobytes(), sure.tobytes()):
            before = open_to.tobytes(), sure.tobytes()
            open_to &= sure | ~(self._covers & self._covers[sure].any(axis=0)).any(axis=1)
            for kind in self.kinds:
                here = list(kind.places)
                if sure[here].sum() == self.filled[here].sum():
                    open_to[here] &= sure[here]
            alone = self._covers[open_to].sum(axis=0) == 1
            sure |= open_to & (self._covers & alone).any(axis=1)
        both = zip(sights, solid, sure.tolist(), open_to.tolist(), strict=True)
        return tuple(sight & looks if known else sight if may else sight - looks or sight for sight, looks, known, may in both)

    @cached_property
    def _covers(self) -> np.ndarray:
        """Which units of both layers each slot covers: bool, shape (slots, 2 * units)."""
        return np.array([self.covered(row).ravel() for row in np.eye(len(self.slots), dtype=bool)]).astype(bool)

    def torn(self, appearance: Appearance) -> str:
        """Wedges that are seen and do not fill their layers."""
        wrong = (self.covered(self.outline_seen(appearance)) != 1).any(axis=1).tolist()
        layers = [name for name, there in zip(LAYERS.values(), wrong, strict=True) if there]
        return f"the wedges, as described, do not fill the {' and the '.join(layers)} layer" if layers else ""

    def runs(self, outline: np.ndarray) -> str:
        """The name of a shape: the widths of both layers, each from the cut in front to the right and round; what lies across
        that cut comes last, with how far it reaches over.

        >>> from oddswap.puzzles.catalogue import load
        >>> box = load("wedges:12")
        >>> box.runs(box.filled), box.runs(box.outline(box.follow("(2, 0)")))
        ('12121212 over 12121212', '1212121 2+1 over 12121212')
        """
        names = []
        for layer in range(2):
            over = max(first + width for first, width in self._lying(outline, layer)) - self.units
            run = self._run(outline, layer)
            names.append("".join(run) if over < 1 else f"{''.join(run[:-1])} {run[-1]}+{over}")
        return " over ".join(names)

    def _lying(self, outline: np.ndarray, layer: int) -> list[tuple[int, int]]:
        """The first unit and the width of each wedge of a layer, in order."""
        found = ((*divmod(b - self.kind_of[b].start, self.units), self.widths[b]) for b in np.flatnonzero(outline).tolist())
        return sorted((first, int(width)) for of, first, width in found if of == layer and width)

    def _run(self, outline: np.ndarray, layer: int) -> list[str]:
        return [str(width) for _, width in self._lying(outline, layer)]

    @cached_property
    def outlines(self) -> Mapping[str, int]:
        """Each outline that turning gives, and how few turns lead to it from home; turning its layers gives no other outline.

        >>> from oddswap.puzzles.catalogue import load
        >>> dict(load("wedges:6").outlines)
        {'2121 over 2121': 0, '2211 over 2211': 1}
        """
        shapes, found = around_home(self, STAGES[1]), {}
        ends = np.cumsum(shapes.levels)
        for number, row in enumerate(np.unpackbits(shapes.rows, axis=1, count=len(self.slots)).astype(bool)):
            layers = [self._run(row, layer) for layer in range(2)]
            name = " over ".join("".join(max(run[i:] + run[:i] for i in range(len(run)))) for run in layers)
            found.setdefault(name, int(np.searchsorted(ends, number, side="right")))
        return MappingProxyType(found)

    def read(self, moves: str | Iterable[str] | Sequence) -> Sequence:
        """Moves as a `Sequence`; `NotationError` for what is neither ``(x, y)`` nor ``/``, nor these in words."""
        if isinstance(moves, Sequence):
            return moves
        text, at, steps = as_text(moves).replace("−", "-").lstrip(), 0, []
        while at < len(text):
            if (word := WORD.match(text, at)) is None:
                reason = f"{quoted(text[at:].split()[0], 20)} is no turn here: write such as (1, -1) / or top 1, bottom -1, half"
                raise NotationError(text, at + 1, reason)
            top, bottom, layer, amount, half = word.groups()
            told = {"top": (amount, 0), "bottom": (0, amount), None: (top, bottom)}[layer and layer.casefold()]
            made = (
                [WedgeStep("/", 0, 0, 1, 2)]
                if half
                else [
                    WedgeStep(stem, 0, 0, int(n), self.units) for stem, n in zip(LAYERS, told, strict=True) if int(n) % self.units
                ]
            )
            if not made:
                raise NotationError(text, at + 1, f"{word[0].strip()} turns nothing: leave it out")
            steps, at = [*steps, *made], word.end()
        return Sequence(tuple(steps))

    def _elementary(self, step: Step) -> list[Turn]:
        return [self._named(step)]

    def settled(self, moves: str | Sequence, start: Arrangement | None = None) -> tuple[tuple[Turn, ...], Holding]:
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
