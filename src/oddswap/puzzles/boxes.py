"""Boxes that turn out of their box: ``cuboid:AxBxC,turns=all``.

About an axis whose two cross sides have the same parity a quarter turn closes, and takes layers out of the outline. So the box
lies in a larger grid (see `outlines.extended`), each cell of which holds a coloured piece, a *blank* inner one (they look
alike, but show once they are outside) or *air*; a turn takes one layer of that grid round, with whatever lies in it.
A turn that leaves the cells in more than one body is refused.

**Names of turns.** Layers have the place that they have in the closed box, whatever shape it has taken meanwhile: ``R`` is
the layer that is outermost on the right when the box is closed, ``2R`` the next one inwards. What stands out beyond it turns
under the doubled letter: ``RR`` is the layer one place beyond R, ``RRR`` the one beyond that. So a sequence of turns
that keep the outline is written as on the box that never leaves it.

**Names of slots.** In the closed box as there. Elsewhere there is a dot and the layers: a small letter counts from that side of
the closed box inwards, a capital outwards, so ``.R1u2`` is one place beyond R in the second layer from U.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from oddswap.errors import UnknownMove, UnknownPuzzle, quoted
from oddswap.puzzles.geometry import Body
from oddswap.puzzles.mechanism import CENTRES, DIRECTIONS, Cell, Mechanism, grid_mechanism, name_grid_cell
from oddswap.puzzles.named import frozen, numbered
from oddswap.puzzles.outlines import extended, is_one_body, touching
from oddswap.puzzles.polytope import Face
from oddswap.puzzles.puzzle import Kind, Puzzle, Turn, _rotations_to
from oddswap.puzzles.shapes import cuboid_solid
from oddswap.puzzles.solids import cut_solid
from oddswap.values import sequence
from oddswap.values.alphabet import FACES, OPPOSITE, ROTATIONS, Alphabet, cube_alphabet
from oddswap.values.arrangement import Arrangement
from oddswap.values.holding import START, Holding, settle
from oddswap.values.sequence import Step

Place = tuple[int, int, int]
FAMILIES = CENTRES | {"corners", "edges", "wings", "inner cells"}
LARGEST = 256
"""A packed state has one byte for each cell, with the number of its slot."""
NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven")


@dataclass(frozen=True, eq=False, repr=False, kw_only=True)
class BoxPuzzle(Puzzle):
    """A box whose outline may change. ``places[b]`` is the cell of slot b in the grid, ``filled[b]`` whether the closed box
    has something there, ``blank_inside[b]`` whether that shows no colour.
    """

    sides: Place
    places: tuple[Place, ...]
    filled: np.ndarray
    blank_inside: np.ndarray

    @cached_property
    def neighbours(self) -> np.ndarray:
        """For each slot, and last for the core if all sides are odd, the slots that touch it or -1: shape (slots, 6)."""
        core = ((0, 0, 0),) if all(n % 2 for n in self.sides) else ()
        return touching((*self.places, *core))

    def hangs_together(self, outline: np.ndarray) -> bool:
        """Whether the filled slots, and the core, touch by whole faces."""
        core = np.ones(len(self.neighbours) - len(outline), dtype=bool)
        return is_one_body(np.concatenate([outline, core]), self.neighbours)

    def outline(self, arrangement: Arrangement) -> np.ndarray:
        """Which slots are filled: bool, shape (slots,)."""
        return self.filled[list(arrangement.pieces)]

    def closed(self, arrangement: Arrangement) -> bool:
        """Whether the outline is that of the closed box, as it stands at home."""
        return bool((self.outline(arrangement) == self.filled).all())

    def legal(self, arrangement: Arrangement) -> tuple[Turn, ...]:
        """The turns after which the cells still hang together, of layers in which there is something."""
        outline = self.outline(arrangement)
        return tuple(turn for turn in self.turns.values() if self._turned(outline, turn) is not None)

    def settled(self, moves: str | sequence.Sequence, start: Arrangement | None = None) -> tuple[tuple[Turn, ...], Holding]:
        """The elementary turns from ``start`` on, and the holding. `UnknownMove` for one that the shape does not allow."""
        turns, holding = [], START
        for step in self.read(moves).steps:
            made, holding = self._from_hands(step, holding)
            turns += made
        outline = self.outline(start or self.solved)
        for i, turn in enumerate(turns):
            after = self._turned(outline, turn)
            if after is None:
                raise UnknownMove(self._refusal(outline, turn, i + 1))
            outline = after
        turns += [self.rotations[name] for name in _rotations_to(holding, tuple(self.rotations))]
        return tuple(turns), holding

    def follow(self, moves: str | sequence.Sequence, start: Arrangement | None = None) -> Arrangement:
        """The arrangement after ``moves``, from ``start`` (solved when left out)."""
        image = self.permutation(start or self.solved)
        for turn in self.settled(moves, start)[0]:
            image = turn.permutation[image]
        return self.arrangement(image)

    def outlines(self, moves: str | sequence.Sequence, start: Arrangement | None = None) -> tuple[np.ndarray, ...]:
        """The outline at the start and after each elementary turn."""
        found = [self.outline(start or self.solved)]
        for turn in self.settled(moves, start)[0]:
            found.append(self._carried(found[-1], turn))
        return tuple(found)

    def _from_hands(self, step: Step, holding: Holding) -> tuple[list[Turn], Holding]:
        if step.stem in FACES or step.stem in ROTATIONS or step.stem[0] not in FACES:
            settled, after = settle([step], self.alphabet.layers, start=holding)
            if after != holding and step.stem not in ROTATIONS and any(self._stands_out(part.stem) for part in settled):
                raise UnknownMove(
                    f"{step} would turn the middle layer, which carries the core: turn the layers beside it instead"
                )
            return [turn for part in settled for turn in self._elementary(part)], after
        own = holding.own(step.stem[0]) * len(step.stem)
        return [self._named(Step(own, 0, 0, step.amount))], holding

    def _stands_out(self, face: str) -> bool:
        """Whether there can be layers beyond that face."""
        return 2 * face in self.alphabet.names

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

    def _carried(self, outline: np.ndarray, turn: Turn) -> np.ndarray:
        after = np.empty_like(outline)
        after[self.slot_images[turn.name]] = outline
        return after

    @cached_property
    def slot_images(self) -> dict[str, np.ndarray]:
        """The slot to which each turn or rotation takes what is in each slot."""
        slot_of = np.repeat(np.arange(len(self.slots)), [kind.twist for kind in self.kind_of])
        every = {**self.turns, **self.rotations}
        return {name: slot_of[turn.permutation[self.base_label]] for name, turn in every.items()}

    def _refusal(self, outline: np.ndarray, turn: Turn, number: int) -> str:
        if not outline[list(turn.slots)].any():
            return f"turn {number}, {turn.name}, finds no layer there: nothing stands out so far at that moment"
        return f"turn {number}, {turn.name}, would leave cells that do not touch by a face: turn another layer first"


def leaves_the_outline(turns: str, sides: Place) -> bool:
    """Whether ``turns`` (half, box, all or a list joined by +) of a box can change its shape."""
    if turns in ("half", "box"):
        return False
    if turns == "all":
        return extended(sides) != sides
    named = (re.fullmatch(rf"\d?(([{''.join(FACES)}])\2*)('?)", name) for name in turns.split("+"))
    crossed = ((match[1], across(match[2], sides)) for match in named if match)
    return any(len(stem) > 1 or (one != other and one % 2 == other % 2) for stem, (one, other) in crossed)


def across(face: str, sides: Place) -> tuple[int, int]:
    """How many layers lie across the axis of a face, one way and the other."""
    axis = int(np.abs(DIRECTIONS[face]).argmax())
    one, other = (sides[a] for a in range(3) if a != axis)
    return one, other


def why_not(turn: str, layers: Mapping[str, int]) -> str:
    """Why a box with so many layers on each face's axis lacks a quarter turn; empty for what does not fail for that.

    >>> why_not("R", {"R": 3, "U": 4, "F": 5})
    'four layers one way and five the other, so a quarter turn does not close'
    """
    match = re.fullmatch(rf"\d?([{''.join(FACES)}])\1*'?", turn)
    if match is None or not layers:
        return ""
    one, other = across(match[1], (layers["R"], layers["U"], layers["F"]))
    if one % 2 == other % 2 or max(one, other) >= len(NUMBERS):
        return ""
    return (
        f"{NUMBERS[one]} layer{'s' if one > 1 else ''} one way and {NUMBERS[other]} the other, so a quarter turn does not close"
    )


def box_puzzle(name: str, sides: Place) -> BoxPuzzle:
    """The box with every turn that closes. `UnknownPuzzle` for one whose grid is too large."""
    grid = extended(sides)
    if np.prod(grid) > LARGEST:
        raise UnknownPuzzle(
            f"{quoted(name)} would need {np.prod(grid)} cells: with turns=all at most {LARGEST} are offered, so make it smaller"
        )
    mechanism = _mechanism(sides, grid)
    longest = max(grid)
    solid = cuboid_solid((grid[0] / longest, grid[1] / longest, grid[2] / longest))
    cut = cut_solid(name, _title(sides), solid, mechanism, _alphabet(sides, grid), buried=FAMILIES)
    places = tuple(_place(body.cell, grid) for body in cut.geometry.bodies)
    low, high = np.array(places) >= 1 - np.array(sides), np.array(places) <= np.array(sides) - 1
    filled = (low & high).all(axis=1)
    bodies = tuple(
        _dressed(body, np.array(place), sides) if full else Body(body.cell, ())
        for body, place, full in zip(cut.geometry.bodies, places, filled, strict=True)
    )
    geometry = replace(cut.geometry, bodies=bodies, near_misses=())
    blank = np.array([full and not any(face.facet for face in body.faces) for body, full in zip(bodies, filled, strict=True)])
    plain = {field: getattr(cut, field) for field in ("name", "title", "turns", "alphabet", "rotations")}
    puzzle = BoxPuzzle(
        **plain,
        kinds=_renamed(cut.kinds, filled, blank),
        looks=np.zeros(cut.degree, dtype=np.intp),
        geometry=geometry,
        sides=sides,
        places=places,
        filled=filled,
        blank_inside=blank,
    )
    return replace(puzzle, looks=_looks(puzzle))


def _title(sides: Place) -> str:
    return f"box of {sides[0]} by {sides[1]} by {sides[2]} that may leave its outline"


def _alphabet(sides: Place, grid: Place) -> Alphabet:
    names = []
    for face in FACES:
        axis = int(np.abs(DIRECTIONS[face]).argmax())
        names += [face * (k + 1) for k in range(1, (grid[axis] - sides[axis]) // 2 + 1)]
    return replace(cube_alphabet(*sides), names=tuple(names))


def _mechanism(sides: Place, grid: Place) -> Mechanism:
    longest = max(grid)
    plain = grid_mechanism(grid, cut=max(1, longest - 2) / longest)
    slabs = []
    for slab in plain.slabs:
        axis = int(np.abs(slab.axis).argmax())
        beyond = (grid[axis] - sides[axis]) // 2 + 1 - slab.depth
        if beyond > 0:
            slabs.append(replace(slab, face=slab.face * (beyond + 1), depth=0))
        elif not (sides[axis] % 2 and 2 * (1 - beyond) > sides[axis]):
            slabs.append(replace(slab, depth=1 - beyond))
    return replace(plain, slabs=tuple(slabs), name_cell=lambda cell, _: _name(_place(cell, grid), sides), outer=0)


def _place(cell: Cell, grid: Place) -> Place:
    """The middle of a cell, in half layers from the middle of the box."""
    first = (0, grid[0] - 1, grid[0] + grid[1] - 2)
    x, y, z = (2 * sum(sign > 0 for sign in cell[first[a] : first[a] + grid[a] - 1]) + 1 - grid[a] for a in range(3))
    return x, y, z


def _name(place: Place, sides: Place) -> tuple[str, str]:
    """The slot's name and its family; ``("", "")`` for the cell in the very middle, which never moves."""
    if not any(place):
        return "", ""
    if all(abs(p) < n for p, n in zip(place, sides, strict=True)):
        start = {0: 0, 1: sides[0] - 1, 2: sides[0] + sides[1] - 2}
        signs = tuple(1 if 2 * k + 1 - n <= p - 1 else -1 for p, n in zip(place, sides, strict=True) for k in range(n - 1))
        named = name_grid_cell(signs, sides, start)
        if named[0]:
            return named
    layers = ""
    for axis, high in ((1, "U"), (2, "F"), (0, "R")):
        side = high if place[axis] > 0 else OPPOSITE[high]
        depth = (sides[axis] - abs(place[axis]) + 1) // 2
        layers += f"{side}{1 - depth}" if depth < 1 else f"{side.lower()}{depth}" if place[axis] else ""
    return "." + layers, "inner cells"


def _dressed(body: Body, place: np.ndarray, sides: Place) -> Body:
    """The body of a unit cell with colours where it reaches the outside of the closed box, and dark faces elsewhere."""
    faces = []
    for face in body.faces:
        letter = max(DIRECTIONS, key=lambda one: float(DIRECTIONS[one] @ face.normal))
        axis = int(np.abs(DIRECTIONS[letter]).argmax())
        outside = place @ DIRECTIONS[letter] == sides[axis] - 1
        faces.append(Face(letter if outside else None, face.vertices))
    return Body(body.cell, tuple(faces))


def _renamed(kinds: tuple[Kind, ...], filled: np.ndarray, blank: np.ndarray) -> tuple[Kind, ...]:
    """Kinds without a coloured piece are called by what they hold."""
    renamed = []
    for kind in kinds:
        here = list(kind.places)
        if not (filled[here] & ~blank[here]).any():
            word = "blank cells" if filled[here].any() else "air"
            renamed.append(replace(kind, name=f"{word} like {kind.slots[0]}", family=word))
        else:
            renamed.append(kind)
    return tuple(renamed)


def _looks(puzzle: BoxPuzzle) -> np.ndarray:
    """Equal numbers for air, for blank cells, and for pieces that show the same paints the same way once in the same slot."""
    geometry, looks = puzzle.geometry, []
    matrices = geometry.mechanism.rotations.matrices
    for kind in puzzle.kinds:
        shown: list[object] = []
        for piece in kind.places:
            for twist in range(kind.twist):
                if not puzzle.filled[piece] or puzzle.blank_inside[piece]:
                    shown.append(bool(puzzle.filled[piece]))
                    continue
                turned = matrices[geometry.rotation_of(puzzle.base_label, kind.twist, piece, kind.start, twist)]
                faces = (face for face in geometry.bodies[piece].faces if face.facet)
                seen = ((*(turned @ face.normal).round().astype(int).tolist(), geometry.paints[face.facet]) for face in faces)
                shown.append(frozenset(seen))
        looks += numbered(shown)
    return frozen(looks)
