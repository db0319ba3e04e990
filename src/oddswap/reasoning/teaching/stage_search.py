"""One stage of a plan on a puzzle: its blocks of slots, its turns and sequences, and the fewest of them that reach its goal.

A slot with a star stands for all slots of its faces, as one block: on four slabs ``UF*`` is both wings of the top front edge.
A centre's slot that the puzzle does not have is passed over, so that one plan fits several numbers of slabs.
"""

from dataclasses import dataclass, replace
from functools import lru_cache, reduce
from itertools import product

import numpy as np

from oddswap.errors import BadPlan, OddswapError, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Clock
from oddswap.reasoning.search.goals import PartTask, goal, seen_through
from oddswap.reasoning.search.seen import SeenModel, SequenceMoves, ShapedMoves, seen_model, within_shapes
from oddswap.reasoning.search.shortest import searched
from oddswap.reasoning.search.words import Moves, first_rows
from oddswap.reasoning.teaching.plans import TOGETHER, Plan, PlanStage
from oddswap.values.position import Appearance, Arrangement
from oddswap.values.sequence import Sequence, bounded

LONGEST = 1000
"""So many moves may a sequence of a plan have."""

Block = tuple[str, ...]
Looks = dict[int, int]
"""What some slots show, by their numbers."""


@dataclass(frozen=True)
class Part:
    """Turns made one after another: a sequence by its ``name`` in a ``holding``, or single turns without a name.

    ``moves`` are said in the holding in which the plan began.
    """

    name: str
    holding: str
    moves: str


Parts = tuple[Part, ...]


@dataclass(frozen=True)
class Done:
    """A stage that was carried out, or some slots of it: what is right afterwards, and how it was done."""

    stage: str
    slots: tuple[str, ...]
    parts: Parts

    @property
    def moves(self) -> str:
        return " ".join(part.moves for part in self.parts)


@lru_cache(maxsize=256)
def blocks(puzzle: Puzzle, slots: tuple[str, ...]) -> tuple[Block, ...]:
    """The slots that a plan names, block by block.

    >>> from oddswap.puzzles.catalogue import load
    >>> blocks(load("cube:5"), ("U", "UF*", "UFR"))
    (('U',), ('UF', 'UF.l2', 'UF.r2'), ('UFR',))
    """
    return tuple(block for slot in slots if (block := _block(puzzle, slot)))


def _block(puzzle: Puzzle, slot: str) -> Block:
    faces, star, _ = slot.partition("*")
    if star:
        return tuple(s for s in puzzle.slots if set(s.partition(".")[0]) == set(faces)) or (faces,)
    is_centre = len(slot.partition(".")[0]) == 1
    return () if is_centre and slot not in puzzle.slots else (slot,)


@lru_cache(maxsize=256)
def placements(puzzle: Puzzle, block: Block, faces: frozenset[str] | None = None) -> tuple[tuple[int, ...], ...]:
    """The labels to which turns, or those of some faces, carry a block as one; at home first.

    >>> from oddswap.puzzles.catalogue import load
    >>> [len(placements(load("cube:5"), block)) for block in (("UF", "UF.l2", "UF.r2"), ("UFR",))]
    [24, 24]
    """
    found = {tuple(int(puzzle.base_label[puzzle.slot(slot)]) for slot in block): None}
    quarters = [t for t in puzzle.turns.values() if t.step.amount == 1 and (faces is None or t.step.stem in faces)]
    for labels in (todo := list(found)):
        for turn in quarters:
            to = turn.permutation[list(labels)]
            if (puzzle.slots_of(to) != puzzle.slots_of(np.array(labels))).all() and (named := tuple(to.tolist())) not in found:
                found[named] = None
                todo.append(named)
    return tuple(found)


def checked(puzzle: Puzzle, plan: Plan, stage: PlanStage) -> Parts:
    """The turns and sequences of a stage on this puzzle, in all holdings."""
    try:
        for block in blocks(puzzle, stage.slots):
            for slot in block:
                puzzle.slot(slot)
        single = tuple(puzzle.turns) if stage.turns is None else stage.turns
        parts = [Part("", "", _spelled(puzzle, turn)) for turn in single]
        for name, moves in {**stage.sequences, **stage.mends}.items():
            try:
                written = [(h, bounded(puzzle.read(f"{h} {moves}".strip()), LONGEST)) for h in stage.holdings]
                parts += [Part(name, h, _spelled(puzzle, sequence)) for h, sequence in written]
            except OddswapError as error:
                raise BadPlan(f"sequence {quoted(name)}: {error}") from None
    except OddswapError as error:
        raise BadPlan(f"{plan.name}, stage {quoted(stage.name)}: {error}; give a plan that fits this puzzle") from None
    return tuple(part for part in parts if part.moves)


def _spelled(puzzle: Puzzle, moves: str | Sequence) -> str:
    """The same turns as seen from the core, whatever the holding."""
    turns, _ = puzzle.unchecked(moves) if puzzle.shape_first else puzzle.settled(moves)
    return " ".join(turn.name for turn in turns)


def reached(
    puzzle: Puzzle, stage: PlanStage, with_it: Parts, kept: list[str], there: list[Block], state: Arrangement, clock: Clock
) -> Done | None:
    """How a stage fills some of its blocks, while what is ``kept`` ends as it is; ``None`` where it cannot."""
    model, slots, now = seen_model(puzzle), tuple(slot for block in there for slot in block), puzzle.appearance(state)
    choices = _choices(puzzle, stage.right, there, {puzzle.slot(slot) for slot in kept})
    wanted = _with_looks(now if stage.right == TOGETHER else puzzle.appearance(puzzle.solved), choices[0])
    named = [puzzle.slots[b] for b in (*choices[0], *puzzle.bound)]
    masked, starts, rows = seen_through(model, model.pack(now), goal(puzzle, [*kept, *named], wanted))
    if len(choices) > 1:
        rows = np.unique(np.concatenate([_exchanged(model, masked.slots, rows, choices[0], one) for one in choices]), axis=0)
    single, moves, firsts = _moves(masked, with_it)
    if isinstance(single, ShapedMoves):
        home, at = single.shape_as_in(model.solved), np.arange(len(masked.slots))
        rows = rows[home[at, rows].all(axis=1)]
        if stage.shape == "home" and not home[at, starts[0]].all():
            what = f"keeps the {puzzle.shape_word} of home, but begins away from it"
            raise BadPlan(f'the stage {quoted(stage.name)} {what}: write shape = "any" there')
        order, passed = list(puzzle.turns), home if stage.shape == "home" else np.ones_like(home)
        made_of = tuple(tuple(map(order.index, with_it[i].moves.split())) for i in firsts)
        moves = SequenceMoves(moves.images, single=single, made_of=made_of, kept=passed)
    job = PartTask(moves, starts, rows, tuple(str(i) for i in firsts))
    way = searched(job, clock)
    if way.impossible:
        return None
    if way.turns is None:
        raise BadPlan(f"the stage {quoted(stage.name)} was not decided, because its budget ended: give the plan more time")
    return Done(stage.name, slots, tuple(with_it[int(i)] for i in way.turns))


@lru_cache(maxsize=32)
def _moves(masked: SeenModel, with_it: Parts) -> tuple[Moves, Moves, list[int]]:
    """The single turns, and the parts that do something, each once, with their numbers; kept for all blocks of a stage."""
    puzzle = masked.puzzle
    by_name = [masked.names.index(name) for name in puzzle.turns]
    single = within_shapes(masked, Moves.of(masked.source[by_name], masked.lut[by_name]))
    turns, still = dict(zip(puzzle.turns, single.flat, strict=True)), np.arange(single.flat.shape[1])
    flat = np.array([reduce(lambda image, name: turns[name][image], part.moves.split(), still) for part in with_it])
    firsts = [i for i in (range(len(flat)) if puzzle.shape_first else first_rows(flat)) if (flat[i] != still).any()]
    return single, Moves(flat[firsts].reshape(-1, *single.images.shape[1:])), firsts


def whereabouts(puzzle: Puzzle, right: str, block: Block, state: Arrangement, kept: list[str]) -> Block:
    """Where a block shows what it should, in slots that are not ``kept`` yet; empty for nowhere."""
    sights = puzzle.appearance(state).sights
    choices = _choices(puzzle, right, [block], {puzzle.slot(slot) for slot in kept})
    shown = (looks for looks in choices if all(sights[slot] == {look} for slot, look in looks.items()))
    return tuple(puzzle.slots[slot] for slot in next(shown, ()))


def _choices(puzzle: Puzzle, right: str, there: list[Block], taken: set[int]) -> list[Looks]:
    """What a goal may show in the slots of its blocks, or where else it may show them."""
    homes = [[puzzle.slot(slot) for slot in block] for block in there]
    home = puzzle.base_label[np.concatenate(homes)]
    found = []
    for ways in product(*(_ways(puzzle, right, block, there) for block in there)):
        labels = np.concatenate(ways)
        slots = puzzle.slots_of(labels)
        if len(set(slots.tolist())) == len(slots) and not taken.intersection(slots.tolist()):
            looks = puzzle.looks[home + labels - puzzle.base_label[slots]]
            found.append(dict(zip(slots.tolist(), looks.tolist(), strict=True)))
    return found


def _ways(puzzle: Puzzle, right: str, block: Block, there: list[Block]) -> list[tuple[int, ...]]:
    """The labels that the slots of a block may go to."""
    home, *others = placements(puzzle, block)
    if right == TOGETHER:
        return [home, *others]
    if right == "place":
        same = set(puzzle.slots_of(np.array(home)).tolist())
        return [home, *(way for way in others if set(puzzle.slots_of(np.array(way)).tolist()) == same)]
    if right == "way round":
        if len(block) == 1:
            return [placements(puzzle, other)[0] for other in there]
        return list(placements(puzzle, block, frozenset.intersection(*(frozenset(b[0].partition(".")[0]) for b in there))))
    return [home]


def _with_looks(appearance: Appearance, looks: Looks) -> Appearance:
    sights = list(appearance.sights)
    for slot, look in looks.items():
        sights[slot] = frozenset((look,))
    return replace(appearance, sights=tuple(sights))


def _exchanged(model: SeenModel, kept: np.ndarray, rows: np.ndarray, first: Looks, looks: Looks) -> np.ndarray:
    """Goals that show some looks in place of the first ones, and nothing in particular where those were."""
    rows, at = rows.copy(), {int(slot): place for place, slot in enumerate(kept)}
    rows[:, [at[slot] for slot in first if slot not in looks]] = model.codes
    rows[:, [at[slot] for slot in looks]] = list(looks.values())
    return rows
