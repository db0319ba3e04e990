"""Cubes and boxes with joined pieces in plain integers: each piece by the rotation that it has made, each block by that of all.

Nothing here knows of labels, shapes or groups. A position is told to the package only as a ticket, face by face.
"""

from dataclasses import dataclass
from functools import cache, cached_property
from itertools import product
from random import Random

import numpy as np

from tests.reasoning.box_walks import layer_turns
from tests.reasoning.boxes import STILL, Matrix, as_rows, times

Cell = tuple[int, ...]
State = tuple[Matrix, ...]
LayerTurn = tuple[int, tuple[int, ...], Matrix]
"""The axis, the layers by where they lie on it, and the rotation."""
FACES = {"U": (1, 1), "D": (1, -1), "F": (2, 1), "B": (2, -1), "L": (0, -1), "R": (0, 1)}
"""The axis and side of each face: x to the right, y up, z to the viewer."""
ROWS = {"U": ((2, 1), (0, 1)), "D": ((2, -1), (0, 1)), "F": ((1, -1), (0, 1)), "B": ((1, -1), (0, -1))}
ROWS |= {"L": ((1, -1), (2, 1)), "R": ((1, -1), (2, -1))}
"""How rows follow each other on a face and stickers in a row: along which axis, which way."""


@cache
def product_of(one: Matrix, other: Matrix) -> Matrix:
    return as_rows(np.array(one) @ np.array(other))


def _counted(n: int) -> list[tuple[int, ...]]:
    """What one turn takes on an axis of n layers: one of them, or several from a side up to the middle."""
    single = [(layer,) for layer in range(1 - n, n, 2) if layer]
    deep = [tuple(range(n - 1, n - 1 - 2 * k, -2)) for k in range(2, n // 2 + 1)]
    return single + deep + [tuple(-layer for layer in layers) for layers in deep]


@dataclass(frozen=True)
class JoinedWalk:
    """A box of these ``sides``; each block is a tuple of slot names. Middle layers stay, and carry the core."""

    sides: Cell
    blocks: tuple[tuple[str, ...], ...]

    @cached_property
    def name(self) -> str:
        size = self.sides[0] if len(set(self.sides)) == 1 else "x".join(map(str, self.sides))
        joints = "/".join("-".join(block) for block in self.blocks)
        return f"{'cuboid' if 'x' in str(size) else 'cube'}:{size},joined={joints}"

    @cached_property
    def cells(self) -> list[Cell]:
        every = product(*(range(1 - n, n, 2) for n in self.sides))
        return [cell for cell in every if any(cell) and any(abs(c) == n - 1 for c, n in zip(cell, self.sides, strict=True))]

    def slot(self, cell: Cell) -> str:
        """The faces that a cell touches, in the order of names, and the layers in which it lies else, from the nearer face."""
        faces = "".join(f for f, (axis, side) in FACES.items() if cell[axis] == side * (self.sides[axis] - 1))
        between = [
            (f, (self.sides[axis] + 1 - cell[axis] * side) // 2) for f, (axis, side) in FACES.items() if cell[axis] * side > 0
        ]
        inner = "".join(f"{face.lower()}{depth}" for face, depth in between if depth > 1)
        return f"{faces}.{inner}" if inner else faces

    @cached_property
    def joints(self) -> list[list[int]]:
        names = [self.slot(cell) for cell in self.cells]
        return [[names.index(slot) for slot in block] for block in self.blocks]

    @cached_property
    def turns(self) -> list[LayerTurn]:
        """Of every layer that is not the middle one, and of several from a face to the middle, by quarters where it is square."""
        return [turn for axis, n in enumerate(self.sides) for layers in _counted(n) for turn in self._turned(axis, layers)]

    @cached_property
    def ranges(self) -> list[LayerTurn]:
        """Of all neighbouring layers, whatever they are, that a hand could turn together: more than what counts as one turn."""
        spans = [(axis, range(1 - n, n, 2)[i:j]) for axis, n in enumerate(self.sides) for j in range(n + 1) for i in range(j)]
        beside = [(axis, layers) for axis, layers in spans if self.sides[axis] % 2 == 0 or 0 not in layers]
        return [turn for axis, layers in beside for turn in self._turned(axis, tuple(layers))]

    def _turned(self, axis: int, layers: tuple[int, ...]) -> list[LayerTurn]:
        quarter = self.sides[axis - 1] == self.sides[axis - 2]
        return [(axis, layers, matrix) for _, _, matrix in layer_turns(axis, layers[0], quarter)]

    def name_of(self, turn: LayerTurn) -> str:
        """As Article 12 writes it: clockwise as seen from outside is a negative turn about the outward axis."""
        axis, layers, matrix = turn
        face = next(f for f, (a, side) in FACES.items() if a == axis and layers[0] * side > 0)
        depth = (self.sides[axis] + 1 - min(map(abs, layers))) // 2
        number = "" if depth == 1 or len(layers) == 2 else depth
        name = f"{number}{face}{'w' if len(layers) > 1 else ''}"
        if np.trace(np.array(matrix)) == -1:
            return f"{name}2"
        positive = matrix[(axis + 2) % 3][(axis + 1) % 3] == 1
        return name if positive != (layers[0] > 0) else f"{name}'"

    def cuts(self, state: State, turn: LayerTurn) -> list[int]:
        """The numbers of the blocks that lie partly in the layers of a turn."""
        axis, layers, _ = turn
        lying = [{times(state[i], self.cells[i])[axis] in layers for i in joint} for joint in self.joints]
        return [number for number, found in enumerate(lying) if len(found) > 1]

    def after(self, state: State, turn: LayerTurn) -> State:
        axis, layers, matrix = turn
        return tuple(
            product_of(matrix, made) if times(made, cell)[axis] in layers else made
            for made, cell in zip(state, self.cells, strict=True)
        )

    def held(self, state: State) -> State:
        """Turned as a whole so that the first block is as at home, where nothing fixes the holding."""
        if all(n % 2 for n in self.sides):
            return state
        back = as_rows(np.array(state[self.joints[0][0]]).T)
        return tuple(product_of(back, made) for made in state)

    @cached_property
    def solved(self) -> State:
        return (STILL,) * len(self.cells)

    @cached_property
    def levels(self) -> list[list[State]]:
        """All that turns reach up to the holding, by the number of turns."""
        return self.reached(self.turns)

    def reached(self, turns: list[LayerTurn]) -> list[list[State]]:
        """All that these turns reach up to the holding, by their number."""
        levels, known = [[self.solved]], {self.solved}
        while levels[-1]:
            found = []
            for state in levels[-1]:
                for turn in turns:
                    if not self.cuts(state, turn) and (new := self.held(self.after(state, turn))) not in known:
                        known.add(new)
                        found.append(new)
            levels.append(found)
        return levels[:-1]

    @cached_property
    def shapes(self) -> list[int]:
        """How many placings of all blocks, as the puzzle is held, are so many turns away."""
        inside = [i for joint in self.joints for i in joint]

        def shape(state: State) -> State:
            return tuple(state[i] for i in inside)

        levels, known = [[self.solved]], {shape(self.solved)}
        while levels[-1]:
            found = []
            for state in levels[-1]:
                for turn in self.turns:
                    if not self.cuts(state, turn) and shape(new := self.after(state, turn)) not in known:
                        known.add(shape(new))
                        found.append(new)
            levels.append(found)
        return list(map(len, levels[:-1]))

    def ticket(self, state: State) -> str:
        """What is seen, face by face."""
        lines = [f'puzzle = "{self.name}"']
        shown = {}
        for cell, made in zip(self.cells, state, strict=True):
            for face, (axis, side) in FACES.items():
                if cell[axis] == side * (self.sides[axis] - 1):
                    outward = tuple(side * (a == axis) for a in range(3))
                    now = times(made, outward)
                    shown[times(made, cell), now] = face
        for face, (axis, side) in FACES.items():
            (down, down_way), (right, right_way) = ROWS[face]
            outward, rows = tuple(side * (a == axis) for a in range(3)), []
            for y in range(self.sides[down]):
                row = []
                for x in range(self.sides[right]):
                    at = [0, 0, 0]
                    at[axis] = side * (self.sides[axis] - 1)
                    at[down] = down_way * (1 - self.sides[down] + 2 * y)
                    at[right] = right_way * (1 - self.sides[right] + 2 * x)
                    row.append(shown[tuple(at), outward])
                rows.append(f'"{" ".join(row)}"')
            lines.append(f"[seen.{face}]\nrows = [{', '.join(rows)}]")
        return "\n".join(lines)

    def word(self, rng: Random, length: int) -> tuple[list[str], State]:
        """Random turns that no block forbids, and what they make of the solved puzzle."""
        names, state = [], self.solved
        for _ in range(length):
            turn = rng.choice([turn for turn in self.turns if not self.cuts(state, turn)])
            names.append(self.name_of(turn))
            state = self.after(state, turn)
        return names, state

    def assembled(self, rng: Random) -> State:
        """The pieces that are not joined put in by chance: into slots where turns can take them, in any way round for these."""
        inside = {i for joint in self.joints for i in joint}
        state, free = list(self.solved), [i for i in range(len(self.cells)) if i not in inside]
        for sort in {self._sort(i) for i in free}:
            members = [i for i in free if self._sort(i) == sort]
            for piece, slot in zip(members, rng.sample(members, len(members)), strict=True):
                ways = [m for m in self._rotations if times(m, self.cells[piece]) == self.cells[slot]]
                state[piece] = rng.choice(ways)
        return tuple(state)

    def _sort(self, piece: int) -> tuple[int, ...]:
        return tuple(sorted(map(abs, self.cells[piece])))

    @cached_property
    def _rotations(self) -> list[Matrix]:
        """Those that turns of layers make together."""
        found = [STILL]
        for made in found:
            for _, _, matrix in self.turns:
                if (new := product_of(matrix, made)) not in found:
                    found.append(new)
        return found
