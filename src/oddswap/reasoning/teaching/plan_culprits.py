"""Who is to blame where a plan cannot go on, and at which stage that piece was placed.

Everything that stands right is taken at first sight to be what it seems. Where the laws are then broken, and lookalikes can
mend them, the culprit placed last is taken, for least is to be undone; it is told apart from its like from then on.

An *odd swap* is one that no usual sequence of a stage makes; it is real, or hides in pieces that look alike. A sequence that
mends makes an odd number of swaps of a kind of which all the others of its stage make an even number. So where an odd number of
such sequences leads on, none of the others could have. What it does to a solved puzzle says which swap it is: *real* if that
sight needs no lookalikes, else a false parity with its culprits.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import chain

import numpy as np

from oddswap.errors import BadPlan, quoted
from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.puzzles.base.whole_turns import turns_fit_every_holding
from oddswap.reasoning.budget import Finding
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.sectors import Law
from oddswap.reasoning.teaching.plans import Plan
from oddswap.reasoning.teaching.stage_search import Part, blocks
from oddswap.reasoning.verdicts.diagnosis import at_face_value
from oddswap.reasoning.verdicts.findings import NOT_BY_TURNING, Culprit
from oddswap.values.permutation import sign_by_cycles
from oddswap.values.position import Arrangement


class MiddleTurned(Finding):
    """The middle of the puzzle, which cannot be seen, has turned a quarter against the rest."""


@forwarded
class Trouble(Finding):
    """A stage that could not go on: the ``laws`` that are broken as it looks, and who is to blame.

    ``culprits`` are all that could be; ``blamed`` is the one that was taken, ``back_to`` where it was placed.
    ``moves`` is the new holding where the unseen middle of the puzzle is to blame, else empty.
    """

    stage: str
    laws: tuple[Law, ...]
    culprits: tuple[Culprit, ...]
    blamed: Culprit | MiddleTurned
    back_to: str
    moves: str = ""


class NoTurningHelps(Finding):
    """A stage cannot go on, and no turning helps, because of the ``laws`` that are broken."""

    stage: str
    laws: tuple[Law, ...]


def trouble_at(
    puzzle: Puzzle, sight: Puzzle, plan: Plan, stopped: int, state: Arrangement
) -> tuple[Trouble, Arrangement, Puzzle, int] | NoTurningHelps:
    """What is to blame, and how to go on: ``(event, explanation, puzzle with the culprit told apart, stage)``.

    `NoTurningHelps` where nothing can be done by turning.
    """
    stage = plan.stages[stopped]
    if puzzle.rotations and turns_fit_every_holding(puzzle):
        if (turned := _held_otherwise(puzzle, sight, state)) is not None:
            laws = law_book(sight).broken(state)
            event = Trouble(stage.name, laws, (), MiddleTurned(), plan.stages[0].name, turned)
            return event, puzzle.follow(turned, state), sight, 0
    found = at_face_value(sight, sight.appearance(state))
    if found.verdict == NOT_BY_TURNING:
        return NoTurningHelps(stage.name, found.broken)
    if not found.culprits:
        before = f"from {quoted(plan.stages[stopped - 1].name)}" if stopped else "from the start"
        raise BadPlan(
            f"{plan.name}: the stage {quoted(stage.name)} cannot follow {before}, because none of its turns and sequences "
            "leads to its goal: allow it more"
        )
    placed = [first_placed(sight, plan, culprit.pieces, stopped) for culprit in found.culprits]
    number, culprit = max(zip(placed, found.culprits, strict=True), key=lambda pair: pair[0])
    event = Trouble(stage.name, found.broken, found.culprits, culprit, plan.stages[number].name)
    apart = told_apart(sight, frozenset(map(sight.slot, culprit.pieces)))
    explanation = Arrangement(apart.name, culprit.arrangement.pieces, culprit.arrangement.twists)
    return event, explanation, apart, number


def first_placed(puzzle: Puzzle, plan: Plan, pieces: tuple[str, ...], stopped: int) -> int:
    """The first stage that placed one of these pieces."""
    stages = enumerate(plan.stages[:stopped])
    return next((i for i, stage in stages if set(pieces).intersection(chain(*blocks(puzzle, stage.slots)))), stopped)


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
    names = sorted(puzzle.rotations, key=lambda name: name != "y")
    return next((n for n in names if book.reaches_permutation(puzzle.rotations[n].permutation[image])), None)


class OddSwap(Finding):
    """A stage that only the sequence ``mend`` leads on from: it needs an odd number of swaps of a ``family`` of pieces.

    ``turns`` are those of the puzzle that make an odd number of these swaps. ``culprits`` are the lookalikes that may hide
    another odd swap, put in at the stage ``placed``; none where the swap is real. ``twins``: some of the family look alike.
    """

    stage: str
    mend: str
    family: str
    turns: tuple[str, ...]
    twins: bool
    culprits: tuple[Culprit, ...]
    placed: str

    moves = ""


def odd_kinds(puzzle: Puzzle, parts: tuple[Part, ...], mends: tuple[Part, ...]) -> list[Kind]:
    """The kinds of which each of ``mends`` makes an odd number of swaps, and each of the other parts an even number."""
    odd = [set(_odd(puzzle, part.moves)) for part in mends]
    return [kind for kind in set.intersection(*odd) if not any(kind in _odd(puzzle, part.moves) for part in parts)] if odd else []


def told_alike(puzzle: Puzzle, kind: Kind) -> bool:
    """Whether some pieces of a kind look alike, or turned."""
    return len(set(puzzle.looks[list(kind.labels)].tolist())) < len(kind.labels)


def odd_swap(puzzle: Puzzle, plan: Plan, number: int, kind: Kind, mend: Part) -> OddSwap:
    """What the sequence that mended a stage says about the swap."""
    found = at_face_value(puzzle, puzzle.appearance(puzzle.follow(mend.moves)))
    placed = min((first_placed(puzzle, plan, one.pieces, number) for one in found.culprits), default=number)
    turns = tuple(t.name for t in puzzle.turns.values() if t.step.amount == 1 and kind in _odd(puzzle, t.name))
    stage = plan.stages[number].name
    return OddSwap(stage, mend.name, kind.family, turns, told_alike(puzzle, kind), found.culprits, plan.stages[placed].name)


def _odd(puzzle: Puzzle, moves: str) -> Iterator[Kind]:
    """The kinds of which moves make an odd number of swaps."""
    pieces = np.array(puzzle.follow(moves).pieces)
    return (kind for kind in puzzle.kinds if sign_by_cycles(pieces[list(kind.places)] - kind.start) < 0)
