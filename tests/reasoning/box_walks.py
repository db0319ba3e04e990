"""Every state of a small box that turns reach, in plain integers: each piece by the rotation that it has made.

Nothing here knows of labels, shapes or groups; only `state_of` translates, from the puzzle's slots and ways round.
"""

from dataclasses import dataclass
from functools import cached_property
from itertools import product

import numpy as np

from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.values.position import Arrangement
from tests.reasoning.box_sights import DIRECTIONS, Cell, in_one_body
from tests.reasoning.boxes import STILL, Matrix, as_rows, times

State = tuple[Matrix, ...]


def layer_turns(axis: int, layer: int, quarter: bool) -> list[tuple[int, int | None, Matrix]]:
    """Every turn of a layer by quarters, or by halves; of everything where the layer is None."""
    a, b = (axis + 1) % 3, (axis + 2) % 3
    once = np.eye(3, dtype=int)
    once[[a, b]] = once[[b, a]] * np.array([[-1], [1]])
    return [(axis, layer, as_rows(np.linalg.matrix_power(once, power))) for power in ((1, 2, 3) if quarter else (2,))]


@dataclass(frozen=True)
class Walk:
    """A box of these ``sides`` and what turns there are: axis, layer, matrix."""

    sides: Cell
    turns: tuple[tuple[int, int | None, Matrix], ...]

    @cached_property
    def cells(self) -> list[Cell]:
        """Where the pieces are at home, without the core."""
        return [cell for cell in product(*(range(1 - n, n, 2) for n in self.sides)) if any(cell)]

    @cached_property
    def states(self) -> list[State]:
        """All that is reached from solved."""
        core = {(0, 0, 0)} if all(n % 2 for n in self.sides) else set()
        goes: dict[tuple, Matrix] = {}
        whole: dict[frozenset, bool] = {}

        def after(home: Cell, state: Matrix, turn: tuple[int, int | None, Matrix]) -> Matrix:
            key = home, state, turn
            if key not in goes:
                axis, layer, matrix = turn
                moved = layer is None or times(state, home)[axis] == layer
                goes[key] = as_rows(np.array(matrix) @ np.array(state)) if moved else state
            return goes[key]

        found = [(STILL,) * len(self.cells)]
        seen = set(found)
        for state in found:
            for turn in self.turns:
                new = tuple(after(home, one, turn) for home, one in zip(self.cells, state, strict=True))
                if new not in seen:
                    outline = self.outline(new) | core
                    if outline not in whole:
                        whole[outline] = in_one_body(outline)
                    if whole[outline]:
                        seen.add(new)
                        found.append(new)
        return found

    def outline(self, state: State) -> frozenset[Cell]:
        return frozenset(times(one, home) for home, one in zip(self.cells, state, strict=True))

    def sight(self, state: State) -> frozenset:
        """What is seen in each cell: the home sides that show, and which way."""
        seen = []
        for home, one in zip(self.cells, state, strict=True):
            shown = [d for d in DIRECTIONS if any(x and c == x * (n - 1) for x, c, n in zip(d, home, self.sides, strict=True))]
            seen.append((times(one, home), frozenset((times(one, d), d) for d in shown)))
        return frozenset(seen)


def state_of(box: BoxPuzzle, walk: Walk, arrangement: Arrangement) -> State:
    """An arrangement of the puzzle as a state of the walk."""
    matrices, made = box.geometry.mechanism.rotations.matrices, {}
    for slot, (piece, twist) in enumerate(zip(arrangement.pieces, arrangement.twists, strict=True)):
        if box.filled[piece]:
            ways = box.kind_of[slot].twist
            turned = matrices[box.geometry.rotation_of(box.base_label, ways, piece, slot, twist)]
            made[box.places[piece]] = as_rows(np.rint(turned).astype(int))
            assert times(made[box.places[piece]], box.places[piece]) == box.places[slot]
    return tuple(made[cell] for cell in walk.cells)
