"""Pieces of a solid that are joined to blocks: ``joined=UF-UFR/DB-DBL``.

A block moves as one body, so where it lies is one rotation of its pieces' cells, and a turn can be made if no block lies partly
in the layer. Where the blocks lie is the shape: at home, the pieces of a block are in their own slots, and no law speaks of them.
The joint shows, so a joined piece looks like no other, however it is turned.

Layers that a block joins turn together: from every face ``Rw`` and ``3Rw`` are turns of their own, as deep as half the axis
without a middle layer, and count one turn each. What reaches deeper is the rest turned the other way and a new holding.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields, replace
from functools import cached_property
from itertools import product
from types import MappingProxyType

import numpy as np

from oddswap.errors import BadOption, UnknownMove
from oddswap.puzzles.base.named import frozen
from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.base.shapes import Shaped
from oddswap.values.grammar import listed
from oddswap.values.position import AXES, START, Appearance, Arrangement, Holding, Sight, settle
from oddswap.values.sequence import OPPOSITE, Sequence, Step

TORN = 255


@dataclass(frozen=True, eq=False)
class JoinedBlock:
    """The home slots of joined pieces, and every place that the block can lie in.

    ``labels`` (places, pieces) say where the pieces are then, and ``looks`` what they show there; ``after`` (turns, places) is
    the number of the place to which each turn takes it, -1 where the turn cuts it. The first place is home.
    """

    pieces: tuple[int, ...]
    slots: np.ndarray
    labels: np.ndarray
    looks: np.ndarray
    after: np.ndarray


@dataclass(frozen=True, eq=False, repr=False, kw_only=True)
class Joined(Shaped, Puzzle):
    """A cut solid of which some pieces are joined. ``joints`` are the home slots of each block."""

    joints: tuple[tuple[int, ...], ...]

    @cached_property
    def bound(self) -> frozenset[int]:
        """The pieces of the blocks."""
        return frozenset(piece for joint in self.joints for piece in joint)

    @cached_property
    def blocks(self) -> tuple[JoinedBlock, ...]:
        """The blocks with all that they can do."""
        return tuple(map(self._block, self.joints))

    def _block(self, pieces: tuple[int, ...]) -> JoinedBlock:
        placements, then = self.geometry.placements, self.geometry.mechanism.rotations.then
        homes = self.base_label[list(pieces)]
        at = [{int(placements[j]): j for j in self.kind_of[piece].labels} for piece in pieces]
        ways = (then[placements[homes], way].tolist() for way in range(len(then)))
        rows = [tuple(found.get(rotation) for found, rotation in zip(at, way, strict=True)) for way in ways]
        rows = list(dict.fromkeys([tuple(homes.tolist()), *(row for row in rows if None not in row)]))
        labels, number = np.array(rows), {row: i for i, row in enumerate(rows)}
        slots = self.slots_of(labels)
        after = []
        for turn in self.turns.values():
            inside = np.isin(slots, list(turn.slots)).sum(axis=1)
            turned = map(tuple, turn.permutation[labels].tolist())
            cut = (inside > 0) & (inside < len(pieces))
            after.append([-1 if c else number[row] for c, row in zip(cut, turned, strict=True)])
        twists = (labels - self.base_label[slots]) % [self.kind_of[piece].twist for piece in pieces]
        return JoinedBlock(pieces, slots, labels, self.looks[homes + twists], np.array(after).reshape(-1, len(rows)))

    def shape_of(self, permutation: np.ndarray) -> np.ndarray:
        """The number of the place of each block, and one that there is not for a torn block."""
        at = ((block.labels == permutation[self.base_label[list(block.pieces)]]).all(axis=1) for block in self.blocks)
        return np.array([place.argmax() if place.any() else TORN for place in at], dtype=np.uint8)

    def arrows(self, shapes: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """A turn can be made if it cuts no block."""
        after = np.stack([block.after[:, shapes[:, b]] for b, block in enumerate(self.blocks)], axis=2)
        return after.astype(np.uint8), (after >= 0).all(axis=2)

    def lying(self, sights: tuple[Sight, ...], block: JoinedBlock) -> list[int]:
        """The numbers of the places in which a block may lie, as far as it is seen."""
        own = {piece: self._looks_of(piece) for piece in block.pieces}
        certain = {b for piece, looks in own.items() for b in self.kind_of[piece].places if sights[b] and sights[b] <= looks}
        both = enumerate(zip(block.slots.tolist(), block.looks.tolist(), strict=True))
        return [
            place
            for place, (slots, looks) in both
            if certain.issubset(slots) and all(look in sights[b] for b, look in zip(slots, looks, strict=True))
        ]

    def _looks_of(self, piece: int) -> frozenset[int]:
        return frozenset(self.looks[self.base_label[piece] + np.arange(self.kind_of[piece].twist)].tolist())

    def narrowed(self, sights: tuple[Sight, ...]) -> tuple[Sight, ...]:
        """Joined pieces lie only where their whole block can, and nothing else lies where it must."""
        found = list(sights)
        for block in 2 * self.blocks:
            places = self.lying(tuple(found), block)
            for j, piece in enumerate(block.pieces):
                shown = {(int(block.slots[i, j]), int(block.looks[i, j])) for i in places}
                own = self._looks_of(piece)
                for b in self.kind_of[piece].places if places else ():
                    here = frozenset(look for slot, look in shown if slot == b)
                    found[b] = here if here and len(shown) == 1 else (found[b] - own) | here or found[b]
        return tuple(found)

    def unsure(self, appearance: Appearance) -> tuple[int, ...]:
        """The slots in which a block may lie that may lie in several places."""
        lying = ((block, self.lying(appearance.sights, block)) for block in self.blocks)
        return tuple(sorted({b for block, places in lying if len(places) > 1 for b in block.slots[places].ravel().tolist()}))

    def torn(self, appearance: Appearance) -> str:
        """A block whose pieces are not seen side by side."""
        broken = (block.pieces for block in self.blocks if not self.lying(appearance.sights, block))
        return next((f"{self.name_of(b)} cannot lie as described, for its pieces are joined" for b in broken), "")

    def standing(self, appearance: Appearance) -> Iterator[np.ndarray]:
        """With the blocks in each place that they may have, and whatever was there where their pieces were."""
        for places in product(*(self.lying(appearance.sights, block) for block in self.blocks)):
            rows = np.concatenate([block.labels[i] for block, i in zip(self.blocks, places, strict=True)])
            pieces, twists = list(self.solved.pieces), [0] * len(self.slots)
            for piece, slot, label in zip((p for b in self.blocks for p in b.pieces), self.slots_of(rows), rows, strict=True):
                there = pieces.index(piece)
                pieces[there], pieces[slot] = pieces[slot], piece
                twists[slot] = int(label - self.base_label[slot])
            if len(set(self.slots_of(rows).tolist())) == len(rows):
                yield self.permutation(Arrangement(self.name, tuple(pieces), tuple(twists)))

    def may_stand(self, looks: np.ndarray, slots: np.ndarray) -> np.ndarray:
        """Whether every block lies in one of its places."""
        good = np.ones(len(looks), dtype=bool)
        for block in self.blocks:
            at = np.searchsorted(slots, block.slots)
            place = np.full((len(slots), 256), -1, dtype=np.int16)
            place[at[:, 0], block.looks[:, 0]] = np.arange(len(at))
            found = place[np.arange(len(slots)), looks].max(axis=1)
            good &= (looks[np.arange(len(looks))[:, None], at[found]] == block.looks[found]).all(axis=1)
        return good

    def for_viewer(self) -> dict:
        """The pieces of each block, and its name."""
        return {"sort": "blocks", "blocks": self.joints, "names": list(map(self.name_of, self.joints))}

    def name_of(self, pieces: tuple[int, ...]) -> str:
        """What errors call a block: by the slots of its pieces."""
        return f"the block of {listed(self.slots[piece] for piece in pieces)}"

    def settled(self, moves: str | Sequence, start: Arrangement | None = None) -> tuple[tuple[Turn, ...], Holding]:
        """The elementary turns from ``start`` on, and the holding. `UnknownMove` for one that a block does not allow."""
        steps = self.read(moves)
        if self.alphabet.rotations:
            steps = Sequence(tuple(self._reaching_half(steps)))
        turns, holding = super().settled(steps)
        names, shape = list(self.turns), self.shape_of(self.permutation(start or self.solved))
        for number, turn in enumerate((turn for turn in turns if not turn.whole), 1):
            for block, place in zip(self.blocks, shape, strict=True):
                if block.after[names.index(turn.name), place] < 0:
                    lies = listed(self.slots[b] for b in block.slots[place])
                    raise UnknownMove(
                        f"turn {number}, {turn.name}, is blocked by {self.name_of(block.pieces)}, which then lies at {lies}, "
                        "partly in that layer: bring it into one layer first"
                    )
            shape = self.arrows(shape[None])[0][names.index(turn.name), 0]
        return turns, holding

    def _elementary(self, step: Step) -> list[Turn]:
        """Several layers turn as one."""
        return [self._named(step)] if step.first < step.last else super()._elementary(step)

    def _reaching_half(self, steps: Iterable[Step]) -> Iterator[Step]:
        """The same turns, each of more than half of an even axis as the rest turned the other way and a new holding."""
        holding, layers = START, self.alphabet.layers
        for step in steps:
            n = layers.get(holding.own(step.stem), 1) if step.stem in OPPOSITE else 1
            rest, face = n - step.last, OPPOSITE.get(step.stem, "")
            if n % 2 == 0 and step.first == 1 and 0 < rest < step.last:
                way = 1 if step.stem in AXES else -1
                whole = Step(AXES.get(step.stem) or AXES[face], 0, 0, way * step.amount)
                parts = (Step(face, 1, rest, step.amount), whole)
            else:
                parts = (step,)
            holding = settle(parts, layers, holding)[1]
            yield from parts


def joined(puzzle: Puzzle, told: str) -> Joined:
    """The puzzle with pieces joined: blocks of slots joined by -, with / between them.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3,joined=UF-UFR")
    >>> [turn.name for turn in cube.legal(cube.solved) if turn.name in "UDFBLR"]
    ['U', 'D', 'F', 'B', 'L']
    """
    if puzzle.leaves_outline:
        raise BadOption(f"{puzzle.name} may leave its outline, which joined pieces do not allow: leave joined or turns out")
    joints = tuple(tuple(map(puzzle.slot, block.split("-"))) for block in told.split("/"))
    every = [piece for joint in joints for piece in joint]
    for piece in every:
        if every.count(piece) > 1:
            raise BadOption(f"joined names {puzzle.slots[piece]} twice: a piece is in one block, and stands there once")
    for joint in joints:
        _check(puzzle, joint)
    looks = np.array(puzzle.looks)
    for kind in puzzle.kinds:
        own = [label for label in kind.labels if int(puzzle.slots_of(label)) in every]
        looks[own] = looks[list(kind.labels)].max() + 1 + np.arange(len(own))
    number = f"{len(joints)} blocks of pieces" if len(joints) > 1 else f"{len(every)} pieces"
    kept = {field.name: getattr(puzzle, field.name) for field in fields(Puzzle)}
    kept["turns"] = MappingProxyType({**puzzle.turns, **_together(puzzle)})
    kept |= {"title": f"{puzzle.title}, {number} joined", "looks": frozen(looks)}
    kept["nearly"] = tuple(pair for pair in puzzle.nearly if not {*puzzle.slots_of(np.array(pair)).tolist()} & {*every})
    whole = Joined(**kept, joints=joints)
    if not whole.legal(whole.solved):
        names = listed(map(whole.name_of, joints))
        raise BadOption(f"every turn of {puzzle.title} at home cuts {names}: join fewer pieces")
    return whole


def _together(puzzle: Puzzle) -> dict[str, Turn]:
    """The turns of several layers from each face, where the puzzle makes the same turn of each of these layers."""
    found = {}
    for wide in puzzle.turns.values():
        for depth in range(2, puzzle.alphabet.layers.get(wide.step.stem, 1) // 2 + 1) if wide.step.first == 1 else ():
            if (inner := puzzle.turns.get(str(replace(wide.step, first=depth, last=depth)))) is None:
                break
            step, image = replace(wide.step, last=depth), frozen(inner.permutation[wide.permutation])
            wide = replace(wide, name=str(step), step=step, permutation=image, slots=wide.slots | inner.slots)
            found[wide.name] = wide
    return found


def _check(puzzle: Puzzle, joint: tuple[int, ...]) -> None:
    """`BadOption` unless the pieces of a block touch by faces, each one that stands before it, and one tells where they lie."""
    if len(joint) < 2:
        raise BadOption(f"{puzzle.slots[joint[0]]} alone is no block: join it to another slot, as in UF-UFR")
    faces = [{frozenset(map(tuple, f.vertices.round(6) + 0.0)) for f in puzzle.geometry.bodies[p].faces} for p in joint]
    for i in range(1, len(joint)):
        if not any(faces[i] & before for before in faces[:i]):
            names = listed((puzzle.slots[piece] for piece in joint[:i]), "or")
            raise BadOption(f"{puzzle.slots[joint[i]]} does not touch {names} by a face: join slots that lie side by side")
    looks = [puzzle.looks[puzzle.base_label[p] + np.arange(puzzle.kind_of[p].twist)] for p in joint]
    kinds = [puzzle.looks[list(puzzle.kind_of[p].labels)] for p in joint]
    if not any((kind[:, None] == own).sum() == len(own) for kind, own in zip(kinds, looks, strict=True)):
        names = listed(puzzle.slots[piece] for piece in joint)
        raise BadOption(f"how a block of {names} lies does not show, for each has a twin or turns unseen: join one that shows it")
