"""A plan carried out by machine, stage by stage, on what is seen; and what happens where a false parity turns up.

Each stage is a search among its turns and sequences, each counted as one, to a goal with don't-cares. Where all that they
reach was seen and no goal is among it, the laws decide: when lookalikes that were placed before can mend them, one of these
is the culprit. It is told apart from its like from then on, and the plan goes on from the stage where it was placed.

For filming, and for workshops there is a scramble after which a plan surely meets that trouble (`trouble_scramble`).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce
from itertools import permutations, product
from random import Random

import numpy as np

from oddswap.errors import BadOption, BadPlan, OddswapError, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_still, turns_fit_every_holding
from oddswap.reasoning.budget import Clock, Limit, started
from oddswap.reasoning.finding import Finding
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.search.goals import PartTask, goal, seen_through, shows
from oddswap.reasoning.search.outlines import SequenceMoves, ShapedMoves, within_shapes
from oddswap.reasoning.search.seen import seen_model
from oddswap.reasoning.search.shortest import searched
from oddswap.reasoning.search.words import Moves, first_rows
from oddswap.reasoning.teaching.plan_culprits import NoTurningHelps, Trouble, trouble_at
from oddswap.reasoning.teaching.plans import Plan, PlanStage
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.reasoning.ways.commutators import shows as has_looks
from oddswap.values.arrangement import Arrangement
from oddswap.values.sequence import Sequence, bounded

MOST = 6
"""So many troubles are gone back for at most."""
LONGEST = 1000
"""So many moves may a sequence of a plan have."""


@dataclass(frozen=True)
class Part:
    """Turns made one after another: a sequence by its ``name`` in a ``holding``, or single turns without a name.

    ``moves`` are said in the holding in which the plan began.
    """

    name: str
    holding: str
    moves: str


@dataclass(frozen=True)
class Done:
    """A stage that was carried out, or some slots of it: what is right afterwards, and how it was done."""

    stage: str
    slots: tuple[str, ...]
    parts: tuple[Part, ...]

    @property
    def moves(self) -> str:
        return " ".join(part.moves for part in self.parts)


class TroubleTooOften(Finding):
    """The plan met trouble more than so many times."""

    times: int


@dataclass(frozen=True)
class CarriedOut:
    """What happened, in order. ``moves`` in one go; ``finished``: everything that the plan wants is right in the end.

    ``stuck`` is why not, when no lookalike is to blame.
    """

    plan: Plan
    events: tuple[Done | Trouble, ...]
    moves: str
    finished: bool
    stuck: NoTurningHelps | TroubleTooOften | None = None

    @property
    def troubles(self) -> tuple[Trouble, ...]:
        return tuple(event for event in self.events if isinstance(event, Trouble))


def carry_out(puzzle: Puzzle, plan: Plan, start: Arrangement, budget: Limit = None) -> CarriedOut:
    """Carry a plan out from an arrangement; only what is seen decides. The budget is for all stages together.

    `BadPlan` when a stage does not fit the puzzle or cannot follow from the last, or where it must be held otherwise first. The
    moves are replayed.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.teaching.plans import read_plan
    >>> prism = load("shape-mod:prism8")
    >>> done = carry_out(prism, read_plan(), prism.follow("R U F2 L D' B U2 R' F"))
    >>> done.finished
    True
    """
    if not turns_fit_every_holding(puzzle) and (first_held := judged(puzzle, puzzle.appearance(start)).held):
        raise BadPlan(f"as it is held, the turns of {puzzle.name} do not lead home: turn the whole puzzle by {first_held} first")
    clock = started(budget)
    sight, state, first = held_still(puzzle), start, 0
    events, stuck = [], None
    for _ in range(MOST):
        stages = range(first, len(plan.stages))
        parts = ((number, part) for number in stages for part in _stage_done(sight, plan, number, state, clock))
        for number, part in parts:  # each stage begins from the state that those before it lead to
            if part is None:
                trouble = trouble_at(puzzle, sight, plan, number, state)
                break
            events.append(part)
            state = sight.follow(part.moves, state)
        else:
            break
        if isinstance(trouble, NoTurningHelps):
            stuck = trouble
            break
        event, state, sight, first = trouble
        events.append(event)
    else:
        stuck = TroubleTooOften(MOST)
    said = " ".join(event.moves for event in events if event.moves)
    finished = stuck is None and _wanted_shows(puzzle, plan, said, start)
    if stuck is None and not finished:
        raise ArithmeticError(f"the plan's moves {said} do not lead to its goals")
    return CarriedOut(plan, tuple(events), said, finished, stuck)


def _wanted_shows(puzzle: Puzzle, plan: Plan, moves: str, start: Arrangement) -> bool:
    slots = [slot for stage in plan.stages if stage.right == "wholly" for slot in _there(puzzle, stage)]
    return shows(puzzle.appearance(puzzle.follow(moves, start)), goal(puzzle, slots))


def _there(puzzle: Puzzle, stage: PlanStage) -> tuple[str, ...]:
    """The slots of a stage without centres that this puzzle does not have."""
    return tuple(s for s in stage.slots if len(s) > 1 or s in puzzle.slots)


def _stage_done(puzzle: Puzzle, plan: Plan, number: int, state: Arrangement, clock: Clock) -> Iterator[Done | None]:
    """The parts of one stage; ``None`` where it cannot go on."""
    stage = plan.stages[number]
    with_it = _checked(puzzle, plan, stage)
    kept = [s for before in plan.stages[:number] if before.right == "wholly" for s in _there(puzzle, before)]
    slots = _there(puzzle, stage)
    if not any(has_looks(puzzle, puzzle.kind_of[puzzle.slot(s)]) for s in slots):
        return
    if not stage.one_by_one:
        yield _reached(puzzle, stage, with_it, kept, slots, state, clock)
        return
    left = list(slots)
    while left:
        tried = [_reached(puzzle, stage, with_it, kept, (slot,), state, clock) for slot in left]
        possible = [done for done in tried if done is not None]
        if not possible:
            yield None
            return
        best = min(possible, key=lambda done: len(done.parts))
        if best.parts:
            yield best
        state = puzzle.follow(best.moves, state)
        kept += best.slots
        left.remove(best.slots[0])


def _reached(
    puzzle: Puzzle,
    stage: PlanStage,
    with_it: tuple[Part, ...],
    kept: list[str],
    slots: tuple[str, ...],
    state: Arrangement,
    clock: Clock,
) -> Done | None:
    model = seen_model(puzzle)
    start = model.pack(puzzle.appearance(state))
    masked, starts, pattern = seen_through(model, start, goal(puzzle, [*kept, *slots, *(puzzle.slots[b] for b in puzzle.bound)]))
    rows = pattern if stage.right == "wholly" else _loosened(puzzle, masked.slots, pattern, slots, stage.right)
    by_name = [masked.names.index(name) for name in puzzle.turns]
    single = within_shapes(masked, Moves.of(masked.source[by_name], masked.lut[by_name]))
    turns, still = dict(zip(puzzle.turns, single.flat, strict=True)), np.arange(single.flat.shape[1])
    flat = np.array([reduce(lambda image, name: turns[name][image], part.moves.split(), still) for part in with_it])
    firsts = [i for i in (range(len(flat)) if puzzle.shape_first else first_rows(flat)) if (flat[i] != still).any()]
    moves = Moves(flat[firsts].reshape(-1, *single.images.shape[1:]))
    if isinstance(single, ShapedMoves):
        home, at = single.shape_as_in(model.solved), np.arange(len(masked.slots))
        rows = rows[home[at, rows].all(axis=1)]
        if stage.shape == "home" and not home[at, starts[0]].all():
            what = f"keeps the {puzzle.shape_word} of home, but begins away from it"
            raise BadPlan(f'the stage {quoted(stage.name)} {what}: write shape = "any" there')
        order, passed = list(puzzle.turns), home if stage.shape == "home" else np.ones_like(home)
        made_of = tuple(tuple(map(order.index, with_it[i].moves.split())) for i in firsts)
        moves = SequenceMoves(moves.images, single=single, made_of=made_of, kept=passed)
    job = PartTask(masked, moves, starts, rows, tuple(str(i) for i in firsts))
    way = searched(job, clock)
    if way.impossible:
        return None
    if way.turns is None:
        raise BadPlan(f"the stage {quoted(stage.name)} was not decided, because its budget ended: give the plan more time")
    return Done(stage.name, slots, tuple(with_it[int(i)] for i in way.turns))


def _loosened(puzzle: Puzzle, kept: np.ndarray, rows: np.ndarray, slots: tuple[str, ...], right: str) -> np.ndarray:
    """The goals in which the pieces of some slots are only the right way round, or only in the right places."""
    numbers = [puzzle.slot(slot) for slot in slots]
    places = np.searchsorted(kept, numbers)
    twist = puzzle.kind_of[numbers[0]].twist
    looks = np.array([[puzzle.looks[puzzle.base_label[b] + t] for t in range(twist)] for b in numbers])
    if right == "place":
        choices = [[looks[i, t] for i, t in enumerate(ways)] for ways in product(range(twist), repeat=len(slots))]
    else:
        choices = [[looks[i, 0] for i in order] for order in permutations(range(len(slots)))]
    found = np.repeat(rows, len(choices), axis=0)
    found[:, places] = np.tile(np.array(choices, dtype=np.uint8), (len(rows), 1))
    return np.unique(found, axis=0)


def _checked(puzzle: Puzzle, plan: Plan, stage: PlanStage) -> tuple[Part, ...]:
    """The turns and sequences of a stage on this puzzle, in all holdings."""
    try:
        for slot in _there(puzzle, stage):
            puzzle.slot(slot)
        single = tuple(puzzle.turns) if stage.turns is None else stage.turns
        parts = [Part("", "", _spelled(puzzle, turn)) for turn in single]
        for name, moves in stage.sequences.items():
            try:
                written = [(h, bounded(puzzle.read(f"{h} {moves}".strip()), LONGEST)) for h in stage.holdings]
                parts += [Part(name, h, _spelled(puzzle, sequence)) for h, sequence in written]
            except OddswapError as error:
                raise BadPlan(f"sequence {quoted(name)}: {error}") from None
    except OddswapError as error:
        raise BadPlan(f"{plan.name}, stage {quoted(stage.name)}: {error}") from None
    return tuple(part for part in parts if part.moves)


def _spelled(puzzle: Puzzle, moves: str | Sequence) -> str:
    """The same turns as seen from the core, whatever the holding."""
    turns, _ = puzzle.unchecked(moves) if puzzle.shape_first else puzzle.settled(moves)
    return " ".join(turn.name for turn in turns)


TRIES = 40
"""So many scrambles are tried at most."""


def trouble_scramble(puzzle: Puzzle, plan: Plan, length: int = 20, seed: int = 0, budget: Limit = None) -> tuple[str, CarriedOut]:
    """A scramble of ``length`` turns, drawn by ``seed``, and the plan carried out after it, which meets trouble.

    Where nothing fixes the holding, the puzzle is held another way at the end. `BadPlan` for a puzzle on which nothing
    can be mistaken for something else, and where no scramble that was tried leads to trouble.
    """
    if length < 1:
        raise BadOption(f"a scramble of {length} turns is none: ask for at least one")
    if puzzle.shape_first:
        raise BadPlan(
            f"no scramble is drawn for {puzzle.name}, whose {puzzle.shape_word} decides the turns: give turns of your own"
        )
    if not _may_mislead(puzzle):
        raise BadPlan(f"{puzzle.name} has no lookalikes and its holding is fixed, so no scramble leads to a false parity on it")
    random, clock = Random(seed), started(budget)
    for tried in range(TRIES):
        if tried and clock.spent:
            raise BadPlan(f"the time ended after {tried} scrambles, none of which leads to trouble: give more seconds")
        moves = " ".join(_drawn(puzzle, length, random))
        if puzzle.rotations and turns_fit_every_holding(puzzle):
            moves += f" {random.choice(list(puzzle.rotations))}"
        done = carry_out(puzzle, plan, puzzle.follow(moves), clock)
        if done.troubles and done.finished:
            return moves, done
    raise BadPlan(f"none of {TRIES} scrambles of {length} turns of {puzzle.name} leads to trouble: ask for more turns")


def _may_mislead(puzzle: Puzzle) -> bool:
    """Whether the holding is free for the same turns, or pieces that change places have twins or turn unseen."""
    families = lookalikes(puzzle).of_pieces
    return bool(puzzle.rotations and turns_fit_every_holding(puzzle)) or any(
        len(family.kind.slots) > 1 and (len(family.pieces) > 1 or family.hidden > 1) for family in families
    )


def _drawn(puzzle: Puzzle, length: int, random: Random) -> list[str]:
    """Turns of which no two neighbours turn the same slab, nor three in a row slabs of one axis."""
    turns, names = list(puzzle.turns), []
    lines = {name: {turn.axis, tuple(-part for part in turn.axis)} for name, turn in puzzle.turns.items()}

    def follows(name: str) -> bool:
        same_slab = names and puzzle.turns[names[-1]].step.name == puzzle.turns[name].step.name
        return not same_slab and [puzzle.turns[before].axis in lines[name] for before in names[-2:]] != [True, True]

    while len(names) < length:
        if not any(map(follows, turns)):
            raise BadPlan(f"{puzzle.name} turns about one axis only, and no scramble is longer than 2 turns there: ask for 2")
        name = random.choice(turns)
        if follows(name):
            names.append(name)
    return names
