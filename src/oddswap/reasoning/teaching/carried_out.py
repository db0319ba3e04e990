"""A plan carried out by machine, stage by stage, on what is seen; and what happens where a false parity turns up.

Each stage is a search among its turns and sequences, each counted as one, to a goal with don't-cares. Where all that they reach
was seen and no goal is among it, the laws decide: when lookalikes that were placed before can mend them, one of these is the
culprit. It is told apart from its like from then on, and the plan goes on from the stage where it was placed. Where only a
sequence that a stage keeps for odd swaps leads on, that is an event, too (`OddSwap`). `trouble_scramble` draws scrambles, for
filming and for workshops, after which a plan surely meets trouble.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain
from random import Random

from oddswap.errors import BadOption, BadPlan
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_still, turns_fit_every_holding
from oddswap.reasoning.budget import Clock, Finding, Limit, started
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.search.goals import goal, shows
from oddswap.reasoning.teaching.plan_culprits import NoTurningHelps, OddSwap, Trouble, odd_kinds, odd_swap, told_alike, trouble_at
from oddswap.reasoning.teaching.plans import RIGHT, TOGETHER, Plan, PlanStage
from oddswap.reasoning.teaching.stage_search import Block, Done, blocks, checked, reached, whereabouts
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.reasoning.ways.commutators import shows as has_looks
from oddswap.values.position import Arrangement

MOST = 6
"""So many troubles are gone back for at most."""


class TroubleTooOften(Finding):
    """The plan met trouble more than so many times."""

    times: int


@dataclass(frozen=True)
class CarriedOut:
    """What happened, in order. ``moves`` in one go; ``finished``: everything that the plan wants is right in the end.

    ``stuck`` is why not, when no lookalike is to blame.
    """

    plan: Plan
    events: tuple[Done | Trouble | OddSwap, ...]
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
    slots = chain(*(chain(*blocks(puzzle, stage.slots)) for stage in plan.stages if stage.right == RIGHT[0]))
    return shows(puzzle.appearance(puzzle.follow(moves, start)), goal(puzzle, slots))


def _kept(puzzle: Puzzle, plan: Plan, number: int) -> list[str]:
    """The slots that are right before a stage, and stay so: from a stage with pairs on, only what no later stage names again."""
    named = [tuple(chain(*blocks(puzzle, stage.slots))) for stage in plan.stages]
    wholly = [i for i in range(number) if plan.stages[i].right == RIGHT[0]]
    paired = any(stage.right == TOGETHER for stage in plan.stages[: number + 1])
    return [slot for i in wholly for slot in named[i] if not (paired and slot in chain(*named[i + 1 :]))]


def _stage_done(puzzle: Puzzle, plan: Plan, number: int, state: Arrangement, clock: Clock) -> Iterator[Done | OddSwap | None]:
    """The parts of one stage; ``None`` where it cannot go on."""
    stage = plan.stages[number]
    with_it, kept, left = checked(puzzle, plan, stage), _kept(puzzle, plan, number), list(blocks(puzzle, stage.slots))
    if not any(has_looks(puzzle, puzzle.kind_of[puzzle.slot(slot)]) for slot in chain(*left)):
        return
    mends = tuple(part for part in with_it if part.name in stage.mends)
    usual = tuple(part for part in with_it if part not in mends)
    kinds = sorted(odd_kinds(puzzle, usual, mends), key=lambda kind: told_alike(puzzle, kind))
    in_doubt = set(kinds[0].slots) if kinds and not told_alike(puzzle, kinds[0]) else None
    while left:
        now = [whereabouts(puzzle, stage.right, block, state, kept) for block in left] if stage.one_by_one else [()]
        ready = next((at for at, slots in enumerate(now) if slots), None)
        if ready is not None:
            kept += now[ready]
            del left[ready]
            continue
        done = None
        for some in [[block] for block in left] if stage.one_by_one else [left]:
            decided = in_doubt is not None and in_doubt.issubset([*kept, *chain(*some)])
            sets = (with_it, usual) if decided else (usual, with_it) if mends else (usual,)
            tried = _with_fewest(puzzle, stage, sets, kept, some, state, clock)
            done = min(filter(None, (done, tried)), key=lambda found: len(found.parts), default=None)
            if done and len(done.parts) < 2:
                break
        if done is None:
            yield None
            return
        mended = [part for part in done.parts if part.name in stage.mends]
        if mended and kinds:
            yield odd_swap(puzzle, plan, number, kinds[0], mended[0])
        yield done
        state = puzzle.follow(done.moves, state)
        if not stage.one_by_one:
            return


def _with_fewest(
    puzzle: Puzzle, stage: PlanStage, sets: tuple, kept: list[str], there: list[Block], state: Arrangement, clock: Clock
) -> Done | None:
    """How blocks are filled with the first set of parts that does it; mends that undo each other are none."""
    best = None
    for with_it in sets:
        done = reached(puzzle, stage, with_it, kept, there, state, clock)
        mends = sum(part.name in stage.mends for part in done.parts) if done else 0
        best = done if best is None or done else best
        if done and (mends % 2 or not mends):
            break
    return best


TRIES = 40
"""So many scrambles are tried at most."""


def trouble_scramble(puzzle: Puzzle, plan: Plan, length: int = 20, seed: int = 0, budget: Limit = None) -> tuple[str, CarriedOut]:
    """A scramble of ``length`` turns, drawn by ``seed``, and the plan carried out after it, which meets trouble
    or an odd swap.

    Where nothing fixes the holding, the puzzle is held another way at the end. `BadPlan` for a puzzle on which nothing
    can be mistaken for something else, and where no scramble that was tried leads to trouble.
    """
    if length < 1:
        raise BadOption(f"a scramble of {length} turns is none: ask for at least one")
    if puzzle.shape_first:
        reason = f"no scramble is drawn for {puzzle.name}, whose {puzzle.shape_word} decides the turns: give turns of your own"
        raise BadPlan(reason)
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
        if done.finished and not all(isinstance(event, Done) for event in done.events):
            return moves, done
    raise BadPlan(f"none of {TRIES} scrambles of {length} turns of {puzzle.name} leads to trouble: ask for more turns")


def _may_mislead(puzzle: Puzzle) -> bool:
    """Whether the holding is free for the same turns, or pieces that change places have twins or turn unseen."""
    families = lookalikes(puzzle).of_pieces
    alike = any(len(family.kind.slots) > 1 and (len(family.pieces) > 1 or family.hidden > 1) for family in families)
    return alike or bool(puzzle.rotations and turns_fit_every_holding(puzzle))


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
