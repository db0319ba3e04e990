"""A plan carried out by machine, stage by stage, on what is seen; and what happens where a false parity turns up.

Each stage is a search among its turns and sequences, each counted as one, to a goal with don't-cares. Where all that they
reach was seen and no goal is among it, the laws decide: when lookalikes that were placed before can mend them, one of these
is the culprit. It is told apart from its like from then on, and the plan goes on from the stage where it was placed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import permutations, product
from types import MappingProxyType

import numpy as np

from oddswap.errors import BadPlan, OddswapError, printable, quoted
from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.diagnosis import judged
from oddswap.reasoning.findings import LOOKALIKE, NOT_BY_TURNING
from oddswap.reasoning.goals import PartTask, goal, seen_through, shows
from oddswap.reasoning.laws import law_book
from oddswap.reasoning.plans import Plan, PlanStage
from oddswap.reasoning.search import Budget, searched
from oddswap.reasoning.search_words import Moves
from oddswap.reasoning.seen import seen_model
from oddswap.values.arrangement import Arrangement

MOST = 6
"""So many troubles are gone back for at most."""


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


@dataclass(frozen=True)
class Trouble:
    """A stage that could not go on: the ``laws`` that are broken as it looks, and who is to blame.

    ``culprits`` are all that could be; ``words`` say it of the one that was taken, ``back_to`` where it was placed.
    ``moves`` is the new holding where the unseen middle of the puzzle is to blame, else empty.
    """

    stage: str
    laws: tuple[str, ...]
    culprits: tuple[tuple[str, ...], ...]
    words: str
    back_to: str
    moves: str = ""


@dataclass(frozen=True)
class CarriedOut:
    """What happened, in order. ``moves`` in one go; ``finished``: everything that the plan wants is right in the end.

    ``stuck`` says why not, when no lookalike is to blame.
    """

    plan: Plan
    events: tuple[Done | Trouble, ...]
    moves: str
    finished: bool
    stuck: str | None = None

    @property
    def troubles(self) -> tuple[Trouble, ...]:
        return tuple(event for event in self.events if isinstance(event, Trouble))


def carry_out(puzzle: Puzzle, plan: Plan, start: Arrangement, budget: Budget | None = None) -> CarriedOut:
    """Carry a plan out from an arrangement; only what is seen decides.

    `BadPlan` when a stage does not fit the puzzle or cannot follow from the last. The moves are replayed.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.plans import read_plan
    >>> prism = load("shape-mod:prism8")
    >>> done = carry_out(prism, read_plan(), prism.follow("R U F2 L D' B U2 R' F"))
    >>> done.finished
    True
    """
    budget = budget or Budget()
    held, state, first = held_still(puzzle), start, 0
    sight, events, moves, stuck = held, [], [], None
    for _ in range(MOST):
        stopped = None
        for number in range(first, len(plan.stages)):
            for part in _stage_done(sight, plan, number, state, budget):
                if part is None:
                    stopped = number
                    break
                events.append(part)
                moves.append(part.moves)
                state = sight.follow(part.moves, state)
            if stopped is not None:
                break
        if stopped is None:
            break
        trouble = _trouble(puzzle, sight, plan, stopped, state)
        if isinstance(trouble, str):
            stuck = trouble
            break
        event, state, sight, first = trouble
        events.append(event)
        moves.append(event.moves)
    else:
        stuck = f"the plan met trouble more than {MOST} times"
    said = " ".join(part for part in moves if part)
    finished = stuck is None and _wanted_shows(puzzle, held, plan, said, start)
    if stuck is None and not finished:
        raise ArithmeticError(f"the plan's moves {said} do not lead to its goals")
    return CarriedOut(plan, tuple(events), said, finished, stuck)


@lru_cache(maxsize=16)
def held_still(puzzle: Puzzle) -> Puzzle:
    """The same puzzle when it is always held the same way."""
    if not puzzle.rotations:
        return puzzle
    return replace(puzzle, rotations=MappingProxyType({}))


def _wanted_shows(puzzle: Puzzle, held: Puzzle, plan: Plan, moves: str, start: Arrangement) -> bool:
    slots = [slot for stage in plan.stages if stage.right == "wholly" for slot in _there(puzzle, stage)]
    return shows(puzzle, puzzle.appearance(puzzle.follow(moves, start)), goal(puzzle, slots))


def _there(puzzle: Puzzle, stage: PlanStage) -> tuple[str, ...]:
    """The slots of a stage without centres that this puzzle does not have."""
    return tuple(s for s in stage.slots if len(s) > 1 or s in puzzle.slots)


def _stage_done(puzzle: Puzzle, plan: Plan, number: int, state: Arrangement, budget: Budget) -> Iterator[Done | None]:
    """The parts of one stage; ``None`` where it cannot go on."""
    stage = plan.stages[number]
    with_it = _checked(puzzle, plan, stage)
    kept = [s for before in plan.stages[:number] if before.right == "wholly" for s in _there(puzzle, before)]
    slots = _there(puzzle, stage)
    if not any(len(set(puzzle.looks[list(puzzle.kind_of[puzzle.slot(s)].labels)].tolist())) > 1 for s in slots):
        return
    if not stage.one_by_one:
        yield _reached(puzzle, stage, with_it, kept, slots, state, budget)
        return
    left = list(slots)
    while left:
        tried = [_reached(puzzle, stage, with_it, kept, (slot,), state, budget) for slot in left]
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
    budget: Budget,
) -> Done | None:
    model = seen_model(puzzle)
    start = model.pack(puzzle.appearance(state))
    masked, starts, pattern = seen_through(model, start, goal(puzzle, [*kept, *slots]))
    rows = pattern if stage.right == "wholly" else _loosened(puzzle, masked.slots, pattern, slots, stage.right)
    by_name = [masked.names.index(name) for name in puzzle.turns]
    turns = dict(zip(puzzle.turns, Moves.of(masked.source[by_name], masked.lut[by_name]).images, strict=True))
    images = np.array([_made(turns, part) for part in with_it])
    flat = images.reshape(len(images), -1)
    firsts = np.sort(np.unique(flat, axis=0, return_index=True)[1])
    firsts = [i for i in firsts if (flat[i] != np.arange(flat.shape[1])).any()]
    job = PartTask(masked, Moves(images[firsts]), starts, rows, tuple(str(i) for i in firsts))
    way = searched(job, budget)
    if way.impossible:
        return None
    if way.turns is None:
        raise OddswapError(f"the stage {quoted(stage.name)} was not decided: {way.reason}")
    return Done(stage.name, slots, tuple(with_it[int(i)] for i in way.turns))


def _made(turns: dict[str, np.ndarray], part: Part) -> np.ndarray:
    names = part.moves.split()
    image = turns[names[0]].reshape(-1)
    for name in names[1:]:
        image = turns[name].reshape(-1)[image]
    return image.reshape(turns[names[0]].shape)


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
                parts += [Part(name, h, _spelled(puzzle, f"{h} {moves}".strip())) for h in stage.holdings]
            except OddswapError as error:
                raise BadPlan(f"sequence {quoted(name)}: {error}") from None
    except OddswapError as error:
        raise BadPlan(f"{plan.name}, stage {quoted(stage.name)}: {error}") from None
    return tuple(part for part in parts if part.moves)


def _spelled(puzzle: Puzzle, moves: str) -> str:
    """The same turns as seen from the core, whatever the holding."""
    return " ".join(turn.name for turn in puzzle.settled(moves)[0])


def _trouble(
    puzzle: Puzzle, sight: Puzzle, plan: Plan, stopped: int, state: Arrangement
) -> tuple[Trouble, Arrangement, Puzzle, int] | str:
    """What is to blame, and how to go on: ``(event, explanation, puzzle with the culprit told apart, stage)``.

    A sentence where nothing can be done by turning.
    """
    stage = plan.stages[stopped]
    if puzzle.rotations:
        turned = _held_otherwise(puzzle, sight, state)
        if turned is not None:
            laws = tuple(law.statement for law in law_book(sight).broken(state))
            words = "the middle of the puzzle cannot be seen: it has turned a quarter against the rest"
            event = Trouble(stage.name, laws, (), words, plan.stages[0].name, turned)
            return event, puzzle.follow(turned, state), sight, 0
    found = judged(sight, sight.appearance(state))
    if found.verdict == NOT_BY_TURNING:
        broken = " ".join(law.statement for law in found.broken)
        return f"the stage {printable(stage.name)} cannot go on, and no turning helps: {broken}".rstrip(": ")
    if found.verdict != LOOKALIKE:
        before = f"from {quoted(plan.stages[stopped - 1].name)}" if stopped else "from the start"
        raise BadPlan(
            f"{plan.name}: the stage {quoted(stage.name)} cannot follow {before}, because none of its turns and sequences "
            "leads to its goal: allow it more"
        )
    placed = [_placed(plan, culprit.pieces, stopped) for culprit in found.culprits]
    number, culprit = max(zip(placed, found.culprits, strict=True), key=lambda pair: pair[0])
    event = Trouble(
        stage.name,
        tuple(law.statement for law in found.broken),
        tuple(each.pieces for each in found.culprits),
        culprit.words,
        plan.stages[number].name,
    )
    apart = told_apart(sight, frozenset(map(sight.slot, culprit.pieces)))
    explanation = Arrangement(apart.name, culprit.arrangement.pieces, culprit.arrangement.twists)
    return event, explanation, apart, number


def _placed(plan: Plan, pieces: tuple[str, ...], stopped: int) -> int:
    """The first stage that placed one of these pieces."""
    return next((i for i, stage in enumerate(plan.stages[:stopped]) if set(pieces) & set(stage.slots)), stopped)


@lru_cache(maxsize=64)
def told_apart(puzzle: Puzzle, pieces: frozenset[int]) -> Puzzle:
    """The puzzle on which these pieces show what they are and which way round they are."""
    looks, names = puzzle.looks.copy(), []
    for piece in sorted(pieces):
        kind, base = puzzle.kind_of[piece], puzzle.base_label[piece]
        top = int(looks[list(kind.labels)].max()) + 1
        looks[base : base + kind.twist] = np.arange(top, top + kind.twist)
        names.append(puzzle.slots[piece])
    looks.setflags(write=False)
    return replace(puzzle, name=f"{puzzle.name}, {' '.join(names)} told apart", looks=looks)


def _held_otherwise(puzzle: Puzzle, sight: Puzzle, state: Arrangement) -> str | None:
    """A whole-puzzle rotation after which turning alone leads home, where it does not as the puzzle is held."""
    book = law_book(sight)
    if book.reaches_permutation(sight.permutation(state)):
        return None
    image = sight.permutation(state)
    names = ("y", *(name for name in puzzle.rotations if name != "y"))
    return next((n for n in names if book.reaches_permutation(puzzle.rotations[n].permutation[image])), None)
