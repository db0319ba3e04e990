"""The odd swap that no usual sequence of a stage makes: whether it is real, or hides in pieces that look alike.

A sequence that mends makes an odd number of swaps of a kind of which all the others of its stage make an even number. So where
an odd number of such sequences leads on, none of the others could have. What it does to a solved puzzle says which swap
it is: *real* if that sight needs no lookalikes, else a false parity with its culprits.
"""

from collections.abc import Iterator

import numpy as np

from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.reasoning.budget import Finding
from oddswap.reasoning.teaching.plan_culprits import first_placed
from oddswap.reasoning.teaching.plans import Plan
from oddswap.reasoning.teaching.stage_search import Part
from oddswap.reasoning.verdicts.diagnosis import at_face_value
from oddswap.reasoning.verdicts.findings import Culprit
from oddswap.values.permutation import sign_by_cycles


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
